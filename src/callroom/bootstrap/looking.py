"""What the page of plans can look for, each as the work of a search."""

import threading
from collections.abc import Callable

from msgspec.structs import replace

from callroom.actions.planning import limits, plan_request
from callroom.bootstrap.plan_drafts import DraftShelf, PlanDraft, keep_searched
from callroom.bootstrap.planning import choices_apart, prices_apart, search_apart
from callroom.bootstrap.searches import Searches
from callroom.model import State
from callroom.planner import PlanReply

Work = Callable[[Searches, threading.Event], None]


def look_for_plan(shelf: DraftShelf, state: State, seconds: int, made_ms: int) -> Work:
    """Return the work of looking for a plan of the day; what is found is kept as a draft.

    Raises
    ------
    Refusal
        If there is no event or no team to plan for.
    """
    request = plan_request(state, limits(seconds))

    def work(searches: Searches, stop: threading.Event) -> None:
        def reply(told: PlanReply) -> None:
            searches.tell(findings=told.findings)

        found = search_apart(request, searches.meet, reply, searches.add_line, stop)
        draft = keep_searched(shelf, state, found, made_ms)
        if draft is not None:
            searches.tell(draft=draft.number)

    return work


def look_again(
    shelf: DraftShelf, state: State, draft: PlanDraft, seconds: int, made_ms: int
) -> Work:
    """Return the work of looking for a plan of the day that a draft was changed to.

    What is locked and pinned in it holds; the plan found is a draft beside it.
    """
    request = plan_request(replace(state, event=draft.event), limits(seconds))

    def work(searches: Searches, stop: threading.Event) -> None:
        def reply(told: PlanReply) -> None:
            searches.tell(findings=told.findings)

        searches.tell(of_draft=draft.number)
        found = search_apart(request, searches.meet, reply, searches.add_line, stop)
        kept = keep_searched(shelf, state, found, made_ms, wished=draft.event)
        if kept is not None:
            searches.tell(draft=kept.number)

    return work


def look_for_prices(state: State, seconds: int) -> Work:
    """Return the work of finding out what each wish of the day costs."""
    asked = plan_request(state)

    def work(searches: Searches, stop: threading.Event) -> None:
        prices_apart(asked.event, asked.teams, searches.add_price, stop, work=seconds)

    return work


def look_for_choices(state: State, seconds: int) -> Work:
    """Return the work of finding a few plans to choose from."""
    asked = plan_request(state)

    def work(searches: Searches, stop: threading.Event) -> None:
        choices_apart(asked.event, asked.teams, searches.add_choice, stop, work=seconds)

    return work
