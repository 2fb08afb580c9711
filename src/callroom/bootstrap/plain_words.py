"""Passphrases that anybody would try first."""

from collections.abc import Iterable

LEAST_DIFFERENT = 5
"""Different signs a passphrase needs: fewer are a row of the same."""

# Long ones among those that leaked lists have in front, from memory, with figures cut off.
_COMMON = frozenset(
    {
        "password", "passwort", "contraseña", "motdepasse", "qwertyuiop", "qwerty", "asdfghjkl",
        "iloveyou", "letmein", "welcome", "administrator", "admin", "changeme", "football",
        "baseball", "superman", "sunshine", "princess", "trustno", "abc", "callroom", "director",
        "competition", "qazwsxedc", "zxcvbnm", "correcthorsebatterystaple",
    }
)  # fmt: skip
_ROWS = ("01234567890123456789", "98765432109876543210", "abcdefghijklmnopqrstuvwxyz")


def is_plain(text: str, context: Iterable[str] = ()) -> bool:
    """Whether `text` is among the first that would be tried.

    One common word with figures behind it, a row of keys, a few signs over and over, or nothing
    but what stands on every page: `context` has the names of the event.
    """
    bare = "".join(sign for sign in text.casefold() if sign.isalnum())
    if len(set(bare)) < LEAST_DIFFERENT or any(bare in row for row in _ROWS):
        return True
    without_figures = bare.strip("0123456789")
    said = {"".join(sign for sign in one.casefold() if sign.isalnum()) for one in context}
    return without_figures in _COMMON | {one.strip("0123456789") for one in said if one}
