"""What the page of plans shows of a search that is under way, or has just ended."""

from collections.abc import Iterable

import msgspec

from callroom.actions.take_change import Change
from callroom.bootstrap.plan_drafts import PlanDraft
from callroom.bootstrap.searches import Search, Searches
from callroom.model import Finding, State
from callroom.views.plan_desk import drawn_plan, lanes_to_spare, longest_wait_s
from callroom.views.timetable import Timetable


class Offer(msgspec.Struct, frozen=True, kw_only=True):
    """A change that can be made: what it is, what comes of it, and what a button sends for it.

    `take` is empty where nothing can be made of it. `by_s` is what it does to the end of the
    day [s], where that is known, and `sure` whether it is proven.
    """

    changes: tuple[Finding, ...]
    outcome: Finding
    take: str
    by_s: int | None = None
    sure: bool = True


class Measured(msgspec.Struct, frozen=True, kw_only=True):
    """What a plan comes to: its end, the longest wait of any team [s], lanes to spare."""

    finish_s: int
    longest_wait_s: int
    spare_lanes: int


class SearchShown(msgspec.Struct, frozen=True, kw_only=True):
    """A search, the best plan so far as a picture, the changes it offers, and the drafts.

    `in_force` is what the plan in force comes to, to compare with.
    """

    search: Search | None
    picture: Timetable | None
    offers: tuple[Offer, ...]
    drafts: tuple[PlanDraft, ...]
    in_force: Measured | None


def search_shown(state: State, searches: Searches | None) -> SearchShown:
    """Return what is shown of a search and of the drafts; the picture only while it runs."""
    search = searches.now if searches is not None else None
    drafts = searches.drafts() if searches is not None else ()
    shown = SearchShown(
        search=search, picture=None, offers=(), drafts=drafts, in_force=_measured(state)
    )
    if search is None:
        return shown
    best = None if search.ended or search.best is None else search.best
    lines = (
        Offer(
            changes=line.changes,
            outcome=line.outcome,
            take=taken(
                Change(kind=kind, subject=subject, level=level)
                for kind, subject, level in zip(line.kinds, line.subjects, line.levels, strict=True)
            )
            if line.status == "does"
            else "",
        )
        for line in search.lines
    )
    prices = (
        Offer(
            changes=(price.change,),
            outcome=price.outcome,
            take=taken([Change(kind=price.kind, subject=price.subject, level=price.level)])
            if price.by_s is not None
            else "",
            by_s=price.by_s,
            sure=price.proven,
        )
        for price in search.prices
    )
    return msgspec.structs.replace(
        shown,
        picture=drawn_plan(state, best.plan) if best is not None else None,
        offers=(*lines, *prices),
    )


def _measured(state: State) -> Measured | None:
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return None
    return Measured(
        finish_s=plan.finish_s,
        longest_wait_s=longest_wait_s(event, plan),
        spare_lanes=lanes_to_spare(event, state.teams.values(), plan),
    )


def taken(changes: Iterable[Change]) -> str:
    """Return changes as a button sends them."""
    return msgspec.json.encode(list(changes)).decode()


def read_taken(text: str) -> tuple[Change, ...]:
    """Return the changes that a button sent; ``msgspec.MsgspecError`` if it is none of ours."""
    return msgspec.json.decode(text, type=tuple[Change, ...])
