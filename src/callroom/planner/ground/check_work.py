"""Whether lanes and courses hold the work: room for each station, marks, measured distances."""

from collections.abc import Iterator, Mapping, Sequence

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.floor import Floor
from callroom.model.ground import Course, Ground, LaneField, box_of, field_box
from callroom.model.movement import Movement
from callroom.model.workout import Workout
from callroom.planner.ground.limits import LAP_PERMILLE, RIG_REACH_MM
from callroom.planner.ground.rules import RULES
from callroom.planner.ground.work import LaneWork, Station, Way, lane_work


def check_work(
    ground: Ground, event: Event, movements: Mapping[str, Movement]
) -> Iterator[Finding]:
    """Say which workouts do not fit the lanes or courses they are to be done on."""
    names = {id_: movement.name for id_, movement in movements.items()}
    for workout in event.workouts:
        work = lane_work(workout, event, movements)
        courses = [course for course in ground.courses if course.workout == workout.id]
        for course in courses:
            yield from _laps(workout, work, course, names)
        for floor_id in event.wishes.floors_for(workout.id, workout.floor):
            field = ground.field(floor_id)
            if field is None:
                continue
            lanes = _Lanes(ground, field, event.floor(floor_id), workout, names)
            yield from lanes.check(work, on_a_course=bool(courses))


class _Lanes:
    """The lanes of one floor, held against one workout."""

    def __init__(
        self,
        ground: Ground,
        field: LaneField,
        floor: Floor,
        workout: Workout,
        names: Mapping[str, str],
    ) -> None:
        self._ground = ground
        self._field = field
        self._box = field_box(field, floor.lanes)
        self._floor = floor.name
        self._workout = workout
        self._names = names
        self._subject = f"lanes:{field.floor}"

    def check(self, work: LaneWork, *, on_a_course: bool) -> Iterator[Finding]:
        """Say what of the work does not fit."""
        lane_mm = self._field.lane_width_mm
        wanted_mm = work.length_mm(lane_mm)
        for station in work.stations:
            yield from self._station(station)
        if wanted_mm > self._field.lane_length_mm:
            yield RULES.found(
                "ground.lane_short",
                self._subject,
                floor=self._floor,
                workout=self._workout.name,
                wanted_mm=wanted_mm,
                lane_mm=self._field.lane_length_mm,
            )
        free_mm = self._field.lane_length_mm - wanted_mm
        if not on_a_course:
            yield from self._ways(work.ways, max(free_mm, 0))

    def _station(self, station: Station) -> Iterator[Finding]:
        movement = self._names[station.movements[0]]
        facts = {"workout": self._workout.name, "movement": movement}
        if station.athlete_width_mm > self._field.lane_width_mm + self._field.gap_mm:
            yield RULES.found(
                "ground.lane_narrow",
                self._subject,
                floor=self._floor,
                wanted_mm=station.athlete_width_mm,
                lane_mm=self._field.lane_width_mm,
                **facts,
            )
        if station.anchor and not self._anchored(station):
            yield RULES.found("ground.no_anchor", self._subject, floor=self._floor, **facts)
        for space in self._ground.spaces:
            if 0 < space.height_mm < station.height_mm and box_of(space).holds(self._box):
                yield RULES.found(
                    "ground.roof_low",
                    f"space:{space.id}",
                    space=space.name,
                    wanted_mm=station.height_mm,
                    roof_mm=space.height_mm,
                    **facts,
                )

    def _anchored(self, station: Station) -> bool:
        """Whether a rig, or for a wall also targets, stands at the lanes or a wall is there."""
        kinds = {"rig"} if station.anchor == "rig" else {"rig", "wall_target"}
        return any(
            spot.kind in kinds and box_of(spot).apart_mm(self._box) <= RIG_REACH_MM
            for spot in self._ground.spots
        )

    def _ways(self, ways: Sequence[Way], free_mm: int) -> Iterator[Finding]:
        """Say once for a workout which of its work that travels is marked too far apart."""
        long = [way for way in ways if way.mark_m * 1000 > free_mm]
        if long:
            yield RULES.found(
                "ground.stretch_short",
                self._subject,
                workout=self._workout.name,
                movement=", ".join(self._names[way.movement] for way in long),
                stretch_m=max(way.mark_m for way in long),
                free_mm=free_mm,
            )


def _laps(
    workout: Workout, work: LaneWork, course: Course, names: Mapping[str, str]
) -> Iterator[Finding]:
    """Say which distances are no whole number of laps, within what a wheel can measure."""
    asked: dict[int, list[str]] = {}
    for way in work.ways:
        for asked_m in dict.fromkeys(way.metres):
            asked.setdefault(asked_m, []).append(names[way.movement])
    for asked_m, movements in asked.items():
        asked_mm = asked_m * 1000
        laps = max((2 * asked_mm + course.lap_mm) // (2 * course.lap_mm), 1)
        walked_mm = laps * course.lap_mm
        if abs(walked_mm - asked_mm) * 1000 > asked_mm * LAP_PERMILLE:
            # What is asked is in metres, whatever the hall was measured in.
            yield RULES.found(
                "ground.course_differs",
                f"course:{course.id}",
                workout=workout.name,
                movement=", ".join(movements),
                asked_m=asked_m,
                lap_mm=course.lap_mm,
                laps=laps,
                walked_m=f"{walked_mm / 1000:.1f}",
            )
