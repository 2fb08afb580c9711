"""The rules of the event: the switches a director publishes beforehand."""

from decimal import Decimal
from typing import Literal

import msgspec

PointsKind = Literal["places", "linear", "table", "formula"]


class Points(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How places become an overall order.

    ``places``: the sum of places, least is best. ``linear``: `first` points, `step` less
    for each place, never under nought. ``table``: as listed, nought beyond the list.
    ``formula``: an arithmetic text over ``place``, ``teams`` and ``result``.
    """

    kind: PointsKind = "places"
    first: Decimal = Decimal(100)
    step: Decimal = Decimal(5)
    table: tuple[Decimal, ...] = ()
    formula: str = ""


class Rules(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The switches, with the trade's usual defaults (common practice, no source).

    Attributes
    ----------
    tie_chain
        How overall ties are broken, in order: ``most_firsts`` (then seconds, thirds, …),
        ``best_in:<workout>`` or ``best_in:<workout>/<part>``, ``shared``; what is left is
        shared.
    absent_overall
        A team without a place somewhere: ``below`` all who completed, or ``unranked``.
    after_withdrawal, after_disqualification
        Whether places already won stand (``keep``) or the others move up (``move_up``).
    modified_work
        Work done lighter or easier: ``below`` every result as prescribed, or ``unranked``.
    short_handed
        A team with too few athletes is ``ranked``, ``unranked`` or ``withdrawn``.
    rerun_counts
        The default for a re-run: the new result ``replaces`` or the ``better`` counts.
    appeal_window_s
        How long after posting an appeal may be made [s].
    late_appeals
        An appeal handed in later is ``refused``, or ``marked`` as late and heard all the same.
    embargo
        Workouts whose results the public does not see before the director says so.
    substitution_deadline_s
        Latest change of a line-up before the team's report time [s].
    substitutions
        How many athletes of a team may come in for others over the day; None: any number.
    keep_people_days
        How many days after the event everything personal is erased; None: the director does it.
    """

    points: Points = Points()
    tie_chain: tuple[str, ...] = ("most_firsts",)
    absent_overall: Literal["below", "unranked"] = "below"
    after_withdrawal: Literal["keep", "move_up"] = "keep"
    after_disqualification: Literal["keep", "move_up"] = "move_up"
    modified_work: Literal["below", "unranked"] = "below"
    short_handed: Literal["ranked", "unranked", "withdrawn"] = "unranked"
    rerun_counts: Literal["replaces", "better"] = "replaces"
    appeal_window_s: int = 900
    late_appeals: Literal["refused", "marked"] = "refused"
    embargo: tuple[str, ...] = ()
    substitution_deadline_s: int = 0
    substitutions: int | None = None
    keep_people_days: int | None = 90
