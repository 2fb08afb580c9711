"""The solver's own process: ``python -m callroom.bootstrap.solver``.

It reads one question as a line of JSON, writes what it meets on the way and then its answer
as lines of JSON, and ends at once when its input closes, so that it never outlives whoever
asked and can be stopped at any time.
"""

import os
import sys
import threading

import msgspec

from callroom.planner import PlanProgress, PlanReply, PlanRequest, plan_day


class Line(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One line of the answer: something met on the way, or the end."""

    progress: PlanProgress | None = None
    reply: PlanReply | None = None


def main() -> None:
    """Answer one question."""
    question = sys.stdin.buffer.readline()
    threading.Thread(target=_end_with_input, daemon=True).start()
    request = msgspec.json.decode(question, type=PlanRequest)
    # Loaded here and nowhere else: it brings a large library with it.
    from callroom.planner.solve import solve  # noqa: PLC0415

    reply = plan_day(request, solve, lambda met: _say(Line(progress=met)))
    _say(Line(reply=reply))
    # The thread that watches the input would be in the way of an orderly end.
    os._exit(0)


def _say(line: Line) -> None:
    sys.stdout.buffer.write(msgspec.json.encode(line) + b"\n")
    sys.stdout.buffer.flush()


def _end_with_input() -> None:
    sys.stdin.buffer.read()
    # The search runs in foreign code that hears no exception; nothing here needs an orderly end.
    os._exit(0)


if __name__ == "__main__":
    main()
