"""Events as a file can describe them, drawn at random for round trips."""

import unicodedata
from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from callroom.model import (
    Apart,
    Block,
    Category,
    CategoryCount,
    Division,
    Event,
    EventDay,
    Floor,
    FloorChoice,
    JudgeSpell,
    KitShare,
    Lock,
    OrderInto,
    Part,
    Pause,
    Points,
    PublishedHeight,
    PublishedLoad,
    RestBetween,
    Rules,
    SharedKit,
    Switch,
    Task,
    TeamHours,
    TieBreak,
    Who,
    Wishes,
    Workout,
)
from callroom.model.workout import PartKind, Unit

WOMEN, MEN = Category(id="women", name="Women"), Category(id="men", name="Men")
DIVISIONS = ("open", "steady")
UNITS: tuple[Unit, ...] = ("reps", "metres", "calories", "seconds")
KINDS: tuple[PartKind, ...] = ("time", "work", "load", "distance")


def _plain(text: str) -> str:
    return unicodedata.normalize("NFC", text).strip()


ODD_TEXTS = (
    'She said "go"',
    "back\\slash",
    '\'three\' """',
    "# no comment",
    "[w1]",
    "=1+1",
    "Łódź – Zürich",
    "شمس",
    "日本 🏋",
    "e\u0301\u0323",
    "A",
    "\u200fרח",
)
texts = (
    (st.sampled_from(ODD_TEXTS) | st.text("ab \"'\\#=,{}[]é", max_size=8)).map(_plain).filter(bool)
)
lines = st.lists(texts, max_size=3).map("\n".join)
spans = st.integers(0, 4000)
amounts = st.integers(1, 500)
decimals = st.decimals(Decimal("0.25"), 500, places=2).map(
    lambda one: Decimal(f"{one.normalize():f}")
)
ids = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_-]{0,8}", fullmatch=True)


cells = st.lists(
    st.sampled_from([("", ""), *((d, c) for d in ("", *DIVISIONS) for c in ("women", "men"))]),
    unique=True,
    max_size=5,
).map(lambda drawn: sorted(drawn, key=lambda cell: [one[0] for one in drawn].index(cell[0])))
"""For whom something is published, division by division in the order first drawn."""


@st.composite
def loads(draw: st.DrawFn) -> tuple[PublishedLoad, ...]:
    return tuple(
        PublishedLoad(
            division=division,
            category=category,
            kg=draw(st.none() | decimals),
            lb=draw(decimals),
            count=draw(st.integers(1, 2)),
        )
        for division, category in draw(cells)
    )


@st.composite
def heights(draw: st.DrawFn) -> tuple[PublishedHeight, ...]:
    return tuple(
        PublishedHeight(
            division=division,
            category=category,
            cm=draw(decimals),
            inch=draw(st.none() | decimals),
        )
        for division, category in draw(cells)
    )


@st.composite
def tasks(draw: st.DrawFn, name: str, rounds: int) -> Task:
    unit = draw(st.sampled_from(UNITS))
    ladder = draw(st.booleans())
    given = [draw(amounts) for _ in range(rounds if ladder else 1)]
    return Task(
        id=name,
        movement=draw(st.sampled_from(["row", "burpee", "thruster"])),
        unit=unit,
        amounts=tuple(given),
        who=draw(
            st.sampled_from(
                [
                    Who(),
                    Who(kind="everyone"),
                    Who(kind="pair"),
                    Who(kind="category", category="men"),
                    Who(kind="places", places=("A", "B")),
                ]
            )
        ),
        sharing=draw(st.sampled_from(["split", "each", "together", "carry"])),
        switch=draw(
            st.builds(
                Switch,
                kind=st.sampled_from(["freely", "each_round", "fixed_order"]),
                hand_tag=st.booleans(),
            )
            | st.builds(Switch, kind=st.just("every"), every=st.integers(1, 50))
        ),
        strand=draw(st.integers(0, 2)),
        while_holding=draw(st.sampled_from(["", "plank_hold"])),
        loads=draw(loads()),
        heights=draw(heights()),
        variation=draw(st.just("") | texts),
        tighten=draw(st.just("") | texts),
    )


@st.composite
def parts(draw: st.DrawFn, name: str) -> Part:
    kind = draw(st.sampled_from(KINDS))
    open_last = kind in {"work", "distance"} and draw(st.booleans())
    sizes = draw(st.sampled_from([(1,), (2,), (1, 2)]))
    blocks = []
    for number, size in enumerate(sizes, start=1):
        is_open = open_last and number == len(sizes)
        rounds = 1 if is_open else draw(st.integers(1, 4))
        inside = [draw(tasks(f"t{number}{n}", rounds)) for n in range(size)]
        if number == 1 and kind == "load":
            lift = Task(id="lift", movement="deadlift", unit="lift", tries=draw(st.integers(0, 5)))
            inside.append(lift)
        if number == 1 and kind == "distance":
            inside.append(Task(id="far", movement="run", unit="metres", amounts=(draw(amounts),)))
        blocks.append(
            Block(
                id=draw(st.sampled_from([f"b{number}", f"block-{number}"])),
                tasks=tuple(inside),
                name=draw(st.just("") | texts),
                rounds=rounds,
                open_ended=is_open,
                every_s=draw(spans),
            )
        )
    return Part(
        id=name,
        kind=kind,
        cap_s=draw(st.integers(1, 4000)),
        blocks=tuple(blocks),
        name=draw(st.just("") | texts),
        starts_s=draw(spans),
        resolution_ms=draw(st.sampled_from([1, 10, 100, 1000, 5000])),
        tiebreak=draw(
            st.none() | st.builds(TieBreak, after=st.just("t10"), splits_finishers=st.booleans())
        ),
        cap_rule=draw(st.sampled_from(["work_done", "second_per_missing"])),
        share_percent=draw(st.integers(1, 100) | st.just(50) | st.just(100)),
        buzzer_lift=draw(st.sampled_from(["completed", "off_floor"])),
        all_lifts_needed=draw(st.booleans()),
    )


@st.composite
def workouts(draw: st.DrawFn, name: str) -> Workout:
    part_ids = draw(st.sampled_from([("a",), ("fast",), ("a", "b")]))
    return Workout(
        id=name,
        name=f"{name} {draw(texts)}",
        floor=draw(st.sampled_from(["main", "yard"])),
        parts=tuple(draw(parts(part)) for part in part_ids),
        text=draw(lines),
        judges_per_lane=draw(st.integers(0, 3)),
        walk_on_s=draw(spans),
        countdown_s=draw(spans),
        sign_s=draw(spans),
        strip_s=draw(spans),
        report_s=draw(spans),
        release_s=draw(st.none() | st.integers(-200_000, 40_000)),
    )


@st.composite
def events(draw: st.DrawFn) -> Event:
    first_heat_s = draw(spans)
    divisions = tuple(
        Division(
            id=name,
            name=name.title(),
            make_up=(
                CategoryCount(category="men", count=draw(st.integers(2, 4))),
                CategoryCount(category="women", count=draw(st.integers(1, 4))),
            ),
            reserves=draw(st.integers(0, 3)),
            team_limit=draw(st.integers(0, 30)),
        )
        for name in DIVISIONS
    )
    return Event(
        id=draw(ids),
        name=draw(texts),
        day=draw(st.dates(date(2026, 1, 1), date(2029, 12, 31))),
        zone=draw(st.sampled_from(["Europe/Berlin", "America/Lima", "Asia/Kolkata", "UTC"])),
        start_s=draw(st.integers(5 * 3600, 12 * 3600)),
        venue=draw(st.just("") | texts),
        cause=draw(st.just("") | texts),
        currency=draw(st.sampled_from(["EUR", "GBP"])),
        categories=(WOMEN, MEN),
        divisions=divisions,
        floors=(
            Floor(id="main", name="Main", lanes=draw(st.integers(2, 12)), held_lanes=(1,)),
            Floor(
                id="yard", name="Yard", lanes=5, first_lane=draw(st.integers(0, 20)), outdoor=True
            ),
        ),
        workouts=tuple(
            draw(workouts(name)) for name in draw(st.sampled_from([("w1",), ("w1", "w2")]))
        ),
        mass_unit=draw(st.sampled_from(["kg", "lb"])),
        language=draw(st.sampled_from(["en", "pt-BR"])),
        address=draw(st.just("") | st.just("http://192.168.1.20:8080")),
        invented=draw(st.booleans()),
        rules=draw(rules()),
        wishes=draw(wishes(first_heat_s)),
    )


@st.composite
def rules(draw: st.DrawFn) -> Rules:
    points = draw(
        st.sampled_from(
            [
                Points(),
                Points(kind="linear", first=Decimal(90), step=Decimal("2.5")),
                Points(kind="table", table=(Decimal(100), Decimal("94.5"), Decimal(0))),
                Points(kind="formula", formula="1000 * (teams - place) / teams"),
            ]
        )
    )
    return Rules(
        points=points,
        tie_chain=draw(st.sampled_from([(), ("most_firsts",), ("best_in:w1", "shared")])),
        absent_overall=draw(st.sampled_from(["below", "unranked"])),
        after_withdrawal=draw(st.sampled_from(["keep", "move_up"])),
        after_disqualification=draw(st.sampled_from(["keep", "move_up"])),
        modified_work=draw(st.sampled_from(["below", "unranked"])),
        short_handed=draw(st.sampled_from(["ranked", "unranked", "withdrawn"])),
        rerun_counts=draw(st.sampled_from(["replaces", "better"])),
        substitutions=draw(st.none() | st.integers(0, 4)),
        appeal_window_s=draw(spans),
        late_appeals=draw(st.sampled_from(["refused", "marked"])),
        embargo=draw(st.sampled_from([(), ("w1",)])),
        keep_people_days=draw(st.sampled_from([90, 0, 400, None])),
        substitution_deadline_s=draw(spans),
    )


WISH_ROWS: dict[str, Any] = {
    "waves": (("open",),),
    "days": (
        EventDay(id="sat", name="Saturday", opens_s=0, closes_s=36_000),
        EventDay(id="sun", name="Sunday", opens_s=86_400, closes_s=120_000),
    ),
    "orders": (OrderInto(workout="w1", order="reseeded"),),
    "rests": (RestBetween(before="w1", after="w1", rest_s=2700),),
    "floor_choices": (FloorChoice(workout="w1", floors=("main", "yard")),),
    "shared_kit": (
        SharedKit(id="bikes", name="Bikes", count=9, shares=(KitShare(workout="w1", per_lane=2),)),
    ),
    "judge_spells": (JudgeSpell(from_s=3600, until_s=7200, judges=4),),
    "locks": (
        Lock(workout="w1", team="T1", at_s=5400, lane=0),
        Lock(workout="w1", division="open", heat=2, floor="yard"),
        Lock(team="T2", heat=1, lane=4),
    ),
    "team_hours": (TeamHours(team="T1", until_s=18_000), TeamHours(team="T2", from_s=60)),
    "apart": (Apart(teams=("T1", "T2")), Apart(teams=("T3", "T4"), gap_s=600)),
}


@st.composite
def wishes(draw: st.DrawFn, first_heat_s: int) -> Wishes:
    pauses = tuple(
        Pause(
            id=name,
            name=name.title(),
            start_s=draw(st.integers(0, 60_000)),
            length_s=draw(st.integers(1, 4000)),
            floors=draw(st.sampled_from([(), ("main",), ("main", "yard")])),
        )
        for name in draw(st.sampled_from([(), ("lunch",), ("lunch", "awards")]))
    )
    return Wishes(
        first_heat_s=first_heat_s,
        finish_by_s=draw(st.none() | st.integers(first_heat_s + 1, 60_000)),
        rest_s=draw(spans),
        changeover_same_s=draw(spans),
        changeover_division_s=draw(spans),
        changeover_workout_s=draw(spans),
        slot_s=draw(st.integers(1, 900)),
        constant_rhythm=draw(st.booleans()),
        pauses=pauses,
        order=draw(st.sampled_from(["kept", "neighbours", "reseeded"])),
        workout_order=draw(st.sampled_from(["listed", "free"])),
        mixed_heats=draw(st.booleans()),
        heat_pattern=draw(st.sampled_from(["circle", "to_and_fro", "best_last"])),
        lane_pattern=draw(st.sampled_from(["centre_out", "drawn_groups", "numbered"])),
        least_per_heat=draw(st.integers(1, 5)),
        judges_at_once=draw(st.none() | st.integers(1, 40)),
        draw_seed=draw(st.integers(0, 10**6)),
        warm_up_s=draw(spans),
        warm_up_heats=draw(st.integers(0, 3)),
        briefing_s=draw(spans),
        judges_from_crew=draw(st.booleans()),
        finals_last=draw(st.booleans()),
        early=draw(st.sampled_from([(), ("open",)])),
        **draw(st.sampled_from([{}, WISH_ROWS])),
    )
