"""From a refusal to an answer: one table of statuses, one shape."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import msgspec
from litestar.exceptions import HTTPException

from callroom.model import (
    BadInput,
    BadTime,
    CallroomError,
    Finding,
    NotAllowed,
    NotFound,
    Refusal,
    Stale,
)
from callroom.views.codes import BadCode
from callroom.web.throttle import TooOften


class NotSignedIn(NotAllowed):
    """Only somebody who joined or signed in may see or do this."""


class NeedsPrivacy(NotAllowed):
    """Only at the machine itself or over TLS: here others could read along."""


class Forged(NotAllowed):
    """A form without the token that its page was given."""


class Unreadable(CallroomError):
    """What was typed or sent cannot be read; the facts say which field and what was given."""


# The first class that fits decides, so particular ones stand before general ones.
BY_CLASS: tuple[tuple[type[CallroomError], int], ...] = (
    (NotSignedIn, 401),
    (NotAllowed, 403),
    (Stale, 409),
    (TooOften, 429),
    (BadInput, 422),
    (Unreadable, 422),
    (BadTime, 422),
    (BadCode, 404),
    (NotFound, 404),
    (Refusal, 409),
)
# Rules of packages whose classes the pages do not import, or that say more than their class.
BY_RULE: Mapping[str, int] = MappingProxyType(
    {
        "guesses.too_many": 429,
        "passphrase.wrong": 403,
        "passphrase.none": 403,
        "passphrase.length": 422,
        "code.unknown": 404,
        "code.expired": 410,
        "web.no_page": 404,
        "web.wrong_method": 405,
        "web.unreadable": 400,
        "web.too_long": 413,
        "web.broken": 500,
        "journal.key_conflict": 409,
        "journal.bad_name": 422,
        "journal.bad_time": 422,
        "journal.data_bad": 422,
        "carry.superseded": 503,
        "book.away": 503,
        "journal.not_stored": 503,
        "journal.closed": 503,
        "journal.read_only": 503,
    }
)
_HTTP_RULES: Mapping[int, str] = MappingProxyType(
    {404: "web.no_page", 405: "web.wrong_method", 413: "web.too_long"}
)


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """The one shape of an error: the rule, its facts, and the sentence a person reads.

    `findings` has every fault of what was handed in, in the same shape with its severity,
    subject and source.
    """

    rule: str
    facts: Mapping[str, Any]
    sentence: str
    findings: tuple[Mapping[str, Any], ...] = ()


def status_of(fault: CallroomError) -> int:
    """Return the HTTP status of a refusal; 422 for what no line of the tables fits."""
    if fault.rule in BY_RULE:
        return BY_RULE[fault.rule]
    return next((status for kind, status in BY_CLASS if isinstance(fault, kind)), 422)


def findings_of(fault: CallroomError) -> tuple[Finding, ...]:
    """Return everything a refusal has to say."""
    return fault.findings if isinstance(fault, BadInput) else (fault.finding(),)


def as_refusal(fault: Exception) -> CallroomError:
    """Return what went wrong as a refusal; the inside of a fault of ours is not shown."""
    if isinstance(fault, CallroomError):
        return fault
    if isinstance(fault, HTTPException):
        rule = _HTTP_RULES.get(fault.status_code)
        if rule is None:
            rule = "web.unreadable" if fault.status_code < 500 else "web.broken"
        return CallroomError(rule)
    return CallroomError("web.broken")
