"""The crew and the kit that a day used, for what it taught."""

import msgspec

from callroom.model import Event, Plan, Rota, State
from callroom.planner.plates import KitUsed, kit_used
from callroom.standards import library_with

__all__ = ["KitUsed", "PostHeld", "kit_of_day", "posts_held"]


class PostHeld(msgspec.Struct, frozen=True, kw_only=True):
    """A post over the day: its shifts, how many were held, by how many people, how long [s]."""

    post: str
    shifts: int
    held: int
    people: int
    length_s: int

    @property
    def each_s(self) -> int:
        """How long each of its people was on duty, on average [s]; 0: nobody was."""
        return self.length_s // self.people if self.people else 0


def posts_held(rota: Rota | None) -> tuple[PostHeld, ...]:
    """Return the posts of a rota, the longest first."""
    if rota is None:
        return ()
    holder = {duty.shift: duty.person for duty in rota.duties}
    found = []
    for post in dict.fromkeys(shift.post for shift in rota.shifts):
        shifts = [shift for shift in rota.shifts if shift.post == post]
        held = [shift for shift in shifts if holder.get(shift.id)]
        found.append(
            PostHeld(
                post=post,
                shifts=len(shifts),
                held=len(held),
                people=len({holder[shift.id] for shift in held}),
                length_s=sum(shift.end_s - shift.start_s for shift in held),
            )
        )
    return tuple(sorted(found, key=lambda one: (-one.length_s, one.post)))


def kit_of_day(state: State, event: Event, plan: Plan) -> tuple[KitUsed, ...]:
    """Return what the plan in force used of the kit list; nothing without a list."""
    if not state.kit:
        return ()
    movements = library_with(event.movements).movements
    teams = [team for team in state.teams.values() if team.id not in state.team_status]
    return kit_used(event, teams, plan, state.kit, movements)
