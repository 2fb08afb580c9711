"""What is said about looking for a plan, and about plans that nobody was told yet."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "search.under_way": N_("Something is being looked for already. Wait for it, or stop it."),
        "search.failed": N_(
            "The search failed. Nothing was changed. Try again, and tell whoever keeps the server."
        ),
        "plan.no_draft": N_("There is no draft {number} any more. Look for a plan again."),
        "plan.draft_is_old": N_(
            "The event, teams, crew or kit have changed since draft {number} was made. Look for a"
            " plan again."
        ),
        "plan.gap_none": N_(
            "The day is over at {finish_at_s}, and it is proven that no plan of these heats is"
            " over earlier."
        ),
        "plan.gap_wishes": N_(
            "The day is over at {finish_at_s}, and it is proven that no plan that keeps every wish"
            " is over earlier. Without the wishes none could be over before {proven_at_s}."
        ),
        "plan.gap": N_(
            "The day is over at {finish_at_s}. No plan of these heats can be over before"
            " {proven_at_s}, so at most {gap_s} could still be gained."
        ),
        "plan.gap_unknown": N_(
            "The day is over at {finish_at_s}. How much earlier it could be was not found out."
        ),
        "repair.gone": N_(
            "This proposal is not up to date any more: the day has gone on. Look at the new one."
        ),
        "plan.nothing_to_take": N_("This change cannot be made any more. Look again."),
    }
)
