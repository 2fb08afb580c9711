"""The log of a pad in words, with the running count."""

from typing import get_args

from callroom.model import KeptNote, LaneNote, LogMark
from callroom.model.lane_note import LogKind, NoteKind
from callroom.views.lane_log import LogLine, log_lines, note_says
from callroom.views.wording import ENGLISH


def test_a_log_is_told_with_its_running_count() -> None:
    log = (
        LogMark(1_000, "count", 5),
        LogMark(2_000, "no_rep", 0, "t", "Not deep enough"),
        LogMark(3_000, "fill", 7, "t"),
        LogMark(4_000, "total", 20),
        LogMark(5_000, "lift", 1, "t", "60 kg"),
    )
    assert log_lines(log, ENGLISH) == (
        LogLine(at_ms=1_000, says="+5", total=5),
        LogLine(at_ms=2_000, says="no-rep Not deep enough", total=5),
        LogLine(at_ms=3_000, says="set done, +7", total=12),
        LogLine(at_ms=4_000, says="the whole count typed: 20", total=20),
        LogLine(at_ms=5_000, says="60 kg good", total=20),
    )


def test_every_kind_of_touch_and_note_has_words() -> None:
    for does in get_args(LogKind):
        (line,) = log_lines((LogMark(0, does, said="B"),), ENGLISH)
        assert line.says
    for what in get_args(NoteKind):
        note = LaneNote(
            heat="h", workout="w", part="a", team="t", lane=1, what=what, at_ms=0, mark=0
        )
        assert note_says(KeptNote(seq=1, device="d", note=note), ENGLISH)
