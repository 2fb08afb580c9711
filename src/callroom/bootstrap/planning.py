"""Planning in a process of its own, so that a search never stalls a running day."""

import subprocess
import sys
import threading
from collections.abc import Callable
from typing import IO

import msgspec

from callroom.bootstrap.solver import Line
from callroom.model import CallroomError
from callroom.planner import PlanProgress, PlanReply, PlanRequest

OnProgress = Callable[[PlanProgress], None]


def unheard(_met: PlanProgress) -> None:
    """Take no notice of what is met on the way."""


class SolverLost(CallroomError):
    """The solver's process ended without an answer."""


def plan_apart(
    request: PlanRequest,
    on_progress: OnProgress = unheard,
    stop: threading.Event | None = None,
) -> PlanReply:
    """Plan a day in a child process.

    Parameters
    ----------
    on_progress
        Told of every better plan while the search runs.
    stop
        When it is set the search ends, and the best plan met so far is the answer.

    Raises
    ------
    SolverLost
        If the process ends without an answer and nothing was met on the way.
    """
    best: PlanProgress | None = None
    with subprocess.Popen(
        [sys.executable, "-m", "callroom.bootstrap.solver"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    ) as child:
        pipe, answers = _pipes(child)
        pipe.write(msgspec.json.encode(request) + b"\n")
        pipe.flush()
        watcher = _stop_when_set(stop, pipe)
        for text in answers:
            line = msgspec.json.decode(text, type=Line)
            if line.reply is not None:
                _release(stop, watcher, pipe)
                return line.reply
            if line.progress is not None:
                best = line.progress
                on_progress(best)
    if best is None:
        raise SolverLost("plan.solver_lost", code=child.returncode)
    return PlanReply(status="solved", plan=best.plan)


def _pipes(child: "subprocess.Popen[bytes]") -> tuple[IO[bytes], IO[bytes]]:
    if child.stdin is None or child.stdout is None:
        raise SolverLost("plan.solver_lost", code=-1)
    return child.stdin, child.stdout


def _stop_when_set(stop: threading.Event | None, pipe: IO[bytes]) -> threading.Thread | None:
    if stop is None:
        return None

    def wait() -> None:
        stop.wait()
        _close(pipe)

    watcher = threading.Thread(target=wait, daemon=True)
    watcher.start()
    return watcher


def _release(
    stop: threading.Event | None, watcher: threading.Thread | None, pipe: IO[bytes]
) -> None:
    if stop is not None and watcher is not None:
        stop.set()
        watcher.join()
    _close(pipe)


def _close(pipe: IO[bytes]) -> None:
    try:
        pipe.close()
    except OSError:
        return
