"""A small invented event with a plan made by hand, for the tests of views and paper."""

from datetime import date
from decimal import Decimal
from typing import Any

import msgspec

from callroom.model import (
    Athlete,
    Block,
    Category,
    CategoryCount,
    Division,
    Event,
    Floor,
    Heat,
    KitItem,
    LaneTeam,
    Part,
    Pause,
    Plan,
    PublishedHeight,
    PublishedLoad,
    State,
    Switch,
    Task,
    Team,
    TieBreak,
    Who,
    Workout,
)

MINUTE = 60
HOUR = 3600


def loads(*rows: tuple[str, str, str, str], count: int = 1) -> tuple[PublishedLoad, ...]:
    """Loads from rows of division, category, kilograms, pounds."""
    return tuple(
        PublishedLoad(
            division=division, category=category, kg=Decimal(kg), lb=Decimal(lb), count=count
        )
        for division, category, kg, lb in rows
    )


BAR = loads(("open", "women", "29", "65"), ("open", "men", "43", "95"), ("pairs", "", "29", "65"))
BELL = loads(("", "women", "16", "35"), ("", "men", "24", "53"))
BOX = (
    PublishedHeight(category="women", cm=Decimal(50), inch=Decimal(20)),
    PublishedHeight(category="men", cm=Decimal(60), inch=Decimal(24)),
)


def long_haul() -> Workout:
    """A list of work for time, with a tie-break split after the second task."""
    tasks = (
        Task(id="row", movement="row_calories", unit="calories", amounts=(60,)),
        Task(id="thr", movement="thruster", amounts=(50,), loads=BAR, least_each=10),
        Task(id="box", movement="box_jump", amounts=(40,), heights=BOX, working=2),
        Task(id="pull", movement="pull_up", amounts=(30,), switch=Switch(kind="every", every=5)),
        Task(id="burp", movement="synchronised_burpee", amounts=(20,), sharing="together"),
    )
    part = Part(
        id="a",
        kind="time",
        cap_s=12 * MINUTE,
        blocks=(Block(id="b1", tasks=tasks),),
        tiebreak=TieBreak(after="thr"),
    )
    return Workout(id="w1", name="Long haul", floor="hall", parts=(part,))


def carousel() -> Workout:
    """Rounds until time is up."""
    tasks = (
        Task(
            id="kb",
            movement="kettlebell_swing",
            amounts=(15,),
            loads=BELL,
            who=Who(kind="places", places=("A", "B")),
        ),
        Task(id="toes", movement="toes_to_bar", amounts=(12,)),
        Task(
            id="lunge",
            movement="walking_lunge",
            unit="metres",
            amounts=(30,),
            mark=5,
            sharing="carry",
        ),
    )
    block = Block(id="b1", tasks=tasks, open_ended=True)
    part = Part(
        id="a",
        kind="work",
        cap_s=10 * MINUTE,
        blocks=(block,),
        tiebreak=TieBreak(after="round"),
    )
    return Workout(id="w2", name="Carousel", floor="hall", parts=(part,), judges_per_lane=2)


def heavy_single() -> Workout:
    """A lifted maximum: three tries for each athlete of each category."""
    tasks = tuple(
        Task(
            id=f"lift_{category}",
            movement="clean_and_jerk",
            unit="lift",
            who=Who(kind="category", category=category),
            tries=3,
        )
        for category in ("women", "men")
    )
    part = Part(id="a", kind="load", cap_s=8 * MINUTE, blocks=(Block(id="b1", tasks=tasks),))
    return Workout(id="w3", name="Heavy single", floor="hall", parts=(part,), release_s=2 * HOUR)


def two_parts() -> Workout:
    """A descending couplet for time, then a distance on the machine."""
    couplet = (
        Task(id="dl", movement="deadlift", amounts=(21, 15, 9), loads=BAR),
        Task(id="hsp", movement="handstand_push_up", amounts=(21, 15, 9)),
    )
    first = Part(
        id="a",
        name="A",
        kind="time",
        cap_s=7 * MINUTE,
        blocks=(Block(id="b1", tasks=couplet, rounds=3),),
        share_percent=50,
    )
    row = (Task(id="row", movement="row", unit="metres", amounts=(), mark=1),)
    second = Part(
        id="b",
        name="B",
        kind="distance",
        starts_s=8 * MINUTE,
        cap_s=4 * MINUTE,
        blocks=(Block(id="b2", tasks=row, open_ended=True),),
        share_percent=50,
    )
    return Workout(id="w4", name="Two tides", floor="hall", parts=(first, second))


def sandbag_relay() -> Workout:
    """A carry with a run, outdoors."""
    tasks = (
        Task(id="run", movement="run", unit="metres", amounts=(400,), sharing="each", working=4),
        Task(
            id="carry",
            movement="sandbag_carry",
            unit="metres",
            amounts=(100,),
            mark=10,
            sharing="carry",
            loads=loads(("open", "", "50", "110"), ("pairs", "", "30", "66")),
        ),
    )
    part = Part(
        id="a", kind="time", cap_s=14 * MINUTE, blocks=(Block(id="b1", tasks=tasks, rounds=3),)
    )
    return Workout(id="w5", name="Sandbag relay", floor="yard", parts=(part,))


def example_event(**changes: Any) -> Event:
    """The event, with any of its fields changed."""
    event = Event(
        id="example-2026",
        name="Harbour Hall Team Day",
        day=date(2026, 11, 14),
        zone="Europe/Berlin",
        start_s=8 * HOUR,
        venue="Harbour Hall",
        cause="The Harbour Food Bank",
        currency="EUR",
        categories=(Category(id="women", name="women"), Category(id="men", name="men")),
        divisions=(
            Division(
                id="open",
                name="Open fours",
                make_up=(
                    CategoryCount(category="women", count=2),
                    CategoryCount(category="men", count=2),
                ),
            ),
            Division(
                id="pairs",
                name="Pairs",
                make_up=(CategoryCount(category="women", count=2),),
            ),
        ),
        floors=(
            Floor(id="hall", name="Main floor", lanes=7, held_lanes=(7,)),
            Floor(id="yard", name="Outdoor course", lanes=4, outdoor=True),
        ),
        workouts=(long_haul(), carousel(), heavy_single(), two_parts(), sandbag_relay()),
        address="http://192.168.1.20:8000",
        invented=True,
    )
    return msgspec.structs.replace(event, **changes)


_NAMES = (
    "Tidal Four",
    "Lantern Crew",
    "The Slow Burners",
    "Northside Gulls",
    "Copper Kettles",
    "Rope & Anchor",
    "Saturday People",
    "Half Past Lift",
    "Grüße aus Übersee",
    "Plan B",
    "Quiet Storm",
    "Second Breakfast",
    "Two Left Feet",
    "Salt Sisters",
    "Chalk & Cheese",
    "Up Hill Both Ways",
)


def example_teams() -> dict[str, Team]:
    """Twelve mixed teams of four and four pairs."""
    teams = {}
    for index, name in enumerate(_NAMES):
        division = "open" if index < 12 else "pairs"
        line_up = ("women", "women", "men", "men") if division == "open" else ("women", "women")
        athletes = tuple(
            Athlete(place=place, category=category, person=f"p{index}{place}")
            for place, category in zip("ABCD", line_up, strict=False)
        )
        team_id = f"T{index + 1:02}"
        teams[team_id] = Team(id=team_id, name=name, division=division, athletes=athletes)
    return teams


def example_plan(event: Event, teams: dict[str, Team], revision: int = 3) -> Plan:
    """Heats of at most six (four outdoors), workout after workout, a lunch in between."""
    heats: list[Heat] = []
    free_s = {"hall": HOUR, "yard": 6 * HOUR}
    for workout in event.workouts:
        if workout.id == "w4":
            free_s["hall"] = max(free_s["hall"], 5 * HOUR)
        lanes = event.floor(workout.floor).open_lanes
        groups = [
            chosen[start : start + len(lanes)]
            for division in ("pairs", "open")
            for chosen in [[team.id for team in teams.values() if team.division == division]]
            for start in range(0, len(chosen), len(lanes))
        ]
        for number, group in enumerate(groups, start=1):
            start_s = free_s[workout.floor]
            end_s = start_s + workout.floor_s
            heats.append(
                Heat(
                    id=f"{workout.id}-{number}",
                    workout=workout.id,
                    floor=workout.floor,
                    number=number,
                    start_s=start_s,
                    end_s=end_s,
                    lanes=tuple(
                        LaneTeam(lane=lane, team=team)
                        for lane, team in zip(lanes, group, strict=False)
                    ),
                )
            )
            free_s[workout.floor] = -(-(end_s + 2 * MINUTE) // MINUTE) * MINUTE
    return Plan(
        revision=revision,
        inputs_digest="example",
        heats=tuple(heats),
        pauses=(
            Pause(id="brief", name="Athletes' briefing", start_s=30 * MINUTE, length_s=900),
            Pause(id="lunch", name="Lunch", start_s=4 * HOUR, length_s=2700),
            Pause(id="awards", name="Awards", start_s=9 * HOUR, length_s=1800),
        ),
        finish_s=max(heat.end_s for heat in heats),
    )


def example_state(event: Event | None = None, **changes: Any) -> State:
    """The example event with its teams, kit and plan, with any field of the State changed."""
    event = event if event is not None else example_event()
    teams = changes.pop("teams", None) or example_teams()
    state = State(
        seq=57,
        at_ms=1_794_500_000_000,
        event=event,
        teams=teams,
        kit=(KitItem(id="bar", name="Barbell", kind="bar", count=12),),
        plan=example_plan(event, teams),
    )
    return msgspec.structs.replace(state, **changes)
