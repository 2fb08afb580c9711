"""What the simulated days say, in whole numbers for tables, pictures and sentences."""

from collections.abc import Iterator

import msgspec
import numpy as np

from callroom.model.finding import Finding
from callroom.planner.punctuality.course import Course
from callroom.planner.punctuality.days import Days
from callroom.planner.punctuality.rules import RULES
from callroom.planner.punctuality.spread import Incidents

LATE_FROM_S = 120
"""A start within two minutes of the plan is on time: nobody notices less (common practice)."""


class HeatOdds(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One heat: days of a thousand on which it starts late, and how late it starts [s].

    Half of the days it is at most `median_s` late, nine in ten at most `p90_s`.
    """

    heat: str
    late_permille: int
    median_s: int
    p90_s: int


class Punctuality(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How likely a plan is to be kept.

    Attributes
    ----------
    heats
        In order of time.
    end_kept_permille
        Days of a thousand that are over by `end_s`.
    end_p50_s, end_p90_s
        The end of the middle day, and the end that nine days in ten keep [s].
    any_late_permille
        Days of a thousand on which some heat starts late.
    findings
        The same in words.
    """

    heats: tuple[HeatOdds, ...]
    end_s: int
    end_kept_permille: int
    end_p50_s: int
    end_p90_s: int
    any_late_permille: int
    findings: tuple[Finding, ...] = ()


def punctuality(
    course: Course,
    days: Days,
    *,
    end_s: int | None = None,
    incidents: Incidents | None = None,
    late_from_s: int = LATE_FROM_S,
) -> Punctuality:
    """Count the simulated days.

    Parameters
    ----------
    course, days
        The plan and the days drawn for it.
    end_s
        When the day shall be over [s]; None: as planned.
    incidents
        Those the days were drawn with, to be named if given.
    late_from_s
        From when a heat counts as late [s].
    """
    late_s = days.start_s - course.published_s[:, None]
    middle, high = np.quantile(late_s, (0.5, 0.9), axis=1)
    late = late_s > late_from_s
    heats = tuple(
        HeatOdds(
            heat=name,
            late_permille=round(float(late[place].mean()) * 1000),
            median_s=round(float(middle[place])),
            p90_s=round(float(high[place])),
        )
        for place, name in enumerate(course.heats)
    )
    due_s = course.finish_s if end_s is None else end_s
    finish_s = days.finish_s
    found = Punctuality(
        heats=heats,
        end_s=due_s,
        end_kept_permille=round(float((finish_s <= due_s).mean()) * 1000),
        end_p50_s=round(float(np.quantile(finish_s, 0.5))),
        end_p90_s=round(float(np.quantile(finish_s, 0.9))),
        any_late_permille=round(float(late.any(axis=0).mean()) * 1000),
    )
    said = tuple(_said(found, course, incidents))
    return msgspec.structs.replace(found, findings=said)


def _said(found: Punctuality, course: Course, incidents: Incidents | None) -> Iterator[Finding]:
    yield RULES.found(
        "punctuality.end", "plan", percent=found.end_kept_permille // 10, end_at_s=found.end_s
    )
    yield RULES.found(
        "punctuality.end_nine_in_ten",
        "plan",
        end_at_s=found.end_p90_s,
        planned_at_s=course.finish_s,
    )
    if found.heats:
        worst = max(found.heats, key=lambda heat: (heat.late_permille, heat.p90_s))
        yield RULES.found(
            "punctuality.latest_heat",
            f"heat.{worst.heat}",
            heat=worst.heat,
            percent=worst.late_permille // 10,
            late_s=worst.p90_s,
        )
    if incidents is not None:
        quiet = (1 - incidents.per_thousand / 1000) ** len(found.heats)
        percent = round((1 - quiet) * 100)
        yield RULES.found("punctuality.incidents", "plan", percent_of_days=percent)
