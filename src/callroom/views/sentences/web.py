"""Sentences for what a page or a form could not take."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "score.typed_differently": N_(
            "Team {team}, workout {workout}, part {part}: the first person typed something else, or"
            " nothing. Look at the card together; what stands here now will count."
        ),
        "clock.no_floor": N_("There is no floor {floor} in this event. Choose one from the list."),
        "copy.no_folder": N_("{folder} cannot be made or read: {reason}. Name another folder."),
        "copy.not_ours": N_(
            "{folder} holds other things than a copy of the public pages. Name an empty folder."
        ),
        "web.no_page": N_("There is no such page. Check the address, or begin at the start page."),
        "web.wrong_method": N_("This address does not take that. Begin at the start page."),
        "web.unreadable": N_("What was sent cannot be read. Open the page again and repeat it."),
        "web.too_long": N_("What was sent is too long. Send less at once."),
        "web.broken": N_(
            "Something went wrong on our side. What you sent may not be stored: look before you"
            " send it again."
        ),
        "web.too_often": N_("That was too often in a short time. Try again in {wait_s}."),
        "web.forged": N_(
            "This form does not come from a page that this browser was given, or it is from"
            " before you signed in. Open the page again and repeat it."
        ),
        "web.not_signed_in": N_(
            "Only a device that has joined may see or do this. Ask the director for a code."
        ),
        "web.other_role": N_("This device has joined as {role}, and that role may not do this."),
        "web.not_director": N_("Only the director may see this. Sign in with the passphrase."),
        "web.first_here": N_(
            "The first passphrase is set in a browser on the machine that holds the book: "
            "whoever sets it is the director."
        ),
        "web.first_by_command": N_(
            "This book is hosted, so its first passphrase is set on the server itself: stop it, and "
            "run callroom passphrase with the book."
        ),
        "web.needs_privacy": N_(
            "Over this network others could read along. Open this page on the machine that runs"
            " Callroom, at localhost, or over a secured connection."
        ),
        "web.no_key": N_(
            "A request needs an Idempotency-Key of at most 200 characters, so that sending it"
            ' twice stores it once; this one has "{given}".'
        ),
        "web.unknown_button": N_('"{given}" is nothing this page can do. Open the page again.'),
        "web.codes_impossible": N_(
            'Codes can be made for a role that joins, 1 to {most} at once; "{given}" was asked for.'
        ),
        "web.assets_missing": N_(
            "The browser's stylesheets and scripts are not in {folder}. Run: make frontend"
        ),
        "passphrase.differs": N_("The two passphrases are not the same. Type both again."),
        "entry.empty": N_("Nothing was typed. Type the result, or choose why there is none."),
        "entry.no_heat": N_(
            "{team} has no heat in {workout} in the plan, so a score has nowhere to go."
            " Publish a plan with a heat for the team first."
        ),
        "entry.time_unreadable": N_('"{given}" is no time. Type minutes and seconds: 7:32.'),
        "entry.count_unreadable": N_('"{given}" is no whole number. Type digits only.'),
        "entry.amounts_unreadable": N_(
            '"{given}" is no amount. Type a whole number, or one for each round: 21-15-9.'
        ),
        "amend.movement_unknown": N_('There is no movement "{given}". Choose one of the list.'),
        "amendment.unknown": N_("There is no amendment {number}. Look at the list again."),
        "entry.load_unreadable": N_(
            '"{given}" is no load. Type a number, with kg or lb behind it if it is in the other'
            " unit."
        ),
        "entry.past_cap": N_(
            "{given_ms} is past the cap of {cap_s}. If the team was stopped, leave the time empty"
            " and type the work done."
        ),
        "entry.split_past_cap": N_(
            "The tie-break split {given_ms} is past the cap of {cap_s}. Look at the card."
        ),
        "entry.result_missing": N_(
            "Something is marked here, but no result is typed. Type it, or choose why there is none."
        ),
        "entry.time_and_work": N_(
            "There is a finish time and work done. A team that finished has a time only; one that"
            " was stopped by the cap has the work only."
        ),
        "entry.ending_and_result": N_(
            "A result is typed, and also a reason why there is none. Take one of them away."
        ),
        "entry.rounds_differ": N_(
            "The rounds and counts make {rounds}, but the total says {given}. Check the card."
        ),
        "entry.more_than_all": N_(
            "{given} is more than all there is to do, {most}. Check the card."
        ),
    }
)
