"""The rota of a book: made, mended, told, and kept until it is told."""

import pytest
from msgspec.structs import replace

from callroom.actions import planned
from callroom.bootstrap import rota_making as making
from callroom.journal.entries import bodies
from callroom.model import CrewMember, Refusal, Rota, RotaRules, State, Training
from tests.actions.day_building import DIRECTOR, Day, loaded_day
from tests.web.building import example_book

RULES = RotaRules(posts=())


def staffed() -> Day:
    day = loaded_day()
    for number in range(5):
        member = CrewMember(person=f"p{number}", posts=("judge",), experienced=True)
        day.tell(DIRECTOR, bodies.CrewSet(member=member))
    day.tell(DIRECTOR, bodies.RotaPublished(rota=made(day.state), rules=RULES))
    return day


def made(state: State) -> Rota:
    return making.made_for(state, rules=RULES)


def test_without_plan_or_crew_there_is_no_question() -> None:
    day = loaded_day()
    with pytest.raises(Refusal) as fault:
        making.question(day.state)
    assert fault.value.rule == "rota.no_crew"
    with pytest.raises(Refusal):
        making.question(State())


def test_somebody_drops_out_and_what_they_held_is_told_to_others() -> None:
    day = staffed()
    rota = day.state.rota
    assert rota is not None
    assert not rota.open_shifts()
    person = rota.duties[-1].person
    illness = making.without(day.state, person, 3000)
    day.ask(DIRECTOR, making.accepted(day.state, illness, "not there any more"))
    after = day.state.rota
    assert after is not None
    assert not [shift for shift in after.shifts_of(person) if shift.end_s > 3000]
    assert not after.open_shifts()
    assert day.state.crew[person].free_until_s == 3000


def test_a_shift_that_would_end_too_late_is_given_away_whole_unless_it_runs() -> None:
    day = staffed()
    rota = day.state.rota
    assert rota is not None
    shift = next(one for one in rota.shifts if one.heat == "w1-1")
    person = rota.holder_of(shift.id) or ""
    middle = shift.start_s + 100
    ahead = making.without(day.state, person, middle, now_s=-60)
    assert ahead.repair.rota.holder_of(shift.id) != person
    running = making.without(day.state, person, middle, now_s=middle)
    assert running.repair.rota.holder_of(shift.id) == person


def test_strangers_and_books_without_a_rota_are_refused() -> None:
    with pytest.raises(Refusal):
        making.without(loaded_day().state, "p0", 0)
    with pytest.raises(Refusal):
        making.without(staffed().state, "nobody", 0)


def test_a_rota_follows_a_plan_that_was_repaired() -> None:
    day = staffed()
    plan, rota = day.state.plan, day.state.rota
    assert plan is not None
    assert rota is not None
    later = tuple(
        replace(heat, start_s=heat.start_s + 600, end_s=heat.end_s + 600) for heat in plan.heats
    )
    moved = replace(plan, revision=2, heats=later)
    carried = making.carried(day.state, moved, 0)
    assert carried is not None
    assert carried.rota.plan_revision == 2
    assert carried.rota.duties == rota.duties
    assert making.carried(loaded_day().state, moved, 0) is None


def test_a_draft_is_kept_until_it_is_let_go() -> None:
    book = example_book()
    assert making.kept_rota(book) is None
    draft = making.RotaDraft(rota=made(staffed().state), rules=RULES)
    making.keep_rota(book, draft)
    assert making.kept_rota(book) == draft
    assert planned.publish_rota(draft.rota, draft.rules).proposals
    making.keep_rota(book, None)
    assert making.kept_rota(book) is None
    book.keep_draft(making.SHELF, b"of another version")
    assert making.kept_rota(book) is None


def test_whoever_passed_the_self_check_needs_nobody_beside_them() -> None:
    day = loaded_day()
    day.tell(DIRECTOR, bodies.CrewSet(member=CrewMember(person="p0", posts=("judge",))))
    passed = Training(seq=1, at_ms=1, device="phone", movements=(), right=7, asked=8, person="p0")
    failed = replace(passed, right=3)
    for taken, experienced in ((passed, True), (failed, False)):
        state = replace(day.state, trained={"p0": taken})
        (hand,) = making.question(state).hands
        assert hand.experienced is experienced
