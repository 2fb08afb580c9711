"""Make the book that a release leaves behind: ``python -m tests.journal.keep_release_book``.

It holds at least one entry of every kind there is, so that the versions after it are tested
against what this one wrote. A book that was kept is never made anew.
"""

import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.request import Request, propose
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.journal import PEOPLE
from callroom.journal.entries import bodies
from callroom.journal.entries.kinds import KINDS
from callroom.model import CrewMember, KitItem, Result, Screen, SheetRef
from callroom.model.person import Person
from tests.actions.day_building import EVENT, report
from tests.bootstrap.day_books import START_MS, day_book

BOOKS = Path(__file__).parent / "books"
T1 = SheetRef(workout="w1", part="a", team="T1")


def main() -> None:
    """Make this release's book, unless there is one."""
    path = BOOKS / f"{version('callroom')}.book"
    if path.exists():
        raise SystemExit(f"{path} is kept already")
    book = day_book(path)

    def do(request: Request) -> int:
        outcome = book.ask_now(AT_THE_KEYBOARD, request, key=f"step-{book.state.seq}")
        return outcome.seqs[0]

    list_crew_and_kit(do)
    do(ask.join_device("phone", "judge"))
    do(ask.call_heat("w1-1"))
    do(ask.mark_arrived("w1-1", "T1"))
    do(ask.start_heat("w1-1", START_MS + 60_000))
    do(ask.restart_heat("w1-1", "the clock was not seen"))
    do(ask.start_heat("w1-1", START_MS + 120_000))
    first = do(ask.report_score(report("w1-1", "T1", 300_000)))
    do(ask.report_score(report("w1-1", "T1", 310_000, source="paper")))
    do(ask.report_score(report("w1-1", "T2", 320_000)))
    do(ask.finish_heat("w1-1"))
    do(ask.choose_report(T1, first, {}))
    penalty = do(ask.give_penalty(T1, "stepped over the line", seconds=10))
    do(ask.lift_penalty(T1, penalty, "it was the other lane"))
    do(ask.correct_score(T1, Result(outcome="finished", time_ms=299_000), "the film of the clock"))
    do(ask.confirm_heat("w1-1", {}))
    do(ask.reopen_heat("w1-1", "wrong card"))
    do(ask.confirm_heat("w1-1", {}))
    late = report("w1-1", "T2", 1_000)
    do(ask.take_report(do(ask.report_score(late)), late, "found under the bench"))
    do(ask.dismiss_report(do(ask.report_score(report("w9-9", "T2", 2_000))), "no such heat"))
    do(ask.grant_rerun("w1", "T1", "better", "a plate slid off"))
    left = do(ask.withdraw_team("T4", "hurt at warm-up"))
    do(ask.reinstate_team("T4", left, "cleared by first aid"))
    plan = book.state.plan
    if plan is not None:
        do(ask.change_plan(plan.revision + 1, plan.heats[-1:]))
    do(ask.post_standings("pairs"))
    change_the_rules(do)
    use_a_phone_and_lose_it(do)
    do(ask.set_screen(Screen(message="Lunch until 13:00")))
    do(ask.mark_rehearsal(1))
    invented = PEOPLE.put("p1a", Person(name="Invented Person"))
    book.ask_now(AT_THE_KEYBOARD, propose(), key="person", beside=(invented,))
    written = {entry.kind for entry in book.store.entries()}
    book.close()
    missing = sorted(set(KINDS) - written)
    if missing:
        path.unlink()
        raise SystemExit(f"no entry of {missing}: add one to this script")
    sys.stdout.write(f"kept {path}\n")


def list_crew_and_kit(do: Callable[[Request], int]) -> None:
    """List a volunteer, who will not come, and some kit."""
    member = CrewMember(person="p9", posts=("judge",))
    do(propose(bodies.CrewSet(member=member)))
    do(propose(bodies.CrewLeft(person="p9")))
    kit = KitItem(id="bars", name="Long bars", kind="bar", count=4)
    do(propose(bodies.KitSet(items=(kit,))))


def change_the_rules(do: Callable[[Request], int]) -> None:
    """Rule on a question, and take it back; make a workout shorter."""
    ruling = do(ask.make_ruling("May we swap sides?", "At any time.", workout="w1"))
    do(ask.acknowledge_ruling(1, ruling))
    do(ask.withdraw_ruling(1, "asked about another workout"))
    workout = EVENT.workout("w2")
    shorter = replace(workout, parts=tuple(replace(one, cap_s=480) for one in workout.parts))
    do(
        ask.amend_workout(
            shorter,
            what="Both caps are eight minutes.",
            why="the hall is too hot",
            decided_by="head_judge",
            from_heat="w2-1",
        )
    )


def use_a_phone_and_lose_it(do: Callable[[Request], int]) -> None:
    """Take the self-check, and take the role from a device."""
    do(ask.report_training(("thruster", "pull_up"), 7, 8))
    do(ask.revoke_device("phone"))


if __name__ == "__main__":
    main()
