"""From a posted form to results, fitted to the kind of each part."""

from decimal import Decimal

import msgspec
import pytest

from callroom.model import BadInput, KeptReport, Lift, Result, ScoreReport, ScoreSheet
from callroom.model.mass import Mass
from callroom.views.codes import CardRef
from callroom.web.forms.entry import entry_form
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_entry import read_entry
from tests.views.building import example_state

STATE = example_state()


def read(workout: str, need_all: bool = False, **typed: str) -> dict[str, Result]:
    form = entry_form(STATE, CardRef(workout=workout, team="T01"))
    assert STATE.event is not None
    division = STATE.event.division("open")
    texts = {name.replace("__", "."): text for name, text in typed.items()}
    return {one.part: one.result for one in read_entry(form, Posted(texts), division,
                                                       need_all=need_all)}  # fmt: skip


def faults(workout: str, need_all: bool = False, **typed: str) -> list[tuple[str, str]]:
    with pytest.raises(BadInput) as refused:
        read(workout, need_all, **typed)
    return [(finding.subject, finding.rule) for finding in refused.value.findings]


def test_a_finish_with_its_split() -> None:
    assert read("w1", a__time="9:41", a__split="512") == {
        "a": Result(outcome="finished", time_ms=581_000, tiebreak_ms=312_000)
    }


def test_work_done_means_stopped_by_the_cap() -> None:
    assert read("w1", a__work="143") == {"a": Result(outcome="capped", work=143)}


def test_nought_is_a_result() -> None:
    assert read("w1", a__work="0") == {"a": Result(outcome="capped", work=0)}


def test_a_finish_on_the_cap_counts_and_past_it_is_a_fault() -> None:
    # Whole seconds, cut off: 12:00.4 is ranked as 12:00, the cap.
    assert read("w1", a__time="12:00.4")["a"].outcome == "finished"
    assert faults("w1", a__time="12:01") == [("a.time", "entry.past_cap")]


def test_rounds_and_counts_become_a_total() -> None:
    # 15 swings, 12 toes, 30 m lunges of which every 5 m count one: 33 a round.
    assert read("w2", a__rounds="4", a__counts="17") == {
        "a": Result(outcome="worked", work=4 * 33 + 17)
    }
    assert read("w2", a__work="149") == {"a": Result(outcome="worked", work=149)}


def test_unequal_rounds_are_added_up_as_they_are() -> None:
    # 21-15-9 of two movements: rounds of 42, 30 and 18.
    assert read("w4", a__rounds="2", a__counts="5", b__metres="900")["a"].work == 42 + 30 + 5


def test_rounds_and_a_total_that_differ_are_a_fault() -> None:
    assert faults("w2", a__rounds="4", a__counts="17", a__work="150") == [
        ("a.work", "entry.rounds_differ")
    ]


def test_lifts_are_kept_as_loaded_good_and_bad() -> None:
    result = read(
        "w3",
        a__lift__lift_women__1="60",
        a__lift__lift_women__1__good="yes",
        a__lift__lift_women__2="65",
        a__lift__lift_men__1="205 lb",
        a__lift__lift_men__1__good="yes",
    )["a"]
    assert [(lift.task, str(lift.mass.amount), lift.mass.unit, lift.good) for lift in result.lifts] == [
        ("lift_women", "60", "kg", True),
        ("lift_women", "65", "kg", False),
        ("lift_men", "205", "lb", True),
    ]  # fmt: skip


def test_a_correction_keeps_every_try_a_pad_has_sent() -> None:
    tries = tuple(
        Lift(task="lift_men", mass=Mass(amount=Decimal(100 + n)), good=True) for n in range(9)
    )
    report = ScoreReport(
        heat="w3-1",
        workout="w3",
        part="a",
        team="T01",
        lane=1,
        source="pad",
        result=Result(outcome="lifted", lifts=tries),
    )
    sheet = ScoreSheet(
        workout="w3",
        part="a",
        team="T01",
        reports=(KeptReport(seq=9, at_ms=0, actor="j", device="d", report=report),),
    )
    state = msgspec.structs.replace(STATE, sheets={"w3/a/T01/1": sheet})
    form = entry_form(state, CardRef(workout="w3", team="T01"), filled=True)
    rows = [lift.load for lift in form.parts[0].lifts if lift.task.id == "lift_men"]
    assert rows == [f"{100 + n} kg" for n in range(9)]


def test_a_mark_or_a_split_without_a_result_is_not_passed_over() -> None:
    assert faults("w1", a__split="3:00") == [("a.time", "entry.result_missing")]
    assert faults("w1", a__modified="yes") == [("a.time", "entry.result_missing")]


def test_a_split_past_the_cap_is_a_fault() -> None:
    assert faults("w1", a__work="50", a__split="12:01") == [("a.split", "entry.split_past_cap")]


def test_a_part_left_empty_is_left_for_later_unless_all_are_needed() -> None:
    assert set(read("w4", b__metres="1034")) == {"b"}
    assert faults("w4", need_all=True, b__metres="1034") == [("a.ending", "entry.empty")]


def test_every_fault_is_told_at_once() -> None:
    assert faults("w4", a__time="seven", b__metres="many") == [
        ("a.time", "entry.time_unreadable"),
        ("b.metres", "entry.count_unreadable"),
    ]


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({}, ("a.time", "entry.empty")),
        ({"a__time": "9:41", "a__work": "10"}, ("a.time", "entry.time_and_work")),
        ({"a__work": "999"}, ("a.work", "entry.more_than_all")),
        ({"a__time": "9:41", "a__split": "x"}, ("a.split", "entry.time_unreadable")),
        ({"a__ending": "did_not_start", "a__time": "9:41"},
         ("a.time", "entry.ending_and_result")),
    ],
)  # fmt: skip
def test_faults_name_their_field(typed: dict[str, str], expected: tuple[str, str]) -> None:
    assert expected in faults("w1", need_all=False, **typed)


def test_endings_and_remarks() -> None:
    assert read("w1", a__ending="did_not_start") == {"a": Result(outcome="did_not_start")}
    result = read("w1", a__work="80", a__modified="yes", a__medical_stop="yes")["a"]
    assert (result.modified, result.medical_stop) == (True, True)


def test_a_form_filled_with_a_result_reads_back_the_same() -> None:
    from tests.web.building import played_book

    book = played_book()
    ref = CardRef(workout="w1", team="T13")
    sheet = book.state.sheets["w1/a/T13/1"]
    assert sheet.counting is not None
    form = entry_form(book.state, ref, filled=True)
    assert book.state.event is not None
    again = read_entry(form, Posted(form.parts[0].values), book.state.event.division("pairs"))
    assert again[0].result == msgspec.structs.replace(sheet.counting)
