"""Account numbers as banks write them: read, checked, and written in groups."""

import re

from callroom.model.errors import CallroomError

_FORM = re.compile(r"[A-Z]{2}\d{2}[A-Z0-9]{11,30}")


class BadIban(CallroomError):
    """A text that is no account number, or has a digit wrong (``pay.iban``: `given`)."""


def read_iban(text: str) -> str:
    """Return an international bank account number without blanks.

    The two check digits make the whole, with its first four signs moved to the end and letters
    as numbers from 10, leave 1 when divided by 97. Source: ISO 13616-1 with ISO 7064, MOD 97-10.

    Raises
    ------
    BadIban
        If it has another form, or the check digits do not fit.
    """
    plain = "".join(text.split()).upper()
    if not _FORM.fullmatch(plain) or int(_as_number(plain[4:] + plain[:4])) % 97 != 1:
        raise BadIban("pay.iban", given=text.strip()[:50])
    return plain


def spaced_iban(iban: str) -> str:
    """Return an account number in groups of four, as it is printed."""
    return " ".join(iban[start : start + 4] for start in range(0, len(iban), 4))


def _as_number(text: str) -> str:
    return "".join(str(int(sign, 36)) for sign in text)
