"""What happened in a lane: every touch of a pad, and what was noted while it happened."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

import msgspec

from callroom.model import KeptNote, LogMark
from callroom.model.words import N_

_TOUCHES: Mapping[str, str] = MappingProxyType(
    {
        "start": N_("the judge's own clock started"),
        "count": N_("+{n}"),
        "fill": N_("set done, +{n}"),
        "total": N_("the whole count typed: {n}"),
        "no_rep": N_("no-rep {said}"),
        "split": N_("split"),
        "finish": N_("finish"),
        "object": N_("{said} has the object"),
        "judge": N_("another judge took over"),
        "stop": N_("stopped: {said}"),
    }
)


class LogLine(msgspec.Struct, frozen=True, kw_only=True):
    """A touch of a pad: when, on the part's clock [ms]; what it was; the count after it."""

    at_ms: int
    says: str
    total: int


def log_lines(log: tuple[LogMark, ...], words: NullTranslations) -> tuple[LogLine, ...]:
    """Return a log in words, in order, with the running count."""
    lines, total = [], 0
    for mark in log:
        total = mark.n if mark.does == "total" else total + _added(mark)
        lines.append(LogLine(at_ms=mark.at_ms, says=_says(mark, words), total=total))
    return tuple(lines)


def note_says(kept: KeptNote, words: NullTranslations) -> str:
    """Return in words what a judge noted while it happened."""
    note = kept.note
    if note.what == "taken_back":
        return words.gettext("taken back")
    return _says(LogMark(0, note.what, n=int(note.good), said=note.said), words)


def _added(mark: LogMark) -> int:
    return mark.n if mark.does in {"count", "fill"} else 0


def _says(mark: LogMark, words: NullTranslations) -> str:
    if mark.does == "lift":
        good = words.gettext("{said} good") if mark.n else words.gettext("{said} no lift")
        return good.format(said=mark.said)
    return words.gettext(_TOUCHES[mark.does]).format(n=mark.n, said=mark.said).strip()
