"""What a day costs: the price of each wish, two plans side by side, a choice of plans.

Decides: how many minutes each rule is worth (:func:`price_list`), what differs between two
plans (:func:`compare`), which few plans are worth choosing from (:func:`frontier`), and why
no plan can finish earlier (:func:`certificate`).
Never does: choose; search itself, for the solver is handed in.
May import: ``model``, the stages of the planner, ``planner.what_if``; not ``planner.solve``.
"""

from callroom.planner.prices.certificate import certificate
from callroom.planner.prices.compare import Comparison, HeatMove, TeamWait, compare
from callroom.planner.prices.frontier import Option, frontier
from callroom.planner.prices.measures import longest_waits, spare_lanes
from callroom.planner.prices.price_list import Price, PriceList, price_list

__all__ = [
    "Comparison",
    "HeatMove",
    "Option",
    "Price",
    "PriceList",
    "TeamWait",
    "certificate",
    "compare",
    "frontier",
    "longest_waits",
    "price_list",
    "spare_lanes",
]
