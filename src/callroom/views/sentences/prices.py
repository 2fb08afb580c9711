"""What the rules of a day cost, what differs between two plans, why nothing ends earlier."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # The price of one change.
        "price.earlier": N_("The day is then over at {finish_at_s}, {by_s} earlier."),
        "price.later": N_("The day is then over at {finish_at_s}, {by_s} later."),
        "price.same": N_("The day is then over at {finish_at_s}, as before."),
        "price.about": N_(
            "The day is then over at {finish_at_s}, perhaps earlier, but not before {bound_at_s}."
        ),
        "price.impossible": N_("The day cannot be done so."),
        "price.undecided": N_("? No plan was found in the time given."),
        # Two plans.
        "compare.finish_earlier": N_("The day is over at {finish_at_s}, {by_s} earlier."),
        "compare.finish_later": N_("The day is over at {finish_at_s}, {by_s} later."),
        "compare.finish_same": N_("Both days are over at {finish_at_s}."),
        "compare.longest_wait": N_("The longest wait was {before_s} and becomes {after_s}."),
        "compare.waits": N_(
            "{longer} teams wait longer, by {most_longer_s} at most; {shorter} wait less."
        ),
        "compare.moved": N_(
            "{heats} heats with {teams} teams are at another time or on another floor, moved by"
            " {most_s} at most."
        ),
        "compare.other_company": N_("{teams} teams are in heats with other companions."),
        "compare.spare_lanes": N_(
            "Lanes that can be lost before a workout needs another heat: {before} before, {after}"
            " now."
        ),
        "compare.nothing": N_("The two plans are the same."),
        # Why nothing is over earlier.
        "certificate.floor": N_(
            "Floor {floor} carries {heats} heats, {work_s} of work and {changeovers_s} of"
            " changeovers, from {from_at_s} on: nothing is over before {finish_at_s}."
        ),
        "certificate.chain": N_(
            "Work and rest of division {division} from workout {workout} on, one after the other,"
            " take until {finish_at_s}."
        ),
        "certificate.stretches": N_(
            "Floor {floor} carries {heats} heats, {work_s} of work and {changeovers_s} of"
            " changeovers, from {from_at_s} on. However they are laid between the pauses, nothing"
            " is over before {finish_at_s}."
        ),
        "certificate.choice": N_(
            "However the heats are shared between the floors, nothing is over before {finish_at_s}."
        ),
        "certificate.reached": N_("The plan is over at {finish_at_s}: no plan can be earlier."),
        "certificate.above": N_(
            "The plan is over at {finish_at_s}, {over_s} after that; a plan in between is not ruled"
            " out by this count."
        ),
    }
)
