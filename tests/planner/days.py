"""Small events of invented teams, for the planner's tests."""

from collections.abc import Mapping, Sequence
from datetime import date

from callroom.model.division import Category, CategoryCount, Division
from callroom.model.event import Event
from callroom.model.floor import Floor
from callroom.model.team import Team
from callroom.model.wishes import Pause, Wishes
from callroom.model.workout import Part, Workout

MINUTE = 60


def workout(name: str, *, cap_min: int = 10, floor: str = "main", judges: int = 1) -> Workout:
    """Return a workout that holds the floor for its cap and two minutes more."""
    return Workout(
        id=name,
        name=name.upper(),
        floor=floor,
        parts=(Part(id="a", kind="time", cap_s=cap_min * MINUTE, blocks=()),),
        judges_per_lane=judges,
        walk_on_s=60,
        countdown_s=10,
        sign_s=20,
        strip_s=30,
    )


def event(
    *,
    divisions: Sequence[str] = ("a",),
    floors: Sequence[Floor] = (Floor(id="main", name="Main", lanes=7),),
    workouts: Sequence[Workout] = (),
    wishes: Wishes | None = None,
) -> Event:
    """Return an event for these divisions."""
    make_up = (CategoryCount(category="w", count=2), CategoryCount(category="m", count=2))
    return Event(
        id="test",
        name="Test day",
        day=date(2027, 5, 8),
        zone="Europe/Zurich",
        start_s=8 * 3600,
        venue="Hall",
        cause="Cause",
        currency="CHF",
        categories=(Category(id="w", name="Women"), Category(id="m", name="Men")),
        divisions=tuple(Division(id=name, name=name, make_up=make_up) for name in divisions),
        floors=tuple(floors),
        workouts=tuple(workouts) or (workout("w1"), workout("w2")),
        wishes=wishes or Wishes(),
    )


def teams(counts: Mapping[str, int]) -> tuple[Team, ...]:
    """Return ranked teams ``a01``, ``a02`` … of each division."""
    return tuple(
        Team(id=f"{division}{n:02}", name=f"{division}{n:02}", division=division, entry_rank=n)
        for division, count in counts.items()
        for n in range(1, count + 1)
    )


def demo_like() -> tuple[Event, tuple[Team, ...]]:
    """Return a day like the demo's: 42 teams, three divisions, five workouts, two floors."""
    day = event(
        divisions=("open", "scaled", "pairs"),
        floors=(
            Floor(id="main", name="Main", lanes=7),
            Floor(id="course", name="Course", lanes=7, outdoor=True),
        ),
        workouts=(
            workout("w1", cap_min=12),
            workout("w2", cap_min=9),
            workout("w3", cap_min=14, floor="course"),
            workout("w4", cap_min=10),
            workout("w5", cap_min=8),
        ),
        wishes=Wishes(
            first_heat_s=45 * MINUTE,
            finish_by_s=9 * 3600,
            rest_s=30 * MINUTE,
            pauses=(
                Pause(id="briefing", name="Briefing", start_s=15 * MINUTE, length_s=15 * MINUTE),
                Pause(id="lunch", name="Lunch", start_s=270 * MINUTE, length_s=45 * MINUTE),
            ),
        ),
    )
    return day, teams({"open": 20, "scaled": 14, "pairs": 8})
