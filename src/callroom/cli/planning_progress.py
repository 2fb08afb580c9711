"""How a search for a plan tells of itself on the command line."""

from collections.abc import Callable

from callroom.actions.planning import PlanProgress
from callroom.cli.saying import progress
from callroom.cli.words import _
from callroom.model import Event
from callroom.views.day_wording import day_clock


def told_to(event: Event) -> Callable[[PlanProgress], None]:
    """Return what tells the waiting person of each better plan."""

    def tell(met: PlanProgress) -> None:
        ends = day_clock(event, met.plan.finish_s)
        progress(
            _("a plan that ends at {ends}; looking for a better one ({aim})").format(
                ends=ends, aim=met.aim
            )
        )

    return tell
