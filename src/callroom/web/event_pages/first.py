"""The first questions of a new director: a form, read into answers and teams expected."""

from collections.abc import Mapping
from gettext import NullTranslations

import msgspec

from callroom.bootstrap.event_asking import KINDS, Answers, FaultyEvent, first_event
from callroom.model import Event, Finding
from callroom.web.forms.posted import Posted

MOST_TEAMS = 400
USUAL: Mapping[str, str] = {
    "start": "09:00",
    "finish_by": "16:30",
    "currency": "EUR",
    "lanes": "6",
    "yard_lanes": "0",
    "teams": "24",
    "kind~fours": "fours",
}
# The question that asks for a key of the event file.
_ASKED: Mapping[str, str] = {
    "event": "name",
    "event.name": "name",
    "event.day": "day",
    "event.zone": "zone",
    "event.start": "start",
    "event.venue": "venue",
    "event.cause": "cause",
    "event.currency": "currency",
    "wishes.finish_by": "finish_by",
    "wishes.first_heat": "start",
    "floors.main.lanes": "lanes",
    "floors.yard.lanes": "yard_lanes",
    "divisions": "kinds",
    "categories": "kinds",
}


class FirstForm(msgspec.Struct, frozen=True, kw_only=True):
    """What is typed, by field, and what is wrong beside what."""

    texts: Mapping[str, str]
    faults: Mapping[str, Finding] = {}

    def text(self, name: str) -> str:
        """Return what stands in a field; empty if nothing does."""
        return self.texts.get(name, "")

    def fault(self, name: str) -> Finding | None:
        """Return what is wrong with a field, or None."""
        return self.faults.get(name)


class FirstRead(msgspec.Struct, frozen=True, kw_only=True):
    """A sound first event, and how many teams are expected by division."""

    event: Event
    expected: Mapping[str, int]


def read_first(form: Posted, language: str, words: NullTranslations) -> FirstRead | FirstForm:
    """Return the event that the answers make, or the form with everything that is wrong in it."""
    faults: dict[str, Finding] = {}
    lanes = _whole(form, "lanes", 1, 200, faults)
    yard = _whole(form, "yard_lanes", 0, 200, faults)
    teams = _whole(form, "teams", 0, MOST_TEAMS, faults)
    divisions = tuple(one for one in KINDS if form.ticked(f"kind~{one}"))
    if not divisions:
        faults["kinds"] = _fault("kinds", "first.no_division")
    if not form.text("name"):
        faults["name"] = _fault("name", "first.no_name")
    answers = Answers(
        **{name: form.text(name) for name in ("name", "day", "zone", "start", "finish_by")},
        **{name: form.text(name) for name in ("venue", "cause")},
        currency=form.text("currency").upper(),
        language=language,
        lanes=lanes or 1,
        yard_lanes=yard,
        divisions=divisions or ("fours",),
    )
    try:
        event = first_event(answers, words.gettext)
    except FaultyEvent as fault:
        for finding in fault.findings:
            facts = {k: v for k, v in finding.facts.items() if k not in {"file", "row", "column"}}
            wanted = f"{finding.subject}.{facts.get('wanted', '')}"
            name = _ASKED.get(wanted) or _ASKED.get(finding.subject, "name")
            faults.setdefault(name, msgspec.structs.replace(finding, facts=facts))
        return FirstForm(texts=form.texts, faults=faults)
    if faults:
        return FirstForm(texts=form.texts, faults=faults)
    return FirstRead(event=event, expected=_shared(teams, divisions))


def _shared(teams: int, divisions: tuple[str, ...]) -> Mapping[str, int]:
    """Return the teams shared evenly, the first divisions taking what is left over."""
    each, more = divmod(teams, len(divisions))
    return {one: each + (number < more) for number, one in enumerate(divisions)}


def _whole(form: Posted, name: str, least: int, most: int, faults: dict[str, Finding]) -> int:
    value = form.whole(name)
    if value is None or not least <= value <= most:
        faults[name] = _fault(
            name, "first.no_number", given=form.text(name)[:20], least=least, most=most
        )
        return least
    return value


def _fault(name: str, rule: str, **facts: str | int) -> Finding:
    return Finding(rule=rule, severity="error", subject=name, facts=facts)
