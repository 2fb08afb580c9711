"""Sentences for what the rules of entering refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "entering.closes_first": N_(
            "Entering would close before it opens. Look at both days and times."
        ),
        "entering.not_open": N_(
            "Teams cannot enter or change their entry just now. Ask the director."
        ),
        "entering.day_has_begun": N_(
            "The day has begun: go to the desk, which withdraws the team at once."
        ),
        "enrolment.id_taken": N_("The number {team} was just given to another team. Send again."),
        "enrolment.other_outcome": N_(
            "A place was taken or came free in the same moment. Send again."
        ),
        "enrolment.directors_part": N_("Only the director can change that about {team}. Ask them."),
        "enrolment.other_team": N_("This link is another team's than {team}. Use your own."),
        "enrolment.no_room": N_(
            "The division has its {limit} teams. Withdraw one, raise the limit, or move {team}"
            " to another division."
        ),
        "enrolment.over": N_("{team} has left, or was declined. To come back, ask the director."),
        "enrolment.not_waiting": N_("{team} does not wait any more. Reload to see where it is."),
        "team.has_run": N_(
            "{team} has started heats in its division already and stays in it. Withdraw it there if"
            " it must not go on."
        ),
    }
)
