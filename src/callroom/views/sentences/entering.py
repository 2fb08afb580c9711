"""Sentences for what the rules of entering refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "division.has_teams": N_(
            "{count} teams are in the division {division}, or wait for it. Move them to another"
            " division first, then take this one away."
        ),
        "entering.closes_first": N_(
            "Entering would close before it opens. Look at both days and times."
        ),
        "entering.needs_privacy": N_(
            "On this network others could read names and contacts along. Open the address that"
            " begins with https, or go to the desk."
        ),
        "entering.no_link": N_(
            "This link opens no team, or not any more. Ask the director for a new one."
        ),
        "entering.not_open": N_(
            "Teams cannot enter or change their entry just now. Ask the director."
        ),
        "entering.day_has_begun": N_(
            "The day has begun: go to the desk, which sees to it at once."
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
        "pay.iban": N_(
            "“{given}” is no IBAN, or a digit is wrong. Copy it from the bank's own papers."
        ),
        "pay.no_link": N_("“{given}” is no web address. It begins with https://."),
        "pay.no_name": N_("Whose account is it? Banks ask for the name with the IBAN."),
        "pay.no_bic": N_("“{given}” is no BIC: it has 8 or 11 letters and digits."),
        "entering.settings_changed": N_(
            "The settings were changed elsewhere in the meantime, and yours are not stored. What you"
            " typed is still here: look it over and save it again."
        ),
        "entering.no_moment": N_("“{given}” is no day and time. Write it like 2026-09-01T18:00."),
        "entering.no_number": N_("“{given}” is no whole number from 0 to {most}."),
        "entering.send_again": N_(
            "This browser lost its place, and nothing is stored yet. All you typed is still here:"
            " look it over and send it again."
        ),
        "entering.changed": N_(
            "The team was changed by somebody else in the meantime, and your change is not stored."
            " What you typed is still here: look it over and send it again."
        ),
        "form.tick_first": N_("Tick that you have read the texts and agree, then send."),
        "form.trap": N_("Leave this field empty: it is there to keep programs out."),
        "form.no_team_name": N_("Give the team a name."),
        "form.no_name": N_("Whose details are these? Give the name, or empty the fields."),
        "form.no_category": N_("Choose the category that this reserve stands in for."),
        "form.no_date": N_("“{given}” is no date. Write it like 2001-04-30 or 30.04.2001."),
        "form.odd_date": N_("“{given}” cannot be a date of birth here. Look at the year."),
        "form.no_guardian": N_(
            "A guardian agrees for somebody under age: give their name and phone number."
        ),
        "form.not_agreed": N_("Without the captain's yes to the texts above nothing can be kept."),
        "form.no_email": N_("“{given}” is no e-mail address. It looks like name@example.org."),
        "form.email_missing": N_("Give an e-mail address: your team's link and news go there."),
        "form.no_captain": N_("Name the captain, or choose somebody else as the captain."),
        "form.no_rank": N_("“{given}” is no rank. Use 1 for the best, or leave it empty."),
        "form.without_place": N_(
            "The make-up of the division has changed, and {count} of your athletes have no place in"
            " it any more. Ask the director before you change anything."
        ),
        "form.too_long": N_("That is {length} characters; at most {most} fit."),
        "team.does_not_fit": N_(
            "{count} of the athletes of {team} would have no place there. Change its line-up first,"
            " or choose another division."
        ),
        "team.has_run": N_(
            "{team} has started heats in its division already and stays in it. Withdraw it there if"
            " it must not go on."
        ),
    }
)
