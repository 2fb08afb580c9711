"""Slack in words: where it does good, what it allows to promise, how much is left."""

from collections.abc import Iterator

from callroom.model.finding import Finding
from callroom.planner.punctuality.confidence import Promise
from callroom.planner.punctuality.gaps import Gap
from callroom.planner.punctuality.live import SlackLeft
from callroom.planner.punctuality.rules import RULES


def gap_said(gap: Gap, slack_s: int) -> Finding:
    """Return the best place for some slack [s] in words."""
    saved_s = round(gap.saved_s)
    return RULES.found(
        "punctuality.best_gap", f"heat.{gap.heat}", heat=gap.heat, slack_s=slack_s, saved_s=saved_s
    )


def promise_said(made: Promise | None, wanted_permille: int) -> Finding:
    """Return what can be promised in words."""
    percent = wanted_permille // 10
    if made is None:
        return RULES.found("punctuality.no_promise", "plan", percent=percent)
    return RULES.found(
        "punctuality.promise",
        "plan",
        budget_s=made.budget_s,
        end_at_s=made.end_s,
        percent=percent,
    )


def slack_said(left: SlackLeft) -> Iterator[Finding]:
    """Yield what is to be said of each floor now."""
    for floor in left.floors:
        at = f"floor.{floor.floor}"
        if floor.until_deadline_s < 0:
            over_s = -floor.until_deadline_s
            yield RULES.found("punctuality.ends_late", at, floor=floor.floor, over_s=over_s)
        if floor.late_s > 0:
            yield RULES.found(
                "punctuality.late_now",
                at,
                floor=floor.floor,
                heat=floor.heat,
                late_s=floor.late_s,
            )
        elif floor.until_deadline_s >= 0:
            yield RULES.found(
                "punctuality.slack_left",
                at,
                floor=floor.floor,
                until_late_s=floor.until_late_s,
                until_deadline_s=floor.until_deadline_s,
            )
