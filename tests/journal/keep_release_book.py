"""Make the book that a release leaves behind: ``python -m tests.journal.keep_release_book``.

It holds at least one entry of every kind there is, so that the versions after it are tested
against what this one wrote. A book that was kept is never made anew.
"""

import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

from msgspec.structs import replace

from callroom.actions import (
    check_in,
    day_clock,
    entering,
    ground,
    helping,
    line_ups,
    money,
    paces,
    planned,
    verdicts,
)
from callroom.actions import day as ask
from callroom.actions import safety as ask_safety
from callroom.actions.request import Request, propose
from callroom.actions.reseeding import accept_reseeding, reseeding
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.journal import PEOPLE
from callroom.journal.entries import bodies, movement_bodies
from callroom.journal.entries.kinds import KINDS
from callroom.model import (
    CrewMember,
    Duty,
    KitItem,
    LaneNote,
    LinedUp,
    MovementRule,
    Result,
    Rota,
    RotaRules,
    Screen,
    SheetRef,
    Shift,
    State,
    Team,
)
from callroom.model.checks import OwnCheck
from callroom.model.entering import Entering
from callroom.model.forecast import Pace
from callroom.model.ground import Ground, Space
from callroom.model.helping import Helping
from callroom.model.money import Budget, BudgetLine, Place, Received, Scenario, Spent
from callroom.model.person import Person
from callroom.model.safety import SafetyFacts, Weather
from callroom.model.side_programme import SideItem, Span
from callroom.standards import movement
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

    enter_teams(do, lambda: book.state)
    list_crew_and_kit(do)
    do(ask.join_device("phone", "judge"))
    check_a_heat(do)
    do(ask.mark_lane_ready("w1-1", 2))
    do(ask.start_heat("w1-1", START_MS + 60_000))
    do(ask.restart_heat("w1-1", "the clock was not seen"))
    do(ask.start_heat("w1-1", START_MS + 120_000))
    score_a_heat(do)
    left = do(ask.withdraw_team("T4", "hurt at warm-up"))
    do(ask.reinstate_team("T4", left, "cleared by first aid"))
    stop_a_heat(do, lambda: book.state)
    plan = book.state.plan
    if plan is not None:
        do(ask.change_plan(plan.revision + 1, plan.heats[-1:]))
    hold_and_mend_the_plan(do, book.state)
    do(ask.post_standings("pairs"))
    change_the_rules(do)
    take_a_pace_over(do, lambda: book.state)
    hear_an_appeal(do)
    use_a_phone_and_lose_it(do)
    look_after_people(do)
    lay_out_the_day(do)
    open_the_doors(do)
    do(ask.set_screen(Screen(message="Lunch until 13:00")))
    do(ask.set_desk(double_entry=True))
    do(ask.carry_book_on(2, book.state.seq))
    keep_the_money(do)
    seed_anew(do, lambda: book.state)
    do(ask.mark_rehearsal(1))
    invented = PEOPLE.put("p1a", Person(name="Invented Person"))
    book.ask_now(AT_THE_KEYBOARD, propose(), key="person", beside=(invented,))
    take_an_offer(do)
    written = {entry.kind for entry in book.store.entries()}
    book.close()
    missing = sorted(set(KINDS) - written)
    if missing:
        path.unlink()
        raise SystemExit(f"no entry of {missing}: add one to this script")
    sys.stdout.write(f"kept {path}\n")


def enter_teams(do: Callable[[Request], int], now: Callable[[], State]) -> None:
    """Open entering, take forms in and onto the waiting list, accept one, let one go."""
    settings = Entering(opens_ms=0, accept_each=True, consent="Names on a list.")
    do(entering.set_entering(settings))
    for number in (8, 9):
        do(entering.enrol(now(), Team(id=f"T{number}", name=f"Late {number}", division="pairs")))
    do(entering.revise(Team(id="T8", name="Later 8", division="pairs", captain="p8a"), {}))
    do(entering.accept("T8"))
    do(ask.withdraw_team("T8", "by their own wish"))
    do(entering.decline("T9", "the day is full"))


def look_after_people(do: Callable[[Request], int]) -> None:
    """Plan for safety, note what happened, and forget people."""
    do(ask_safety.set_facts(SafetyFacts(first_aiders=2, emergency_number="112")))
    do(ask_safety.read_weather(Weather(floor="hall", at_ms=START_MS, air_c10=215)))
    do(ask_safety.note_incident(START_MS, "near_miss", "lane 2"))
    do(ask_safety.follow_incident(1, closes=True))
    do(propose(bodies.PersonErased(person="p9z")))
    do(propose(bodies.EveryoneErased(due=True)))


def open_the_doors(do: Callable[[Request], int]) -> None:
    """Check a team in, decide to go, take the book to the hall, and stay after all."""
    do(check_in.check_in_whole("T1", ("p1a", "p1b")))
    do(check_in.sign_paper("T1", "p1a", "guardian"))
    do(check_in.decide_go("go_with_open", "the exits are checked at eight", ("exits",)))
    do(check_in.take_book())
    do(check_in.keep_book())


def lay_out_the_day(do: Callable[[Request], int]) -> None:
    """Measure the hall, put on a stall and take it off, tick, add and drop checks."""
    hall = Space(id="hall", name="Hall", x_mm=0, y_mm=0, length_mm=30_000, width_mm=20_000)
    do(ground.set_ground(Ground(spaces=(hall,))))
    stall = SideItem(
        id="cakes", kind="food", name="Cakes", spans=(Span(start_s=3600, length_s=7200),)
    )
    do(ground.set_side(stall))
    do(ground.drop_side("cakes"))
    do(ground.add_check(OwnCheck(id="own-1", phase="before", text="Ask for the key")))
    do(ground.tick_check("own-1"))
    do(ground.drop_check("own-1"))


def score_a_heat(do: Callable[[Request], int]) -> None:
    """Report, settle, confirm and open again; place and dismiss what fits nowhere."""
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


def stop_a_heat(do: Callable[[Request], int], now: Callable[[], State]) -> None:
    """Stop the clock of a heat, let it run again, and credit one team with lost time."""
    plan = now().plan
    if plan is None:
        return
    heat = plan.heat("w1-2")
    do(ask.start_heat(heat.id, START_MS + 1_500_000))
    note = LaneNote(
        heat="w1-2", workout="w1", part="a", team="T3", lane=2, what="split", at_ms=START_MS, mark=7
    )
    do(ask.note_lane(note))
    do(day_clock.stop_heat(heat.id, START_MS + 1_560_000, "a rig came loose"))
    do(day_clock.rule_on_stop(now(), heat, "rerun", "the rig is mended", teams=("T3",)))
    do(day_clock.start_reruns(now(), heat, START_MS + 1_800_000))
    do(day_clock.give_credit(SheetRef(workout="w1", part="a", team="T4"), 8, "wrong plates"))


def take_an_offer(do: Callable[[Request], int]) -> None:
    """Open the sign-up, hear somebody who offers to help, and let them down."""
    do(helping.set_helping(Helping(open=True)))
    do(helping.offer_help(CrewMember(person="p9b", posts=("kit",))))
    do(helping.decline_offer("p9b"))


def list_crew_and_kit(do: Callable[[Request], int]) -> None:
    """List a volunteer, who will not come, some kit, and a movement that is given up."""
    member = CrewMember(person="p9", posts=("judge",))
    do(propose(bodies.CrewSet(member=member)))
    do(propose(bodies.CrewLeft(person="p9")))
    kit = KitItem(id="bars", name="Long bars", kind="bar", count=4)
    do(propose(bodies.KitSet(items=(kit,))))
    own = replace(movement("deadlift"), id="log_pull", name="Log pull")
    do(propose(movement_bodies.MovementSet(movement=own)))
    rule = MovementRule(movement="log_pull")
    rules: dict[str, tuple[MovementRule, ...]] = {EVENT.divisions[0].id: (rule,)}
    do(propose(movement_bodies.MovementPermitted(movement="log_pull", rules=rules)))
    do(propose(movement_bodies.MovementPermitted(movement="log_pull", rules={})))
    do(propose(movement_bodies.MovementDropped(movement="log_pull")))


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


def hold_and_mend_the_plan(do: Callable[[Request], int], state: State) -> None:
    """Freeze the plan, lose a lane for a while, repair, thaw; a rota, in which a shift changes."""
    plan = state.plan
    assert plan is not None
    do(planned.freeze_plan(plan.revision))
    do(planned.note_loss("lane", "a wet patch", floor="main", lane=4))
    do(propose(bodies.LossOver(number=1)))
    last = replace(plan.heats[-1], start_s=plan.heats[-1].start_s + 300)
    later = replace(last, end_s=last.end_s + 300)
    mended = replace(plan, revision=plan.revision + 1, heats=(*plan.heats[:-1], later))
    do(planned.repair_plan(plan, mended, "the hall was locked"))
    do(planned.thaw_plan(mended.revision, "a team entered late"))
    do(propose(bodies.CrewSet(member=CrewMember(person="p8", posts=("call",)))))
    shift = Shift(id="call//1/1", post="call", start_s=0, end_s=5400)
    held = Duty(shift=shift.id, person="p8")
    rota = Rota(plan_revision=mended.revision, shifts=(shift,), duties=(held,))
    do(planned.publish_rota(rota, RotaRules(posts=())))
    do(planned.change_rota((Duty(shift=shift.id, person=""),), "called away"))


def seed_anew(do: Callable[[Request], int], now: Callable[[], State]) -> None:
    """Make the first workout void, and let the heats of the second follow who is still in."""
    event = now().event
    if event is None:
        return
    do(
        ask.amend_workout(
            event.workout("w1"),
            what="It counts for nothing.",
            why="a rig came loose",
            decided_by="head_judge",
            from_heat="",
            remedy="void",
        )
    )
    do(ask.withdraw_team("T4", "had to leave"))
    do(accept_reseeding(now(), reseeding(now(), "w2", "pairs")))


def hear_an_appeal(do: Callable[[Request], int]) -> None:
    """Hear one appeal, let another be taken back; keep results back and let a podium out."""
    for text in ("The card was added up wrong.", "The clock was not seen."):
        do(verdicts.make_appeal("T1", text, ground="arithmetic", handed_in_ms=START_MS))
    do(verdicts.decide_appeal(1, "added up again: it is right", upheld=False, basis={}))
    do(verdicts.withdraw_appeal(2))
    do(verdicts.set_embargo("w2", hidden=True))
    do(verdicts.release_podium("pairs", "the hall closes at six", {}))


def keep_the_money(do: Callable[[Request], int]) -> None:
    """Plan the money, be promised some, take some in, and take that back."""
    line = BudgetLine(id="gifts", name="Gifts", side="income", sort="donations", fixed=100_00)
    place = Place(id="box", name="Cash box", sort="cash")
    scenarios = tuple(Scenario(id=one, name=one) for one in ("careful", "likely", "full"))
    hall = BudgetLine(id="hall", name="Hall", side="cost", sort="hire")
    do(money.set_budget(Budget(lines=(line, hall), places=(place,), scenarios=scenarios)))
    promise = do(money.note_promise("gifts", 50_00, giver="p9"))
    gift = Received(day=EVENT.day, line="gifts", place="box", amount=20_00, promise=promise)
    do(money.take_back(do(money.book_money(gift)), EVENT.day, "typed twice"))
    do(money.end_promise(promise, "moved away"))
    cost = do(money.book_money(Spent(day=EVENT.day, line="hall", place="box", amount=9_00)))
    do(money.keep_receipt(cost, "receipt/1"))


def take_a_pace_over(do: Callable[[Request], int], state: Callable[[], State]) -> None:
    """Forecast with a pace that results have shown, and as before again."""
    pace = Pace(
        workout="w1",
        part="a",
        division="pairs",
        permille=1100,
        low_permille=1000,
        high_permille=1200,
        teams=4,
        finished=3,
    )
    do(paces.take_paces([pace]))
    do(paces.drop_paces(state().paces.values()))


def check_a_heat(do: Callable[[Request], int]) -> None:
    """Call a heat and check its teams, send it on, and take that back."""
    change_a_line_up(do)
    do(ask.call_heat("w1-1"))
    do(ask.mark_arrived("w1-1", "T1"))
    do(ask.mark_no_show("w1-1", "T2"))
    do(ask.await_team("w1-1", "T2"))
    do(ask.send_on_floor("w1-1"))
    do(ask.step_back("w1-1"))


def change_a_line_up(do: Callable[[Request], int]) -> None:
    """Change who stands where; let somebody stand down, and take the floor again."""
    places = (LinedUp(place="A", person="p1b"), LinedUp(place="B", person="p1a"))
    do(line_ups.set_line_up("T1", ("w1",), places, reason="they asked", allowed=True))
    do(line_ups.stand_down("T2", "p2a"))
    do(line_ups.clear_athlete("T2", "p2a"))


def use_a_phone_and_lose_it(do: Callable[[Request], int]) -> None:
    """Take the self-check, and take the role from a device."""
    do(ask.report_training(("thruster", "pull_up"), 7, 8))
    do(ask.revoke_device("phone"))


if __name__ == "__main__":
    main()
