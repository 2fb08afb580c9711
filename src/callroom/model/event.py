"""The whole competition, one day or more."""

from datetime import date, datetime, timedelta
from typing import TypeVar

import msgspec

from callroom.model.clock import local_instant
from callroom.model.division import Category, Division
from callroom.model.floor import Floor
from callroom.model.mass import MassUnit
from callroom.model.movement import Movement
from callroom.model.rules import Rules
from callroom.model.wishes import Wishes
from callroom.model.workout import Workout

Thing = TypeVar("Thing", Division, Workout, Floor)


class Event(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a director decides before anyone enters.

    `start_s` is the local start of the day in seconds since local midnight of `day` in
    `zone`; every planned time counts from that instant. `address` is where pads and QR
    codes find the server at the venue. `movements` are the director's own: each is added to
    the library, or stands in the place of the library's movement with its id.
    """

    id: str
    name: str
    day: date
    zone: str
    start_s: int
    venue: str
    cause: str
    currency: str
    categories: tuple[Category, ...]
    divisions: tuple[Division, ...]
    floors: tuple[Floor, ...]
    workouts: tuple[Workout, ...]
    movements: tuple[Movement, ...] = ()
    mass_unit: MassUnit = "kg"
    language: str = "en"
    address: str = ""
    invented: bool = False
    rules: Rules = Rules()
    wishes: Wishes = Wishes()

    @property
    def starts_at(self) -> datetime:
        """The day's start as a UTC instant; BadTime if that local time is absent or doubled."""
        return local_instant(self.day, self.start_s, self.zone)

    def instant(self, offset_s: int) -> datetime:
        """Return the UTC instant `offset_s` seconds after the day's start."""
        return self.starts_at + timedelta(seconds=offset_s)

    def report_ahead_s(self, workout: Workout) -> int:
        """Return how long before a heat its teams report: in time for warm-up and briefing too [s]."""
        return max(workout.report_s, self.wishes.warm_up_s + self.wishes.briefing_s)

    def division(self, division_id: str) -> Division:
        """Return a division by id; KeyError if there is none."""
        return _named(self.divisions, division_id)

    def workout(self, workout_id: str) -> Workout:
        """Return a workout by id; KeyError if there is none."""
        return _named(self.workouts, workout_id)

    def floor(self, floor_id: str) -> Floor:
        """Return a floor by id; KeyError if there is none."""
        return _named(self.floors, floor_id)


def _named(things: tuple[Thing, ...], wanted: str) -> Thing:
    for thing in things:
        if thing.id == wanted:
            return thing
    raise KeyError(wanted)
