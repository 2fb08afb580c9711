"""What judges note in their lanes: always kept, for their lane, and taken back by the same phone."""

import msgspec
import pytest

from callroom.actions import day as ask
from callroom.actions.request import read_posted
from callroom.model import Actor, BadInput, LaneNote, LogMark, ScoreReport
from callroom.model.lane_note import MOST_MARKS
from tests.actions.day_building import JUDGE, loaded_day, report

OTHER = Actor(role="judge", device="other phone", name="another judge")


def note(what: str, mark: int, **changed: object) -> LaneNote:
    fields = {"heat": "w1-1", "workout": "w1", "part": "a", "team": "T1", "lane": 2,
              "what": what, "at_ms": 5_000 + mark, "mark": mark}  # fmt: skip
    return LaneNote(**(fields | changed))  # type: ignore[arg-type]


def test_notes_are_kept_with_their_lane_in_order() -> None:
    day = loaded_day()
    day.ask(JUDGE, ask.note_lane(note("no_rep", 3, task="t1", said="Not deep enough")))
    day.ask(JUDGE, ask.note_lane(note("finish", 9)))
    kept = day.state.lane_notes["w1/a/T1/1"]
    assert [(one.note.what, one.note.said, one.device) for one in kept] == [
        ("no_rep", "Not deep enough", "phone"),
        ("finish", "", "phone"),
    ]


def test_a_note_is_taken_back_by_the_phone_that_made_it() -> None:
    day = loaded_day()
    for actor in (JUDGE, OTHER):
        day.ask(actor, ask.note_lane(note("no_rep", 3)))
    day.ask(JUDGE, ask.note_lane(note("taken_back", 3)))
    assert [one.taken_back for one in day.state.lane_notes["w1/a/T1/1"]] == [True, False]


def test_a_note_about_what_does_not_exist_is_kept_all_the_same() -> None:
    day = loaded_day()
    day.ask(JUDGE, ask.note_lane(note("split", 1, heat="w9-9", team="nobody")))
    assert len(day.state.lane_notes["w1/a/nobody/1"]) == 1


def posted(log: object) -> ScoreReport:
    sent = msgspec.to_builtins(report("w1-1", "T1", 300_000)) | {"log": log}
    (body,) = read_posted(msgspec.json.encode({"kind": "score.reported", "data": sent})).proposals
    assert isinstance(body, ScoreReport)
    return body


def test_the_log_travels_with_the_score() -> None:
    day = loaded_day()
    log = [[1_000, "count", 1, "t1"], [2_500, "no_rep", 0, "t1", "Not deep enough"]]
    day.ask(JUDGE, ask.report_score(posted(log)))
    (kept,) = day.state.sheets["w1/a/T1/1"].reports
    assert kept.report.log == (
        LogMark(1_000, "count", 1, "t1"),
        LogMark(2_500, "no_rep", 0, "t1", "Not deep enough"),
    )


@pytest.mark.parametrize(
    "log",
    [[[1, "dance"]], [[1]], [{"at_ms": 1}], [[1, "count", 1, "t" * 81]], [[0, "count"]] * (MOST_MARKS + 1)],
)  # fmt: skip
def test_a_log_that_cannot_be_one_is_refused(log: object) -> None:
    with pytest.raises(BadInput):
        posted(log)
