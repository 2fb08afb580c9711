"""The stretches of a heat's clock as screens show them: what each is called, and how it counts."""

from gettext import NullTranslations

import msgspec

from callroom.model import ClockSpan


class FaceSpan(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch of a clock [ms from its zero], ready to be shown.

    Attributes
    ----------
    base_ms
        Where a clock that counts up began: the start of its scored part.
    up
        It counts up from `base_ms`; else down to `until_ms`.
    says
        What is going on: a round, a part, a rest; empty where there is only one thing.
    """

    from_ms: int
    until_ms: int
    base_ms: int
    up: bool
    says: str


def face_spans(spans: tuple[ClockSpan, ...], words: NullTranslations) -> tuple[FaceSpan, ...]:
    """Return the stretches of a clock in words, in order."""
    starts: dict[str, int] = {}
    for span in spans:
        starts.setdefault(span.part, span.from_ms)
    return tuple(
        FaceSpan(
            from_ms=span.from_ms,
            until_ms=span.until_ms,
            base_ms=starts[span.part],
            up=span.kind == "time" and not span.rounds,
            says=_says(span, words),
        )
        for span in spans
    )


def _says(span: ClockSpan, words: NullTranslations) -> str:
    if span.kind is None:
        return words.gettext("Rest")
    said = [span.name] if span.name else []
    if span.rounds:
        said.append(
            words.gettext("Round {n} of {all}").format(n=span.round_number, all=span.rounds)
        )
    return " · ".join(said)
