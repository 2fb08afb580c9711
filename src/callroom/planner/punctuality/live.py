"""On the day: when everything is to be expected, and how much slack is left."""

from collections.abc import Mapping
from typing import NamedTuple

from callroom.planner.punctuality.course import Course, Seconds


class FloorSlack(NamedTuple):
    """One floor now.

    Attributes
    ----------
    heat
        The heat that starts there next.
    late_s
        How late it is expected to start [s].
    until_late_s
        What the floor may still lose before some coming heat starts late [s]; 0 if one does.
    until_deadline_s
        What it may still lose before the day ends late [s]; negative: how late it ends.
    """

    floor: str
    heat: str
    late_s: int
    until_late_s: int
    until_deadline_s: int


class SlackLeft(NamedTuple):
    """When each heat is to be expected to start [s], shape ``(heats,)``, and each floor's slack.

    A heat that has begun keeps its real start. `finish_s` is the end to be expected [s].
    """

    expected_s: Seconds
    finish_s: int
    floors: tuple[FloorSlack, ...]


def slack_left(
    course: Course,
    *,
    now_s: int,
    begun_s: Mapping[str, int],
    over_s: Mapping[str, int],
    deadline_s: int,
) -> SlackLeft:
    """Follow the course from now on with everything as long as planned.

    Parameters
    ----------
    course
        With the published times.
    now_s, deadline_s
        The time, and when the day shall be over [s from the day's start].
    begun_s, over_s
        Real starts of heats that have begun and real ends of those that are over [s]; an end
        without a start is taken to have started its planned length before.
    """
    expected, end = course.published_s.copy(), course.published_s.copy()
    waiting = [name not in begun_s and name not in over_s for name in course.heats]
    into = _arcs_by(course.after, len(course.heats))
    for place, name in enumerate(course.heats):
        length_s = int(course.length_s[place])
        if waiting[place]:
            ready = [end[course.before[arc]] + course.gap_s[arc] for arc in into[place]]
            expected[place] = max(int(course.published_s[place]), now_s, *map(int, ready))
            end[place] = expected[place] + length_s
        elif name in over_s:
            end[place] = over_s[name]
            expected[place] = begun_s.get(name, over_s[name] - length_s)
        else:
            expected[place] = begun_s[name]
            end[place] = max(now_s, begun_s[name] + length_s)
    on_time = _latest(course, course.published_s)
    in_time = _latest(course, deadline_s - course.length_s)
    floors: dict[str, FloorSlack] = {}
    for place, (name, floor) in enumerate(zip(course.heats, course.floors, strict=True)):
        if waiting[place] and floor not in floors:
            floors[floor] = FloorSlack(
                floor=floor,
                heat=name,
                late_s=int(expected[place] - course.published_s[place]),
                until_late_s=max(0, int(on_time[place] - expected[place])),
                until_deadline_s=int(in_time[place] - expected[place]),
            )
    return SlackLeft(expected, int(end.max(initial=now_s)), tuple(floors.values()))


def _latest(course: Course, own_s: Seconds) -> Seconds:
    """Return the latest starts that let every heat start by `own_s` [s], shape ``(heats,)``."""
    latest = own_s.copy()
    out = _arcs_by(course.before, len(course.heats))
    for place in range(len(course.heats) - 1, -1, -1):
        for arc in out[place]:
            behind = latest[course.after[arc]] - course.gap_s[arc] - course.length_s[place]
            latest[place] = min(latest[place], behind)
    return latest


def _arcs_by(ends: Seconds, heats: int) -> list[list[int]]:
    arcs: list[list[int]] = [[] for _ in range(heats)]
    for arc, place in enumerate(ends):
        arcs[int(place)].append(arc)
    return arcs
