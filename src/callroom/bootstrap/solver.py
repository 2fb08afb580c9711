"""The solver's own process: ``python -m callroom.bootstrap.solver``.

It reads one question as a line of JSON, writes what it meets on the way and then its answer
as lines of JSON, and ends at once when its input closes, so that it never outlives whoever
asked and can be stopped at any time.
"""

import os
import sys
import threading

import msgspec

from callroom.bootstrap.solving import HANDLERS


class Question(msgspec.Struct, frozen=True, kw_only=True):
    """What is asked: one of the kinds of ``solving``, and its data."""

    kind: str
    data: msgspec.Raw


class Line(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the answer: what it is (``end``: nothing more comes), and its data."""

    kind: str
    data: msgspec.Raw = msgspec.Raw(b"null")


def main() -> None:
    """Answer one question."""
    question = msgspec.json.decode(sys.stdin.buffer.readline(), type=Question)
    threading.Thread(target=_end_with_input, daemon=True).start()
    HANDLERS[question.kind](bytes(question.data), _say)
    _write(Line(kind="end"))
    # The thread that watches the input would be in the way of an orderly end.
    os._exit(0)


def _say(kind: str, told: msgspec.Struct) -> None:
    _write(Line(kind=kind, data=msgspec.Raw(msgspec.json.encode(told))))


def _write(line: Line) -> None:
    sys.stdout.buffer.write(msgspec.json.encode(line) + b"\n")
    sys.stdout.buffer.flush()


def _end_with_input() -> None:
    sys.stdin.buffer.read()
    # The search runs in foreign code that hears no exception; nothing here needs an orderly end.
    os._exit(0)


if __name__ == "__main__":
    main()
