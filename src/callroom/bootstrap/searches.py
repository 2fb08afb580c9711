"""The one search of a book that is under way, for pages to start, watch and stop."""

import logging
import threading
from collections.abc import Callable
from typing import Literal, Protocol

import msgspec
from msgspec.structs import replace

from callroom.bootstrap.plan_drafts import DraftShelf, PlanDraft, drafts_of
from callroom.model import CallroomError, Finding, Refusal
from callroom.planner import PlanProgress
from callroom.planner.prices import Option, Price
from callroom.planner.why_not import Line

SearchKind = Literal["plan", "prices", "choices", "rota"]
OnChange = Callable[[], None]
MOST_STEPS = 40
"""So many steps on the way to a plan are shown; the first and the last tell most."""

_log = logging.getLogger("callroom.bootstrap")


class Shelf(DraftShelf, Protocol):
    """What a search needs of an open book."""

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""


class Met(msgspec.Struct, frozen=True, kw_only=True):
    """A better plan met on the way: after how long [s], in which aim, with its value and bound [s].

    Of an event of several days, both are about the `day`-th.
    """

    after_s: int
    aim: str
    value_s: int
    bound_s: int
    day: int | None = None


class Search(msgspec.Struct, frozen=True, kw_only=True):
    """A search as it stands.

    Attributes
    ----------
    kind, started_ms, seconds
        What is looked for, since when [ms, UTC], and for how long at most [s].
    met, best
        The better plans met so far, and the last of them.
    lines, prices, choices
        What was found besides, in the order in which it was.
    draft
        Number of the draft that holds the plan found; 0: none.
    of_draft
        Number of the draft whose locks and wishes it keeps; 0: the event's own.
    findings
        Why there is no plan, or what is to be said of what was found.
    ended, stopping
        It is over; it was asked to stop.
    """

    kind: SearchKind
    started_ms: int
    seconds: int
    met: tuple[Met, ...] = ()
    best: PlanProgress | None = None
    lines: tuple[Line, ...] = ()
    prices: tuple[Price, ...] = ()
    choices: tuple[Option, ...] = ()
    draft: int = 0
    of_draft: int = 0
    findings: tuple[Finding, ...] = ()
    ended: bool = False
    stopping: bool = False


class Searches:
    """Runs one search at a time in a thread of its own and says how it stands."""

    def __init__(self, book: Shelf, on_change: OnChange = lambda: None) -> None:
        """Begin with no search; `on_change` is called from the searching thread."""
        self._book = book
        self.on_change = on_change
        self._lock = threading.Lock()
        self._stop = threading.Event()
        self._thread: threading.Thread | None = None
        self.now: Search | None = None
        self.version = 0

    def start(
        self, kind: SearchKind, seconds: int, work: Callable[["Searches", threading.Event], None]
    ) -> None:
        """Begin a search; `work` looks, and tells this of what it meets.

        Raises
        ------
        Refusal
            If another one is under way.
        """
        with self._lock:
            if self.now is not None and not self.now.ended:
                raise Refusal("search.under_way")
            self._stop = threading.Event()
            self.now = Search(kind=kind, started_ms=self._book.now_ms(), seconds=seconds)
            self.version += 1
            thread = threading.Thread(target=self._run, args=(work, self._stop), daemon=True)
            self._thread = thread
        thread.start()
        self.on_change()

    def stop(self) -> None:
        """Ask the search to end with what it has; nothing if there is none."""
        self._stop.set()
        self.tell(stopping=True)

    def wait(self, patience_s: float | None = None) -> None:
        """Wait for the end of the search that is under way."""
        if self._thread is not None:
            self._thread.join(patience_s)

    def meet(self, progress: PlanProgress) -> None:
        """Note a better plan."""
        if self.now is None:
            return
        met = Met(
            after_s=(self._book.now_ms() - self.now.started_ms) // 1000,
            aim=progress.aim,
            value_s=progress.value_s,
            bound_s=progress.bound_s,
            day=progress.day,
        )
        self.tell(met=(*self.now.met, met)[-MOST_STEPS:], best=progress)

    def add_line(self, line: Line) -> None:
        """Note a line of the menu of an impossible day."""
        if self.now is not None:
            self.tell(lines=(*self.now.lines, line))

    def add_price(self, price: Price) -> None:
        """Note a price."""
        if self.now is not None:
            self.tell(prices=(*self.now.prices, price))

    def add_choice(self, choice: Option) -> None:
        """Note a plan to choose from."""
        if self.now is not None:
            self.tell(choices=(*self.now.choices, choice))

    def drafts(self) -> tuple[PlanDraft, ...]:
        """Return the drafts of the book, the newest first; reads from disk."""
        return drafts_of(self._book)

    def drafts_changed(self) -> None:
        """Have whoever watches look again: drafts are no entries, so nobody else would say it.

        A search for a plan that has ended, and whose draft may be gone, is shown no more.
        """
        with self._lock:
            if self.now is not None and self.now.ended and self.now.draft:
                self.now = None
            self.version += 1
        self.on_change()

    def tell(self, **changes: object) -> None:
        """Note that the search stands otherwise."""
        with self._lock:
            if self.now is None:
                return
            self.now = replace(self.now, **changes)
            self.version += 1
        self.on_change()

    def _run(
        self, work: Callable[["Searches", threading.Event], None], stop: threading.Event
    ) -> None:
        try:
            work(self, stop)
        except CallroomError as fault:
            self.tell(findings=(fault.finding(),))
        except Exception:  # noqa: BLE001 - whatever it was, the page must hear of the end
            _log.exception("a search failed")
            self.tell(findings=(Finding(rule="search.failed", severity="error", subject="plan"),))
        finally:
            self.tell(ended=True)
