"""Sentences of what is still open before the day."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "open.workouts": N_(
            "There is no workout yet. Build one, then teams know what they train for."
        ),
        "open.venue": N_("The venue is not written down. Confirm it in writing first."),
        "open.cause": N_("Nobody is named who gets the money. It is the first thing people ask."),
        "open.budget": N_("There is no budget yet. The fee follows from it."),
        "open.address": N_(
            "The address at the venue is not set: printed codes would lead nowhere."
        ),
        "open.entering": N_("Teams cannot enter yet. Set when the form opens and closes."),
        "open.terms": N_(
            "There is no text that athletes agree to. Ask your insurer for the words."
        ),
        "open.waiting": N_(
            "Entry forms that wait for you: {count}. Take teams in, or tell them no."
        ),
        "open.divisions": N_("Nobody has entered in {names}. Invite teams, or take it out."),
        "open.expected": N_(
            "Expected teams in the event: {count}. Put real ones in their place, or let them go."
        ),
        "open.plan": N_("No plan is published. Teams want to know when to be there."),
        "open.rota": N_("Nobody knows yet who judges when. Make the rota."),
        "open.rota_old": N_("The rota was made for an earlier plan. Make it anew."),
        "open.judges": N_(
            "Judges listed: {have}. Needed at once: {wanted}, so {short} are missing. Ask now: "
            "they are the hardest to find."
        ),
        "open.head_judge": N_("There is no head judge. Somebody has to confirm results."),
        "open.kit": N_("No kit is listed, so nobody can say what is short. List what you have."),
        "open.devices": N_("No judge's phone has joined. Print codes, and try one at the venue."),
        "open.guardians": N_("Minors without a guardian named: {count}."),
        "open.places": N_("Places of line-ups that nobody has: {count}. Remind the captains."),
        "open.consents": N_("Athletes who have not agreed to the texts: {count}. Remind them."),
        "open.owing": N_("Teams that have not paid: {count}."),
    }
)
