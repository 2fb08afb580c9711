"""Making and mending the rota of a book, for pages and commands."""

import msgspec
from msgspec.structs import replace

from callroom.actions.known_crew import known_crew
from callroom.actions.planned import change_rota
from callroom.actions.request import Request
from callroom.bootstrap.plan_drafts import DraftShelf
from callroom.bootstrap.planning import ask_apart
from callroom.model import Duty, Plan, Refusal, Rota, RotaRules, State, Team
from callroom.planner.rota import (
    RotaProblem,
    RotaRepair,
    carry_over,
    make_rota,
    pose_rota,
    repair_rota,
)
from callroom.planner.rota.plan_rota import MOST_SEARCHED

SHELF = "rota"


class RotaDraft(msgspec.Struct, frozen=True, kw_only=True):
    """A rota nobody was told yet, and the rules it was made by."""

    rota: Rota
    rules: RotaRules


def question(state: State, plan: Plan | None = None, rules: RotaRules | None = None) -> RotaProblem:
    """Return the question "who does what", for the plan in force unless another is given.

    Raises
    ------
    Refusal
        Without an event, a plan or any crew.
    """
    event, in_force = state.event, plan or state.plan
    if event is None:
        raise Refusal("book.no_event")
    if in_force is None:
        raise Refusal("plan.none")
    if not state.crew:
        raise Refusal("rota.no_crew")
    rules = rules or state.rota_rules
    return pose_rota(event, _entered(state), in_force, known_crew(state), rules)


def _entered(state: State) -> tuple[Team, ...]:
    return tuple(team for team in state.teams.values() if team.id not in state.team_status)


def made_for(
    state: State,
    plan: Plan | None = None,
    rules: RotaRules | None = None,
    *,
    search: bool = True,
) -> Rota:
    """Return the rota of the day; where hands are scarce it is searched for in a child process.

    It takes up to some ten seconds, so a face runs it in a thread; without `search` one or two.
    """
    problem = question(state, plan, rules)
    quick = make_rota(problem)
    if not search or not quick.open_shifts() or len(problem.hands) > MOST_SEARCHED:
        return quick
    found = [quick]

    def hear(_kind: str, data: bytes) -> None:
        found.append(msgspec.json.decode(data, type=Rota))

    ask_apart("rota", problem, hear)
    return min(found, key=_open_s)


def _open_s(rota: Rota) -> int:
    return sum(shift.end_s - shift.start_s for shift in rota.open_shifts())


def carried(state: State, plan: Plan, now_s: int) -> RotaRepair | None:
    """Return the rota in force for another plan, with the fewest changes; None without one."""
    if state.rota is None:
        return None
    return carry_over(question(state, plan), state.rota, now_s)


class Illness(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody who is not there from `from_s` [s] on, and what becomes of their shifts."""

    person: str
    from_s: int
    repair: RotaRepair


def without(state: State, person: str, from_s: int, now_s: int = 0) -> Illness:
    """Return the rota in force without somebody from a time on [s], with the fewest changes.

    A shift that they would have to leave in the middle is given away whole, unless it has
    begun by `now_s` [s].

    Raises
    ------
    Refusal
        Without a rota, or such a volunteer.
    """
    if state.rota is None:
        raise Refusal("rota.none")
    if person not in state.crew:
        raise Refusal("person.unknown", person=person)
    cut_s = min(
        (
            shift.start_s
            for shift in state.rota.shifts_of(person)
            if now_s <= shift.start_s < from_s < shift.end_s
        ),
        default=from_s,
    )
    found = repair_rota(question(state), state.rota, [person], cut_s)
    return Illness(person=person, from_s=from_s, repair=found)


def accepted(state: State, illness: Illness, why: str) -> Request:
    """Return the request that makes a mended rota the one in force.

    A heat they judge when they drop out is left to the floor manager: nobody can be sent there
    in time, and what has begun stays as it was.
    """
    member = state.crew[illness.person]
    until_s = illness.from_s
    if member.free_until_s is not None:
        until_s = min(until_s, member.free_until_s)
    moves = tuple(Duty(shift=move.shift, person=move.after) for move in illness.repair.moves)
    return change_rota(moves, why, (replace(member, free_until_s=until_s),))


def keep_rota(shelf: DraftShelf, draft: RotaDraft | None) -> None:
    """Keep a rota as a draft, or (None) let go of it."""
    shelf.keep_draft(SHELF, None if draft is None else msgspec.msgpack.encode(draft))


def kept_rota(shelf: DraftShelf) -> RotaDraft | None:
    """Return the rota that is kept as a draft, if there is one that can be read."""
    kept = shelf.drafts(SHELF).get(SHELF)
    if kept is None:
        return None
    try:
        return msgspec.msgpack.decode(kept, type=RotaDraft)
    except msgspec.MsgspecError:
        return None  # written by another version: it is quickly made again
