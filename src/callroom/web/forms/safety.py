"""Forms about safety: the venue's facts, a reading of the weather, an incident."""

from callroom.model import BadInput, Event, Finding, from_milliseconds, milliseconds, wall_time
from callroom.model.clock import local_instant, parse_clock
from callroom.model.safety import (
    AREA_USES,
    INCIDENT_SORTS,
    Area,
    AreaUse,
    Exit,
    IncidentSort,
    SafetyFacts,
    Weather,
)
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted

MOST_ROWS = 30
BLANK_ROWS = 3
_LONGEST_NAME = 80
_LONGEST_PLACE = 200


def read_facts(form: Posted) -> SafetyFacts:
    """Return the facts as typed.

    Raises
    ------
    BadInput
        With every figure that cannot be read, each under the name of its field.
    """
    reader = _Reader(form)
    facts = SafetyFacts(
        areas=tuple(reader.areas()),
        exits=tuple(reader.exits()),
        spectators=reader.figure("spectators"),
        sprinklered=form.ticked("sprinklered"),
        first_aiders=reader.figure("first_aiders") or 0,
        first_aid_place=reader.place("first_aid_place"),
        aed_place=reader.place("aed_place"),
        aed_walk_s=reader.figure("aed_walk_s"),
        emergency_number=reader.place("emergency_number"),
        ambulance_entry=reader.place("ambulance_entry"),
        assembly_point=reader.place("assembly_point"),
        shelter=reader.place("shelter"),
        lost_children_place=reader.place("lost_children_place"),
        wet_ground=reader.place("wet_ground"),
        alarm=reader.place("alarm"),
        alcohol=form.ticked("alcohol"),
        minors=form.ticked("minors"),
        used_to_heat=form.ticked("used_to_heat"),
    )
    reader.end()
    return facts


def read_weather(form: Posted, event: Event, now_ms: int) -> Weather:
    """Return a reading, or (with a time to come) a forecast, as typed.

    Raises
    ------
    BadInput
        With every figure that cannot be read, and if nothing was typed at all.
    """
    reader = _Reader(form)
    if form.text("floor") not in {floor.id for floor in event.floors}:
        reader.fault("safety.floor_unknown", "floor", given=form.text("floor")[:_LONGEST_NAME])
    at_ms = time_typed(form.text("at"), event, now_ms)
    weather = Weather(
        floor=form.text("floor"),
        at_ms=at_ms,
        forecast=at_ms > now_ms,
        air_c10=reader.tenths("air", -500, 600),
        humidity_percent=reader.figure("humidity", 100),
        wet_bulb_c10=reader.tenths("wet_bulb", -500, 500),
        globe_c10=reader.tenths("globe", -500, 900),
        gust_m_s10=reader.tenths("gust", 0, 1000),
        thunder=form.ticked("thunder"),
    )
    read = (weather.air_c10, weather.wet_bulb_c10, weather.globe_c10, weather.gust_m_s10)
    if all(one is None for one in read) and not weather.thunder:
        reader.fault("safety.no_reading", "air")
    reader.end()
    return weather


def read_sort(form: Posted) -> IncidentSort:
    """Return of which sort an incident is; Unreadable if the page never offered it."""
    given = form.text("sort")
    if given not in INCIDENT_SORTS:
        raise Unreadable("web.unknown_button", given=given[:_LONGEST_NAME])
    return given


def time_typed(typed: str, event: Event, now_ms: int) -> int:
    """Return a time of today on the event's wall clock [ms, UTC]; now if none was typed."""
    if not typed:
        return now_ms
    today = wall_time(from_milliseconds(now_ms), event.zone).date()
    return milliseconds(local_instant(today, parse_clock(typed), event.zone))


class _Reader:
    """Reads one field after the other, notes faults and goes on."""

    def __init__(self, form: Posted) -> None:
        self._form = form
        self._faults: list[Finding] = []

    def fault(self, rule: str, subject: str, **facts: str | int) -> None:
        self._faults.append(Finding(rule=rule, severity="error", subject=subject, facts=facts))

    def end(self) -> None:
        if self._faults:
            raise BadInput(tuple(self._faults))

    def place(self, name: str) -> str:
        return " ".join(self._form.text(name).split())[:_LONGEST_PLACE]

    def figure(self, name: str, most: int = 1_000_000) -> int | None:
        if not self._form.text(name):
            return None
        value = self._form.whole(name)
        if value is None or value > most:
            self.fault("safety.no_figure", name, given=self._form.text(name)[:20], most=most)
            return None
        return value

    def tenths(self, name: str, least: int, most: int) -> int | None:
        text = self._form.text(name).replace(",", ".").replace("−", "-")
        if not text:
            return None
        whole, _, rest = text.lstrip("-").partition(".")
        if (
            not (whole.isascii() and whole.isdigit() and len(whole) < 4)
            or len(rest) > 1
            or (rest and not (rest.isascii() and rest.isdigit()))
        ):
            self.fault("safety.no_tenths", name, given=text[:20])
            return None
        value = int(whole) * 10 + int(rest or 0)
        value = -value if text.startswith("-") else value
        if not least <= value <= most:
            self.fault("safety.no_tenths", name, given=text[:20])
            return None
        return value

    def areas(self) -> list[Area]:
        found = []
        for row in range(MOST_ROWS):
            name, size = self.place(f"area-{row}-name"), self.figure(f"area-{row}-size")
            use = self._form.text(f"area-{row}-use")
            if name and size is None and not self._form.text(f"area-{row}-size"):
                self.fault("safety.size_missing", f"area-{row}-size", name=name)
            elif size is not None:
                chosen: AreaUse = use if use in AREA_USES else "standing"
                found.append(Area(name=name[:_LONGEST_NAME] or use, use=chosen, area_m2=size))
        return found

    def exits(self) -> list[Exit]:
        found = []
        for row in range(MOST_ROWS):
            name, width = self.place(f"exit-{row}-name"), self.figure(f"exit-{row}-width")
            if name and width is None and not self._form.text(f"exit-{row}-width"):
                self.fault("safety.width_missing", f"exit-{row}-width", name=name)
            elif width is not None:
                # Typed in centimetres: nobody measures a door in millimetres.
                stairs = self._form.ticked(f"exit-{row}-stairs")
                found.append(Exit(name=name[:_LONGEST_NAME], width_mm=width * 10, stairs=stairs))
        return found
