"""How teams enter, as the director types it: read into settings, limits and the way to pay."""

from collections.abc import Mapping
from datetime import datetime
from urllib.parse import urlsplit

import msgspec
from msgspec.structs import replace

from callroom.model import (
    BadTime,
    CallroomError,
    Event,
    Finding,
    State,
    from_milliseconds,
    milliseconds,
    wall_time,
)
from callroom.model.clock import local_instant
from callroom.model.entering import DEFAULT_ADULT_AGE, Entering
from callroom.model.iban import read_iban
from callroom.model.paying import PayTo
from callroom.web.forms.posted import Posted

MOST_WORDS = 20_000
MOST_ACCOUNT_NAME = 70
"""EPC069-12: the name of the account has at most 70 characters."""
_MOST_TEAMS = 100_000
_SHORT = 200


class EnteringForm(msgspec.Struct, frozen=True, kw_only=True):
    """The settings as text, by field, and what is wrong beside which field."""

    texts: Mapping[str, str]
    faults: Mapping[str, Finding] = {}

    def text(self, name: str) -> str:
        """Return what stands in a field; empty if nothing does."""
        return self.texts.get(name, "")

    def fault(self, name: str) -> Finding | None:
        """Return what is wrong with a field, or None."""
        return self.faults.get(name)


class EnteringRead(msgspec.Struct, frozen=True, kw_only=True):
    """What the form says: the settings, the event with its limits, the way to pay, the faults."""

    entering: Entering
    event: Event
    pay: PayTo
    faults: Mapping[str, Finding]


def entering_form(state: State, event: Event, pay: PayTo) -> EnteringForm:
    """Return the settings as they are."""
    now = state.entering
    texts = {
        "opens": _local(now.opens_ms, event.zone),
        "closes": _local(now.closes_ms, event.zone),
        "adult_age": str(now.adult_age),
        "shirts": ", ".join(now.shirt_sizes),
        "welcome": now.welcome,
        "consent": now.consent,
        "waiver": now.waiver,
        "pay_name": pay.name,
        "iban": pay.iban,
        "bic": pay.bic,
        "pay_words": pay.words,
        "card_link": pay.card_link,
    }
    texts |= {f"limit-{one.id}": str(one.team_limit or "") for one in event.divisions}
    texts |= {f"ages-{one}": "on" for one in now.ages_in}
    if now.accept_each:
        texts["accept_each"] = "on"
    return EnteringForm(texts=texts)


class EnteringReader:
    """Reads the settings' form; what cannot be read is a fault beside its field."""

    def __init__(self, form: Posted, event: Event) -> None:
        """Read `form` for `event`."""
        self._form, self._event = form, event
        self._faults: dict[str, Finding] = {}

    def read(self) -> EnteringRead:
        """Return everything the form says."""
        divisions = tuple(
            replace(one, team_limit=self._whole(f"limit-{one.id}", 0, _MOST_TEAMS))
            for one in self._event.divisions
        )
        entering = Entering(
            opens_ms=self._instant("opens"),
            closes_ms=self._instant("closes"),
            accept_each=self._form.ticked("accept_each"),
            adult_age=self._whole("adult_age", DEFAULT_ADULT_AGE, 99),
            ages_in=tuple(one.id for one in divisions if self._form.ticked(f"ages-{one.id}")),
            shirt_sizes=self._sizes(),
            welcome=self._words("welcome"),
            consent=self._words("consent"),
            waiver=self._words("waiver"),
        )
        event = replace(self._event, divisions=divisions)
        return EnteringRead(entering=entering, event=event, pay=self._pay(), faults=self._faults)

    def _instant(self, name: str) -> int | None:
        text = self._form.text(name)
        if not text:
            return None
        try:
            wall = datetime.fromisoformat(text)
            clock_s = wall.hour * 3600 + wall.minute * 60
            return milliseconds(local_instant(wall.date(), clock_s, self._event.zone))
        except BadTime as fault:
            self._faults[name] = fault.finding()
        except ValueError:
            self._fault(name, "entering.no_moment", given=text[:40])
        return None

    def _whole(self, name: str, usual: int, most: int) -> int:
        text = self._form.text(name)
        if not text:
            return usual
        if not (text.isascii() and text.isdigit() and len(text) < 9 and int(text) <= most):
            self._fault(name, "entering.no_number", given=text[:20], most=most)
            return usual
        return int(text)

    def _sizes(self) -> tuple[str, ...]:
        parts = self._form.text("shirts").replace(";", ",").split(",")
        return tuple(dict.fromkeys(part.strip()[:20] for part in parts if part.strip()))

    def _words(self, name: str) -> str:
        text = self._form.texts.get(name, "").replace("\r\n", "\n").strip()
        if len(text) > MOST_WORDS:
            self._fault(name, "form.too_long", length=len(text), most=MOST_WORDS)
        return text[:MOST_WORDS]

    def _pay(self) -> PayTo:
        name, given = self._form.text("pay_name"), self._form.text("iban")
        if len(name) > MOST_ACCOUNT_NAME or len(name.encode()) > 2 * MOST_ACCOUNT_NAME:
            self._fault("pay_name", "form.too_long", length=len(name), most=MOST_ACCOUNT_NAME)
        iban = ""
        if given:
            try:
                iban = read_iban(given)
            except CallroomError as fault:
                self._faults["iban"] = fault.finding()
            if not name:
                self._fault("pay_name", "pay.no_name")
        bic = "".join(self._form.text("bic").split()).upper()
        if bic and (len(bic) not in {8, 11} or not (bic.isascii() and bic.isalnum())):
            self._fault("bic", "pay.no_bic", given=bic[:20])
        link = self._form.text("card_link")
        parts = urlsplit(link) if link.isascii() else None
        if link and (parts is None or parts.scheme != "https" or not parts.hostname):
            self._fault("card_link", "pay.no_link", given=link[:80])
            link = ""
        words = self._words("pay_words")
        return PayTo(name=name, iban=iban, bic=bic, words=words, card_link=link[: _SHORT * 5])

    def _fault(self, field: str, rule: str, **facts: str | int) -> None:
        found = Finding(rule=rule, severity="error", subject=field, facts=facts)
        self._faults.setdefault(field, found)


def _local(at_ms: int | None, zone: str) -> str:
    if at_ms is None:
        return ""
    return wall_time(from_milliseconds(at_ms), zone).strftime("%Y-%m-%dT%H:%M")
