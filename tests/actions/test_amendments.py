"""A workout changed after it was told: numbered, followed by everything, with a remedy for heats run."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import (
    BadInput,
    NotAllowed,
    Refusal,
    Result,
    SheetRef,
    Stale,
    State,
    Workout,
    milliseconds,
)
from callroom.scoring import division_standings
from callroom.views.amendments import touched
from callroom.views.cards import cards
from callroom.views.codes import CardRef, card_code, read_code
from callroom.views.standings import standings
from tests.actions.day_building import EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day, part, report

START_MS = milliseconds(EVENT.starts_at)
T1 = SheetRef(workout="w1", part="a", team="T1")


def shorter(workout_id: str = "w1", cap_s: int = 480) -> Workout:
    workout = EVENT.workout(workout_id)
    return replace(workout, parts=tuple(replace(one, cap_s=cap_s) for one in workout.parts))


def amend(workout: Workout | None = None, **given: Any) -> Request:
    fields: dict[str, Any] = {
        "what": "The cap is eight minutes.",
        "why": "the hall is too hot",
        "decided_by": "head_judge",
        "from_heat": "w1-1",
    }
    return ask.amend_workout(workout or shorter(), **(fields | given))


def run_first_heat(day: Day) -> None:
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 70_000))
    for team, time_ms in (("T1", 300_000), ("T2", 310_000)):
        day.ask(JUDGE, ask.report_score(report("w1-1", team, time_ms)))
    day.ask(HEAD_JUDGE, ask.finish_heat("w1-1"))
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))


def ran_day(remedy: str, **given: Any) -> Day:
    day = loaded_day()
    run_first_heat(day)
    day.ask(HEAD_JUDGE, amend(from_heat="w1-2", remedy=remedy, **given))
    return day


def counting(state: State, ref: SheetRef = T1) -> Result | None:
    sheet = state.sheets.get(ref.key)
    return sheet.counting if sheet is not None else None


def test_an_amendment_replaces_the_workout_under_the_next_number() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, amend())
    day.ask(HEAD_JUDGE, amend(shorter("w2"), from_heat="w2-1"))
    day.ask(HEAD_JUDGE, amend(shorter(cap_s=420)))
    assert day.state.event is not None
    assert day.state.event.workout("w1").parts[0].cap_s == 420
    assert {one.number: one.workout for one in day.state.amendments.values()} == {
        1: "w1",
        2: "w2",
        3: "w1",
    }
    assert (day.state.amendment_number("w1"), day.state.amendment_number("w2")) == (3, 2)
    assert day.state.amendments["3"].before == shorter()


def test_cards_have_the_amendment_and_a_code_of_their_own() -> None:
    day = loaded_day()
    first = CardRef(workout="w1", team="T1")
    old = card_code("trial", first)
    untouched = card_code("trial", CardRef(workout="w2", team="T1"))
    day.ask(HEAD_JUDGE, amend())
    printed = {(card.ref.workout, card.ref.team): card for card in cards(day.state).cards}
    new = printed["w1", "T1"]
    assert new.ref == replace(first, amendment=1)
    assert new.code != old
    assert printed["w2", "T1"].code == untouched
    assert read_code(old, day.state) == first
    assert read_code(new.code, day.state) == new.ref


def test_only_what_is_touched_is_stale() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, amend())
    stale = touched(day.state, 1)
    assert [card.ref.team for card in stale.cards.cards] == ["T1", "T2", "T3", "T4"]
    assert {card.ref.workout for card in stale.cards.cards} == {"w1"}
    assert [sheet.heat.id for sheet in stale.heat_sheets.sheets] == ["w1-1", "w1-2"]
    assert len(stale.team_days.days) == 4
    assert (stale.timetable, stale.faults) == (None, ())


def test_what_has_run_is_not_printed_again_and_a_plan_that_breaks_is_named() -> None:
    day = loaded_day()
    run_first_heat(day)
    longer = shorter(cap_s=2400)
    day.ask(
        HEAD_JUDGE,
        amend(longer, from_heat="w1-2", remedy="common", common_point="after ten minutes"),
    )
    stale = touched(day.state, 1)
    assert {card.ref.team for card in stale.cards.cards} == {"T3", "T4"}
    assert [sheet.heat.id for sheet in stale.heat_sheets.sheets] == ["w1-2"]
    assert stale.faults


def test_a_report_from_a_pad_or_card_of_before_is_kept_without_a_place() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, amend())
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    (kept,) = day.state.unplaced.values()
    assert kept.unplaced == "workout_amended"
    assert counting(day.state) is None
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 301_000, amendment=1)))
    assert counting(day.state) == Result(outcome="finished", time_ms=301_000)
    # A number nobody gave yet fits no workout either.
    day.ask(JUDGE, ask.report_score(report("w1-1", "T2", 301_000, amendment=2)))
    assert len(day.state.unplaced) == 2
    day.ask(HEAD_JUDGE, ask.take_report(kept.seq, kept.report, "the same up to the cap"))
    assert counting(day.state) == Result(outcome="finished", time_ms=300_000)


def test_all_again_lets_the_heats_wait_and_sets_their_scores_aside() -> None:
    day = loaded_day()
    run_first_heat(day)
    day.ask(HEAD_JUDGE, ask.give_penalty(T1, "stepped out", seconds=5))
    day.ask(HEAD_JUDGE, ask.grant_rerun("w1", "T2", "better", "a plate slid off"))
    again = report("w1-1", "T2", 200_000, attempt=2)
    day.ask(JUDGE, ask.report_score(again))
    day.ask(HEAD_JUDGE, amend(from_heat="w1-2", remedy="again"))
    assert day.state.heat_run("w1-1").stage == "waiting"
    assert day.state.amendments["1"].had_run == ("w1-1",)
    assert counting(day.state) is None
    assert day.state.reruns == {}
    assert set(day.state.sheets) == {"w1/a/T1/1", "w1/a/T2/1"}
    part_now = division_standings(day.state, "pairs").part("w1", "a")
    assert part_now.awaited == ("T1", "T2", "T3", "T4")
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 3_000_000))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 290_000, amendment=1)))
    assert counting(day.state) == Result(outcome="finished", time_ms=290_000)
    assert day.state.sheets[T1.key].penalties == ()
    assert not day.state.sheets[T1.key].disputed


def test_a_common_point_opens_the_heats_for_their_scores_to_be_told_anew() -> None:
    day = ran_day("common", common_point="after the third round")
    assert day.state.heat_run("w1-1").stage == "finished"
    assert counting(day.state) is None
    with pytest.raises(Refusal, match="not_ready"):
        day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    told = report("w1-1", "T1", 200_000, amendment=1, source="paper")
    day.ask(JUDGE, ask.report_score(told))
    # The head judge may also say that what was reported stands.
    second = day.state.sheets["w1/a/T2/1"]
    ref = SheetRef(workout="w1", part="a", team="T2")
    day.ask(HEAD_JUDGE, ask.choose_report(ref, second.reports[0].seq, {}))
    assert counting(day.state) == told.result
    assert counting(day.state, ref) == Result(outcome="finished", time_ms=310_000)
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))


def test_a_void_workout_counts_for_nothing_and_the_standings_say_so() -> None:
    day = ran_day("void")
    shown = standings(day.state, "pairs")
    assert [(column.workout.id, column.void) for column in shown.columns] == [
        ("w1", True),
        ("w2", False),
        ("w2", False),
    ]
    assert (shown.counted, shown.parts) == (0, 2)
    assert [one.remedy for one in shown.amendments] == ["void"]
    assert counting(day.state) == Result(outcome="finished", time_ms=300_000)
    part_now = division_standings(day.state, "pairs").part("w1", "a")
    assert {row.place for row in part_now.rows} == {None}
    # A pad that was away may still hand in what it counted: it is kept in its place.
    day.ask(JUDGE, ask.report_score(report("w1-2", "T3", 300_000)))
    assert day.state.unplaced == {}


def test_final_standings_do_not_wait_for_a_void_workout() -> None:
    day = ran_day("void")
    for heat, lanes in (("w2-1", ("T1", "T2")), ("w2-2", ("T3", "T4"))):
        day.ask(HEAD_JUDGE, ask.start_heat(heat, START_MS + 6_000_000))
        for team in lanes:
            for one in ("a", "b"):
                day.ask(JUDGE, ask.report_score(report(heat, team, 300_000, part=one)))
        day.ask(HEAD_JUDGE, ask.finish_heat(heat))
        day.ask(HEAD_JUDGE, ask.confirm_heat(heat, {}))
    day.ask(HEAD_JUDGE, ask.post_standings("pairs", final=True))
    assert standings(day.state, "pairs").final
    assert standings(day.state, "pairs").confirmed


def test_a_posting_before_an_amendment_is_not_called_final() -> None:
    day = loaded_day()
    run_first_heat(day)
    day.ask(HEAD_JUDGE, ask.post_standings("pairs"))
    assert not standings(day.state, "pairs").changed
    day.ask(HEAD_JUDGE, amend(from_heat="w1-2", remedy="void"))
    assert standings(day.state, "pairs").changed


def test_an_older_event_file_does_not_undo_an_amendment() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, amend())
    director = replace(HEAD_JUDGE, role="director")
    with pytest.raises(Refusal) as refused:
        day.ask(director, propose(bodies.EventSet(event=EVENT)))
    assert refused.value.rule == "event.amended"
    now = day.state.event
    assert now is not None
    day.ask(director, propose(bodies.EventSet(event=replace(now, venue="The other hall"))))


def test_a_plan_made_before_an_amendment_is_not_published_after_it() -> None:
    day = loaded_day()
    plan = day.state.plan
    assert plan is not None
    day.ask(HEAD_JUDGE, amend())
    director = replace(HEAD_JUDGE, role="director")
    with pytest.raises(Stale, match="old_inputs"):
        day.ask(director, ask.publish_plan(replace(plan, revision=2)))


def test_only_the_head_judge_and_the_director_amend() -> None:
    with pytest.raises(NotAllowed):
        loaded_day().ask(JUDGE, amend())


@pytest.mark.parametrize(
    ("rule", "request_"),
    [
        ("workout.unknown", amend(replace(shorter(), id="w9"))),
        ("amendment.nothing_said", amend(what=" ")),
        ("decision.no_reason", amend(why="")),
        ("amendment.nothing_changed", amend(EVENT.workout("w1"))),
        ("amendment.other_floor", amend(replace(shorter(), floor="yard"))),
        ("amendment.nothing_ran", amend(remedy="again")),
        ("amendment.other_heat", amend(from_heat="w1-2")),
    ],
)
def test_what_amends_nothing_is_refused(rule: str, request_: Request) -> None:
    with pytest.raises(Refusal) as refused:
        loaded_day().ask(HEAD_JUDGE, request_)
    assert refused.value.rule == rule


@pytest.mark.parametrize(
    ("rule", "given"),
    [
        ("amendment.needs_remedy", {}),
        ("amendment.no_common_point", {"remedy": "common", "common_point": " "}),
        ("amendment.other_heat", {"remedy": "again", "from_heat": "w1-1"}),
    ],
)
def test_heats_that_have_run_need_a_whole_remedy(rule: str, given: dict[str, str]) -> None:
    day = loaded_day()
    run_first_heat(day)
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, amend(None, **({"from_heat": "w1-2"} | given)))
    assert refused.value.rule == rule


def test_a_running_heat_is_ended_first() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 70_000))
    with pytest.raises(Refusal, match="heat_running"):
        day.ask(HEAD_JUDGE, amend(from_heat="w1-2", remedy="void"))


def test_an_unsound_workout_is_refused_with_its_faults() -> None:
    with pytest.raises(BadInput) as refused:
        loaded_day().ask(HEAD_JUDGE, amend(replace(shorter(), parts=(replace(part(), cap_s=0),))))
    assert [finding.rule for finding in refused.value.findings] == ["part.cap_not_positive"]
