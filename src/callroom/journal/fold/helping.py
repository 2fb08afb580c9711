"""Folding of helping: whether the sign-up is open, and the offers that wait."""

from callroom.journal.entries import helping_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.helping import HelpOffer


def helping_set(build: Builder, _entry: Entry, body: bodies.HelpingSet) -> None:
    """Open or close the sign-up."""
    build.helping = body.helping
    build.touch("helping")


def help_offered(build: Builder, entry: Entry, body: bodies.HelpOffered) -> None:
    """Keep an offer until the director answers it."""
    offer = HelpOffer(member=body.member, seq=entry.seq, at_ms=entry.at_ms)
    build.offers.put(body.member.person, offer)


def offer_ended(build: Builder, _entry: Entry, body: bodies.OfferEnded) -> None:
    """Let go of an offer."""
    build.offers.drop(body.person)
