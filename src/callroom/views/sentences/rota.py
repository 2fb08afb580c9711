"""What the rota says: what is short and when, and in what a rota breaks a rule."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # What the rota has to say of the crew.
        "rota.short": N_(
            "From {from_at_s} to {until_at_s} there are too few for the post {post}: at the worst"
            " moment {missing} of {wanted} are missing, and {able} people could do it then. Ask"
            " for more helpers for that time, or leave a lane empty."
        ),
        "rota.nobody_can": N_(
            "Nobody in the crew can do the post {post}, which needs {wanted} at once. Find"
            " somebody, or write the post beside the name of someone who can."
        ),
        "rota.debt_left": N_(
            "Team {team} owes {heats} heats of judging; {left} of them found no place in the rota."
        ),
        "rota.debtor_unknown": N_(
            "Team {team} owes {heats} heats of judging, but nobody in the crew is there for it."
            " Ask its captain for a name."
        ),
        "rota.more_people_would_do": N_(
            "With {people} more for the post {post}, there all day, nothing of it stays open."
        ),
        "rota.longer_rows_would_help": N_(
            "With up to {heats} heats in a row before a break, {left} lanes stay without a judge."
        ),
        "rota.idle": N_("Volunteer {person} has nothing to do yet."),
        # A rota against the day.
        "check.rota_shift_unknown": N_("The shift {shift} is held but not listed. Take it out."),
        "check.rota_shift_doubled": N_(
            "The shift {shift} is held by {people} people. Leave it to one."
        ),
        "check.rota_person_unknown": N_(
            "The shift {shift} is held by {person}, who is not in the crew."
        ),
        "check.rota_two_places": N_(
            "{person} would hold the shift {shift} while still holding {other}. Move one of them."
        ),
        "check.rota_own_team": N_(
            "{person} would judge team {team} in the shift {shift}, their own or their family's."
            " Give the lane to somebody else."
        ),
        "check.rota_competing": N_(
            "{person} competes in heat {heat} and cannot hold the shift {shift}."
        ),
        "check.rota_not_there": N_(
            "{person} is not there for all of the shift {shift} ({start_at_s} to {end_at_s})."
        ),
        "check.rota_too_close_to_heat": N_(
            "{person} has the shift {shift} while warming up for heat {heat}, or resting from it."
        ),
        "check.rota_no_time_to_walk": N_(
            "{person} has {given_s} to walk from the shift {other} to the shift {shift}; {needed_s}"
            " were wished."
        ),
        "check.rota_cannot": N_(
            "{person} holds the shift {shift} and did not offer the post {post}."
        ),
        "check.rota_not_experienced": N_(
            "{person} has the shift {shift}; workout {workout} was to be judged by the experienced"
            " only."
        ),
        "check.rota_no_break": N_(
            "{person} judges {heats} heats in a row with the shift {shift}; a break was wished"
            " after {most}."
        ),
        "check.rota_lane_open": N_("Heat {heat}: lane {lane} has no judge for seat {seat}."),
        "check.rota_post_open": N_("The post {post} is empty from {start_at_s} to {end_at_s}."),
        "check.rota_debt_left": N_(
            "Team {team} owes {heats} heats of judging, and judges {judged}."
        ),
        "check.rota_other_revision": N_(
            "The rota is for revision {said} of the plan; the plan is at revision {revision}. Make"
            " the rota again."
        ),
        "check.rota_own_gym": N_("{person} judges a team of their own gym, {gym}: {times} times."),
        "check.rota_alone": N_(
            "Heat {heat}, lane {lane}: {person} judges for the first time and has nobody"
            " experienced in the next lane."
        ),
    }
)
