"""One line of the run sheet, and who holds which post when."""

from typing import Literal

import msgspec

from callroom.model import Finding, Shift, State

RunKind = Literal[
    "set_up",
    "doors",
    "check_in",
    "briefing",
    "heat",
    "changeover",
    "pause",
    "side",
    "release",
    "posting",
    "shift",
    "pack",
    "kit_back",
]
Standing = Literal["past", "now", "ahead"]


class InCharge(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody with a post in a line; `lane` where a judge stands."""

    person: str
    post: str
    lane: int | None = None


class RunLine(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the day [s from its start].

    Attributes
    ----------
    end_s
        None: it is a moment.
    says
        What it is, as a finding.
    where
        The name of a floor or a place.
    posts, people
        Whose it is, and who holds these posts then; none of the crew: nobody does yet.
    expected_s
        When a heat is to be expected, if later than planned.
    """

    start_s: int
    end_s: int | None
    kind: RunKind
    says: Finding
    where: str = ""
    posts: tuple[str, ...] = ()
    people: tuple[InCharge, ...] = ()
    expected_s: int | None = None
    standing: Standing = "ahead"


class CrewOfDay:
    """Who holds which post when, by the rota."""

    def __init__(self, state: State) -> None:
        rota = state.rota
        held = {duty.shift: duty.person for duty in rota.duties} if rota is not None else {}
        self._posts: dict[str, list[tuple[Shift, str]]] = {}
        self._heats: dict[str, list[InCharge]] = {}
        for shift in rota.shifts if rota is not None else ():
            person = held.get(shift.id)
            if person is None:
                continue
            if shift.heat:
                who = InCharge(person=person, post=shift.post, lane=shift.lane)
                self._heats.setdefault(shift.heat, []).append(who)
            else:
                self._posts.setdefault(shift.post, []).append((shift, person))

    def at(self, posts: tuple[str, ...], at_s: int, floor: str = "") -> tuple[InCharge, ...]:
        """Return who holds posts at a time; outside all shifts, who holds the nearest one."""
        found: dict[tuple[str, str], InCharge] = {}
        for post in posts:
            here = [
                (shift, person)
                for shift, person in self._posts.get(post, ())
                if not floor or shift.floor in {"", floor}
            ]
            on = [one for one in here if one[0].start_s <= at_s < one[0].end_s]
            nearest_s = min((abs(shift.start_s - at_s) for shift, _ in here), default=0)
            for _, person in on or [one for one in here if abs(one[0].start_s - at_s) == nearest_s]:
                found[post, person] = InCharge(person=person, post=post)
        return tuple(found.values())

    def judges(self, heat: str) -> tuple[InCharge, ...]:
        """Return the judges of a heat by lane."""
        return tuple(sorted(self._heats.get(heat, ()), key=lambda one: one.lane or 0))
