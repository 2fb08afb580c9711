"""The timetable as iCalendar: for everybody, or for one team with its lanes.

Source of the form: RFC 5545, Internet Calendaring and Scheduling Core Object Specification,
IETF, 2009. The ``icalendar`` library writes it; here it is decided what is in it.
"""

from collections.abc import Callable, Collection, Mapping
from datetime import datetime, timedelta

import icalendar
import msgspec

from callroom.exchange.faults import is_unseen
from callroom.model import Event, Heat, Pause, Plan, Team
from callroom.model.clock import zone_of
from callroom.model.words import N_

PRODUCT = "-//Callroom//timetable//EN"

Say = Callable[[str], str]


class Beside(msgspec.Struct, frozen=True, kw_only=True):
    """Something public beside the heats: its id and time [s from the day's start], its place."""

    id: str
    name: str
    place: str
    start_s: int
    end_s: int


class Timetable(msgspec.Struct, frozen=True, kw_only=True):
    """What a calendar is made from.

    Attributes
    ----------
    stamped_at
        When the plan was published, with its zone: the moment every entry is stamped with,
        so that the same plan always gives the same file.
    hidden
        Workouts that are not released yet: their names do not leave the house.
    beside
        What is on beside the heats.
    """

    event: Event
    plan: Plan
    teams: Mapping[str, Team]
    stamped_at: datetime
    hidden: Collection[str] = ()
    beside: tuple[Beside, ...] = ()
    rehearsal: bool = False


def event_calendar(timetable: Timetable, say: Say = str) -> bytes:
    """Return a calendar with every heat and pause of the day, in the words of `say`."""
    writer = _Writer(timetable, say)
    calendar = writer.calendar(timetable.event.name)
    for heat in timetable.plan.heats:
        calendar.add_component(writer.heat(heat))
    return writer.finished(calendar)


def team_calendar(timetable: Timetable, team_id: str, say: Say = str) -> bytes:
    """Return a calendar of one team's heats, with lanes and reporting times, and the pauses.

    An entry keeps its identity when a heat moves, so a calendar that is loaded again moves
    with it.
    """
    writer = _Writer(timetable, say)
    team = timetable.teams[team_id]
    name = say(N_("{team} at {event}")).format(team=team.name, event=timetable.event.name)
    calendar = writer.calendar(name)
    for heat in timetable.plan.day_of(team_id):
        calendar.add_component(writer.team_heat(heat, team_id))
    return writer.finished(calendar)


class _Writer:
    """Makes the entries of one timetable in one language."""

    def __init__(self, timetable: Timetable, say: Say) -> None:
        self.timetable = timetable
        self.event = timetable.event
        self.zone = zone_of(timetable.event.zone)
        self.say = say

    def calendar(self, name: str) -> icalendar.Calendar:
        calendar = icalendar.Calendar()
        calendar.add("prodid", PRODUCT)
        calendar.add("version", "2.0")
        calendar.add("method", "PUBLISH")
        calendar.add("name", _seen(self.marked(name)))
        for pause in self.timetable.plan.pauses or self.event.wishes.pauses:
            calendar.add_component(self.pause(pause))
        for one in self.timetable.beside:
            calendar.add_component(self.beside(one))
        return calendar

    def finished(self, calendar: icalendar.Calendar) -> bytes:
        # The changes of the clocks from 1970 to 2038, as by default, would be most of the file,
        # and would end before some events.
        around = timedelta(days=400)
        calendar.add_missing_timezones(self.event.day - around, self.event.day + around)
        return bytes(calendar.to_ical())

    def heat(self, heat: Heat) -> icalendar.Event:
        title = self.say(N_("{workout}, heat {number}")).format(
            workout=self.workout_name(heat.workout), number=heat.number
        )
        lane = self.say(N_("Lane {lane}: {team}"))
        lines = [
            lane.format(lane=place.lane, team=self.team_name(place.team)) for place in heat.lanes
        ]
        entry = self.entry(f"heat/{heat.id}", heat.start_s, heat.end_s)
        return self.described(entry, title, heat.floor, lines)

    def team_heat(self, heat: Heat, team_id: str) -> icalendar.Event:
        workout = self.event.workout(heat.workout)
        title = self.say(N_("{workout}: heat {number}, lane {lane}")).format(
            workout=self.workout_name(workout.id),
            number=heat.number,
            lane=heat.lane_of(team_id),
        )
        wishes = self.event.wishes
        times = [(N_("Report by {time}."), self.event.report_ahead_s(workout))]
        if wishes.warm_up_s:
            times.append((N_("Warm-up from {time}."), wishes.warm_up_s + wishes.briefing_s))
        if wishes.briefing_s:
            times.append((N_("Briefing at {time}."), wishes.briefing_s))
        lines = [
            *(
                self.say(text).format(time=self.clock(heat.start_s - ahead_s))
                for text, ahead_s in times
            ),
            self.say(N_("Plan revision {revision}.")).format(revision=self.timetable.plan.revision),
        ]
        entry = self.entry(f"team/{team_id}/{workout.id}", heat.start_s, heat.end_s)
        return self.described(entry, title, heat.floor, lines)

    def clock(self, offset_s: int) -> str:
        return f"{self.event.instant(offset_s).astimezone(self.zone):%H:%M}"

    def pause(self, pause: Pause) -> icalendar.Event:
        end_s = pause.start_s + pause.length_s
        entry = self.entry(f"pause/{pause.id}", pause.start_s, end_s)
        entry.add("transp", "TRANSPARENT")
        return self.described(entry, pause.name, "", [])

    def beside(self, one: Beside) -> icalendar.Event:
        entry = self.entry(f"beside/{one.id}", one.start_s, one.end_s)
        entry.add("transp", "TRANSPARENT")
        return self.described(entry, one.name, one.place, [])

    def entry(self, identity: str, start_s: int, end_s: int) -> icalendar.Event:
        entry = icalendar.Event()
        # The domain is one that can never exist; the rest is the same in every revision.
        entry.add("uid", f"{self.event.id}/{identity}@callroom.invalid")
        entry.add("dtstamp", self.timetable.stamped_at)
        entry.add("sequence", self.timetable.plan.revision)
        entry.add("dtstart", self.event.instant(start_s).astimezone(self.zone))
        entry.add("dtend", self.event.instant(end_s).astimezone(self.zone))
        return entry

    def described(
        self, entry: icalendar.Event, title: str, floor: str, lines: list[str]
    ) -> icalendar.Event:
        entry.add("summary", _seen(self.marked(title)))
        names = {one.id: one.name for one in self.event.floors}
        where = [text for text in (names.get(floor, floor), self.event.venue) if text]
        if where:
            entry.add("location", _seen(", ".join(where)))
        if lines:
            entry.add("description", "\n".join(map(_seen, lines)))
        return entry

    def workout_name(self, workout_id: str) -> str:
        if workout_id not in self.timetable.hidden:
            return self.event.workout(workout_id).name
        ids = [workout.id for workout in self.event.workouts]
        return self.say(N_("Workout {number}")).format(number=ids.index(workout_id) + 1)

    def team_name(self, team_id: str) -> str:
        team = self.timetable.teams.get(team_id)
        return team.name if team is not None else team_id

    def marked(self, text: str) -> str:
        """Return `text`, with a warning before it in a rehearsal."""
        rehearsal = self.say(N_("REHEARSAL: {text}"))
        return rehearsal.format(text=text) if self.timetable.rehearsal else text


def _seen(text: str) -> str:
    """Return `text` in one line without signs that act unseen, for no program expects them."""
    return " ".join("".join(" " if is_unseen(sign) else sign for sign in text).split())
