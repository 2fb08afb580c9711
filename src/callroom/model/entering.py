"""Entering: when teams may enter, what they are asked, and the entry forms they sent."""

from typing import Annotated, Literal

import msgspec

from callroom.model.team import Team

DEFAULT_ADULT_AGE = 18
"""From this age people sign for themselves; common, but the local law decides."""

Text = Annotated[str, msgspec.Meta(max_length=20_000)]


class Entering(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How teams enter. What is asked of them is what the day needs, and no more.

    Attributes
    ----------
    opens_ms, closes_ms
        Between which instants teams enter and change their entry themselves [ms since 1970,
        UTC]; None: not at all, and until the day begins.
    accept_each
        The director accepts each entry; otherwise a team is in as long as there is room.
    adult_age
        From this age on the day of the event an athlete signs for themself; below it a
        guardian does. The local law decides.
    ages_in
        The divisions that need birth dates, by id.
    shirt_sizes
        Which sizes may be chosen; empty: nobody is asked.
    welcome
        What stands above the form: who may enter, what the fee is for.
    consent, waiver
        What athletes agree to about their details, and about taking part, in the words the
        director supplies; empty: they are not asked.
    """

    opens_ms: int | None = None
    closes_ms: int | None = None
    accept_each: bool = False
    adult_age: Annotated[int, msgspec.Meta(ge=0, le=99)] = DEFAULT_ADULT_AGE
    ages_in: tuple[str, ...] = ()
    shirt_sizes: tuple[str, ...] = ()
    welcome: Text = ""
    consent: Text = ""
    waiver: Text = ""

    def is_open(self, now_ms: int, day_ms: int) -> bool:
        """Whether teams may enter and change at `now_ms`; the day begins at `day_ms` [ms, UTC]."""
        until_ms = day_ms if self.closes_ms is None else self.closes_ms
        return self.opens_ms is not None and self.opens_ms <= now_ms < until_ms


class Terms(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The texts that athletes agree to, as they stood from entry `seq` on; numbered from 1."""

    number: int
    seq: int
    at_ms: int
    consent: str
    waiver: str


Outcome = Literal["in", "waiting"]


class Enrolment(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """An entry form that a team sent, and what became of it.

    Attributes
    ----------
    team
        The team as it is now; once it is ``in``, it stands among the teams under the same id.
    seq, at_ms
        The entry that brought it, which is its turn on the waiting list, and when [ms, UTC].
    status
        ``in`` the event, ``waiting`` for the director or for a place, or over: ``withdrawn``
        by the team, ``declined`` by the director.
    """

    team: Team
    seq: int
    at_ms: int
    status: Literal["in", "waiting", "withdrawn", "declined"]


def next_team_id(taken: set[str]) -> str:
    """Return the first id for a team that is not taken: ``"T07"``."""
    number = 1
    while f"T{number:02}" in taken:
        number += 1
    return f"T{number:02}"
