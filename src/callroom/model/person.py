"""People: everything personal, kept outside the journal under an id and erasable."""

from datetime import date
from typing import Literal

import msgspec

EVERYONE = "*"
"""Stands for all people where one is named; no id of a person."""


class Agreed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """An agreement to the terms of that number: when [ms since 1970, UTC], and who gave it.

    ``captain``: the captain said on the form that the athlete agrees.
    """

    terms: int
    at_ms: int
    by: Literal["self", "captain", "guardian"]


class Person(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a book knows of one person; shown on private pages only.

    Attributes
    ----------
    name
        As the person wants to be called out.
    email, phone
        How to reach them, as given.
    emergency_contact
        Whom to call, and their number, as given.
    birth_date
        For age on the day of the event; None: not asked.
    waiver
        How and when it was signed, in the desk's words; empty: not yet.
    agreed
        The terms they agreed to on a page; None: none.
    minor
        Somebody said that they are not of age on the day; counts where no birth date is known.
    guardian
        Who is responsible for a minor, with their number, as given.
    shirt
        The size of their shirt.
    medical_note
        What first aid should know, in the person's words.
    ask_again
        They agreed to be asked again next year, and so to be kept in next year's book.
    """

    name: str
    email: str = ""
    phone: str = ""
    birth_date: date | None = None
    emergency_contact: str = ""
    waiver: str = ""
    medical_note: str = ""
    ask_again: bool = False
    agreed: Agreed | None = None
    minor: bool = False
    guardian: str = ""
    shirt: str = ""


class Note(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Free text about a person, with who wrote it and when [ms since 1970, UTC]."""

    text: str
    author: str
    at_ms: int
