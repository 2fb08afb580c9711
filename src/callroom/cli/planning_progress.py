"""How a search tells of itself on the command line, and how it is stopped."""

import threading
from collections.abc import Callable
from typing import TypeVar

from msgspec.structs import replace

from callroom.actions.planning import PlanProgress
from callroom.cli.saying import progress
from callroom.cli.words import _
from callroom.model import Event, Finding
from callroom.views.day_wording import day_clock
from callroom.views.naming import named
from callroom.views.sentences import sentence

Found = TypeVar("Found")


def told_to(event: Event) -> Callable[[PlanProgress], None]:
    """Return what tells the waiting person of each better plan."""

    def tell(met: PlanProgress) -> None:
        ends = day_clock(event, met.plan.finish_s)
        if met.day is not None:
            progress(
                _("a plan of all days that ends at {ends}; day {number} is made better").format(
                    ends=ends, number=met.day
                )
            )
            return
        progress(
            _("a plan that ends at {ends}; looking for a better one ({aim})").format(
                ends=ends, aim=met.aim
            )
        )

    return tell


def until_stopped(look: Callable[[threading.Event], Found]) -> Found:
    """Return what `look` finds; Ctrl-C ends the search, and what was found by then is kept."""
    stop = threading.Event()
    found: list[Found] = []
    faults: list[BaseException] = []

    def work() -> None:
        try:
            found.append(look(stop))
        except BaseException as fault:  # noqa: BLE001 - handed on to the waiting thread
            faults.append(fault)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    while thread.is_alive():
        try:
            thread.join(_LOOK_S)
        except KeyboardInterrupt:
            progress(_("Stopped; what was found by now is kept."))
            stop.set()
    if faults:
        raise faults[0]
    return found[0]


_LOOK_S = 0.2


def said(finding: Finding, event: Event) -> str:
    """Return a finding as a sentence, with moments of the day by its clock."""
    return sentence(replace(finding, facts=named(event, finding.facts)), _, event=event)
