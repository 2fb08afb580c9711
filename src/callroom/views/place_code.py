"""A short code for where a server answers, to be typed into a phone that has lost it.

``http://192.168.1.21:8000`` is 32 bits of address and 16 of port: ten characters of the
alphabet of the cards' codes, and a check character. A phone reads it without asking anybody,
so the code works when the old address is dead and nothing else tells the new one.
"""

from ipaddress import IPv4Address
from urllib.parse import urlsplit

from callroom.views.codes import ALPHABET, BadCode

_BODY = 10
_READ_AS = str.maketrans({"S": "5", "U": "V"})
# Different weights, none a multiple of 29: see callroom.views.codes.
_WEIGHTS = range(2, 2 + _BODY)


def place_code(address: str) -> str:
    """Return the code of an address in three groups; empty for one that has none.

    Only plain http at a numbered address has a code: that is what a hall without a name
    service has.
    """
    parts = urlsplit(address)
    try:
        number = int(IPv4Address(parts.hostname or "")) << 16 | (parts.port or 80)
    except ValueError:
        return ""
    if parts.scheme != "http":
        return ""
    body = ""
    for _ in range(_BODY):
        number, sign = divmod(number, len(ALPHABET))
        body += ALPHABET[sign]
    code = body + _check(body)
    return f"{code[:4]}-{code[4:8]}-{code[8:]}"


def read_place(typed: str) -> str:
    """Return the address that a code stands for, typed in any case and spacing.

    Raises
    ------
    BadCode
        If it is none.
    """
    signs = "".join(sign for sign in typed.upper() if sign.isalnum()).translate(_READ_AS)
    wrong = next((sign for sign in signs if sign not in ALPHABET), "")
    if wrong or len(signs) != _BODY + 1:
        raise BadCode("code.unreadable", given=typed, wrong=wrong)
    body, check = signs[:_BODY], signs[_BODY:]
    number = 0
    for sign in reversed(body):
        number = number * len(ALPHABET) + ALPHABET.index(sign)
    if _check(body) != check or number >> 48:
        raise BadCode("code.mistyped", given=typed)
    return f"http://{IPv4Address(number >> 16)}:{number & 0xFFFF}"


def _check(body: str) -> str:
    total = sum(w * ALPHABET.index(sign) for w, sign in zip(_WEIGHTS, body, strict=True))
    return ALPHABET[-total % len(ALPHABET)]
