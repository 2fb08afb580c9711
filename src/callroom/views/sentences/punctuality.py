"""How likely a plan is to be kept, and how much slack is left."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "punctuality.end": N_("On {percent} days of 100 everything is over by {end_at_s}."),
        "punctuality.end_nine_in_ten": N_(
            "Nine days in ten are over by {end_at_s}; the plan says {planned_at_s}."
        ),
        "punctuality.latest_heat": N_(
            "Heat {heat} is late most often, on {percent} days of 100; on one day in ten by"
            " {late_s} or more."
        ),
        "punctuality.incidents": N_(
            "On {percent_of_days} days of 100 something goes badly wrong somewhere, and then some"
            " heat is late whatever the slack."
        ),
        "punctuality.best_gap": N_(
            "The best place for {slack_s} of slack is before heat {heat}: heats then start {saved_s}"
            " less late on average."
        ),
        "punctuality.promise": N_(
            "With {budget_s} of slack, placed as shown, the day is over by {end_at_s} on {percent}"
            " days of 100."
        ),
        "punctuality.no_promise": N_(
            "No slack up to two hours lets the day end on time on {percent} days of 100. Promise"
            " less, or look for what goes wrong."
        ),
        "punctuality.slack_left": N_(
            "Floor {floor} can lose {until_late_s} before a heat starts late, and"
            " {until_deadline_s} before the day ends late."
        ),
        "punctuality.late_now": N_("Floor {floor}: heat {heat} will start {late_s} late."),
        "punctuality.ends_late": N_(
            "As things stand floor {floor} makes the day end {over_s} late."
        ),
    }
)
