"""Planning in a process of its own, so that a search never stalls a running day."""

import subprocess
import sys
import threading
from collections.abc import Callable
from typing import IO

import msgspec

from callroom.bootstrap.solver import Line, Question
from callroom.bootstrap.solving import Because, DayAsked, Proven
from callroom.model import CallroomError, Event, Finding, Team
from callroom.planner import PlanProgress, PlanReply, PlanRequest, check_plan
from callroom.planner.prices import Option, Price, PriceList
from callroom.planner.why_not import Line as MenuLine

OnProgress = Callable[[PlanProgress], None]
OnReply = Callable[[PlanReply], None]
OnMenuLine = Callable[[MenuLine], None]
OnPrice = Callable[[Price], None]
OnChoice = Callable[[Option], None]
Hear = Callable[[str, bytes], None]


class Unheard:
    """Takes no notice of what is met on the way."""

    def __call__(self, _met: object) -> None:
        """Do nothing."""


unheard = Unheard()


class SolverLost(CallroomError):
    """The solver's process ended without an answer."""


class Searched(msgspec.Struct, frozen=True, kw_only=True):
    """What came of looking for a plan.

    Attributes
    ----------
    reply
        The plan and what the check says of it, or why there is none.
    because
        What carries the plan's certificate, and how near the plan comes.
    menu
        Without a plan: for each kind of wish alone, the least change that does.
    stopped
        The search was stopped before its end; the plan is the best met by then.
    """

    reply: PlanReply
    because: tuple[Finding, ...] = ()
    menu: tuple[MenuLine, ...] = ()
    stopped: bool = False


def ask_apart(
    kind: str, asked: msgspec.Struct, hear: Hear, stop: threading.Event | None = None
) -> bool:
    """Ask the solver's process one question; True if it came to its end.

    Parameters
    ----------
    hear
        Told of each line of the answer: its kind, and its data as JSON.
    stop
        When it is set the process ends at once, and no more lines come.
    """
    question = Question(kind=kind, data=msgspec.Raw(msgspec.json.encode(asked)))
    ended = False
    with subprocess.Popen(
        [sys.executable, "-m", "callroom.bootstrap.solver"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    ) as child:
        pipe, answers = _pipes(child)
        pipe.write(msgspec.json.encode(question) + b"\n")
        pipe.flush()
        finished = threading.Event()
        watcher = threading.Thread(target=_close_when, args=(stop, finished, pipe), daemon=True)
        watcher.start()
        for text in answers:
            line = msgspec.json.decode(text, type=Line)
            if line.kind == "end":
                ended = True
                break
            hear(line.kind, bytes(line.data))
        finished.set()
        watcher.join()
    return ended


def _pipes(child: "subprocess.Popen[bytes]") -> tuple[IO[bytes], IO[bytes]]:
    if child.stdin is None or child.stdout is None:
        raise SolverLost("plan.solver_lost", code=-1)
    return child.stdin, child.stdout


def _close_when(stop: threading.Event | None, finished: threading.Event, pipe: IO[bytes]) -> None:
    """Close the child's input when it is to stop, or when it has come to its end."""
    while not finished.wait(_LOOK_S):
        if stop is not None and stop.is_set():
            break
    try:
        pipe.close()
    except OSError:
        return


_LOOK_S = 0.05


class _Hearing:
    """What is known so far of a search for a plan."""

    def __init__(
        self,
        request: PlanRequest,
        on_progress: OnProgress,
        on_reply: OnReply = unheard,
        on_line: OnMenuLine = unheard,
    ) -> None:
        self._request, self._on_progress = request, on_progress
        self._on_reply, self._on_line = on_reply, on_line
        self._best: PlanProgress | None = None
        self._reply: PlanReply | None = None
        self._certificate_s = 0
        self._because: tuple[Finding, ...] = ()
        self._menu: list[MenuLine] = []

    def hear(self, kind: str, data: bytes) -> None:
        if kind == "proven":
            self._certificate_s = msgspec.json.decode(data, type=Proven).certificate_s
        elif kind == "progress":
            self._best = msgspec.json.decode(data, type=PlanProgress)
            self._on_progress(self._best)
        elif kind == "reply":
            self._reply = msgspec.json.decode(data, type=PlanReply)
            self._on_reply(self._reply)
        elif kind == "because":
            self._because = msgspec.json.decode(data, type=Because).findings
        else:
            self._menu.append(msgspec.json.decode(data, type=MenuLine))
            self._on_line(self._menu[-1])

    def searched(self) -> Searched:
        """Return what came of it; of a search that was stopped, the best plan met."""
        reply = self._reply
        if reply is None:
            if self._best is None:
                raise SolverLost("plan.nothing_met")
            plan, request = self._best.plan, self._request
            reply = PlanReply(
                status="solved",
                plan=plan,
                certificate_s=self._certificate_s,
                findings=check_plan(request.event, request.teams, plan),
            )
        return Searched(
            reply=reply,
            because=self._because,
            menu=tuple(self._menu),
            stopped=self._reply is None,
        )


def search_apart(
    request: PlanRequest,
    on_progress: OnProgress = unheard,
    on_reply: OnReply = unheard,
    on_line: OnMenuLine = unheard,
    stop: threading.Event | None = None,
) -> Searched:
    """Plan a day in a child process, and find out what would do if it cannot be done.

    Parameters
    ----------
    on_progress
        Told of every better plan while the search runs.
    on_reply
        Told of the plan, or of why there is none, once.
    on_line
        Then told of every line of the menu of an impossible day.
    stop
        When it is set the search ends, and the best plan met so far is the answer.

    Raises
    ------
    SolverLost
        If the process ends without an answer and nothing was met on the way.
    """
    hearing = _Hearing(request, on_progress, on_reply, on_line)
    ask_apart("search", request, hearing.hear, stop)
    return hearing.searched()


def plan_apart(
    request: PlanRequest,
    on_progress: OnProgress = unheard,
    stop: threading.Event | None = None,
) -> PlanReply:
    """Plan a day in a child process, and no more than that; see :func:`search_apart`."""
    hearing = _Hearing(request, on_progress)
    ask_apart("plan", request, hearing.hear, stop)
    return hearing.searched().reply


def prices_apart(
    event: Event,
    teams: tuple[Team, ...],
    on_price: OnPrice = unheard,
    stop: threading.Event | None = None,
    *,
    work: int = 1,
) -> PriceList | None:
    """Return what each wish of a day costs; None if it was stopped before the end."""
    found: list[PriceList] = []

    def hear(kind: str, data: bytes) -> None:
        if kind == "price":
            on_price(msgspec.json.decode(data, type=Price))
        else:
            found.append(msgspec.json.decode(data, type=PriceList))

    ask_apart("prices", _day(event, teams, work), hear, stop)
    return found[0] if found else None


def choices_apart(
    event: Event,
    teams: tuple[Team, ...],
    on_choice: OnChoice = unheard,
    stop: threading.Event | None = None,
    *,
    work: int = 4,
) -> tuple[Option, ...]:
    """Return up to four plans of a day to choose from, the earliest finish first."""
    found: list[Option] = []

    def hear(_kind: str, data: bytes) -> None:
        found.append(msgspec.json.decode(data, type=Option))
        on_choice(found[-1])

    ask_apart("choices", _day(event, teams, work), hear, stop)
    return tuple(found)


def _day(event: Event, teams: tuple[Team, ...], work: int) -> DayAsked:
    """Return the question, with real time as a last resort only.

    What a try finds must not hang on what else the machine does: a price is the difference of
    two of them.
    """
    return DayAsked(event=event, teams=teams, work=work, wall_s=work * PATIENCE)


PATIENCE = 10
