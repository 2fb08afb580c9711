"""Workouts, parts and blocks of an event file."""

from typing import get_args

import msgspec

from callroom.exchange.event_day import EventDay, moment_s
from callroom.exchange.event_tasks import read_tasks
from callroom.exchange.faults import shown
from callroom.exchange.subjects import Subjects
from callroom.exchange.toml_section import NAME_LENGTH, Section
from callroom.model import Block, Part, Task, TieBreak, Workout
from callroom.model.workout import BuzzerLift, CapRule, PartKind

ONE_PART = "a"
"""Id of a workout's part where the file names none."""

PART_KEYS = (
    "result",
    "cap",
    "starts",
    "resolution",
    "tiebreak",
    "cap_rule",
    "worth",
    "buzzer_lift",
    "all_lifts_needed",
    "blocks",
)
"""Keys of a part; a workout with one part has them in its own table."""

MOST_ROUNDS = 500
_USUAL = Workout(id="", name="", floor="", parts=())
_WORTH = {"full": 100, "half": 50}


class Names(msgspec.Struct, frozen=True, kw_only=True):
    """What the rest of the file has named, for workouts to refer to."""

    categories: frozenset[str]
    divisions: frozenset[str]
    day: EventDay | None
    subjects: Subjects


def read_workouts(root: Section, names: Names) -> tuple[Workout, ...]:
    """Return the workouts in the order of the file."""
    root.needs("workouts")
    return tuple(_workout(name, section, names) for name, section in root.sections("workouts"))


def _workout(name: str, section: Section, names: Names) -> Workout:
    section.needs("name", "floor")
    subject = f"workouts.{name}"
    names.subjects.put(subject, section.path)
    if "parts" in section:
        parts = tuple(
            _part(part, below, names, f"{subject}.parts.{part}")
            for part, below in section.sections("parts")
        )
        _no_part_keys(section)
    else:
        parts = (_part(ONE_PART, section, names, f"{subject}.parts.{ONE_PART}"),)
    workout = Workout(
        id=name,
        name=section.text("name"),
        floor=section.text("floor"),
        parts=parts,
        text=section.lines("text"),
        judges_per_lane=section.whole("judges_per_lane", _USUAL.judges_per_lane, 0, 20),
        walk_on_s=section.duration_s("walk_on", _USUAL.walk_on_s),
        countdown_s=section.duration_s("countdown", _USUAL.countdown_s),
        sign_s=section.duration_s("sign", _USUAL.sign_s),
        strip_s=section.duration_s("strip", _USUAL.strip_s),
        report_s=section.duration_s("report", _USUAL.report_s),
        release_s=moment_s(section, "release", names.day),
    )
    section.given("parts")
    section.close()
    return workout


def _no_part_keys(section: Section) -> None:
    for key in PART_KEYS:
        if key in section:
            section.fault("toml.belongs_in_part", key, at_key=True, given=key)
            section.given(key)


def _part(name: str, section: Section, names: Names, subject: str) -> Part:
    section.needs("result", "cap", "blocks")
    names.subjects.put(subject, section.path)
    kind: PartKind = section.choice("result", get_args(PartKind), "time")
    cap_rule: CapRule = section.choice("cap_rule", get_args(CapRule), "work_done")
    buzzer_lift: BuzzerLift = section.choice("buzzer_lift", get_args(BuzzerLift), "completed")
    part = Part(
        id=name,
        kind=kind,
        cap_s=section.duration_s("cap", 1),
        blocks=_blocks(section, names, subject),
        starts_s=section.duration_s("starts", 0),
        resolution_ms=section.duration_ms("resolution", 1000),
        tiebreak=_tiebreak(section),
        cap_rule=cap_rule,
        share_percent=_worth(section),
        buzzer_lift=buzzer_lift,
        all_lifts_needed=section.flag("all_lifts_needed"),
    )
    if section.path[-2:-1] == ("parts",):
        part = msgspec.structs.replace(part, name=section.text("name"))
        section.close()
    return part


def _tiebreak(section: Section) -> TieBreak | None:
    value = section.given("tiebreak")
    if value is None:
        return None
    if isinstance(value, dict):
        table = section.section("tiebreak")
        table.needs("after")
        tiebreak = TieBreak(
            after=table.text("after"), splits_finishers=table.flag("splits_finishers")
        )
        table.close()
        return tiebreak
    return TieBreak(after=section.text("tiebreak"))


def _worth(section: Section) -> int:
    value = section.given("worth")
    if isinstance(value, str):
        worth = _WORTH.get(value.strip().casefold())
        if worth is None:
            section.fault("toml.worth", "worth", given=shown(value))
        return worth or 100
    return section.whole("worth", 100, 1, 1000)


def _blocks(section: Section, names: Names, subject: str) -> tuple[Block, ...]:
    taken: set[str] = set()
    return tuple(
        _block(number, row, names, subject, taken)
        for number, row in enumerate(section.rows("blocks"), start=1)
    )


def _block(number: int, section: Section, names: Names, subject: str, taken: set[str]) -> Block:
    section.needs("tasks")
    name = section.identifier("id") or f"b{number}"
    if name in taken:
        section.fault("toml.id_twice", "id", given=shown(name))
    taken.add(name)
    names.subjects.put(f"{subject}.blocks.{name}", section.path)
    tasks = read_tasks(section, names.categories, names.divisions, taken)
    for task, row in tasks:
        names.subjects.put(f"{subject}.blocks.{name}.tasks.{task.id}", row.path)
    open_ended = section.flag("open_ended")
    if open_ended and "rounds" in section:
        section.fault("toml.rounds_and_open", "rounds", given=shown(section.given("rounds")))
    listed = tuple(task for task, _ in tasks)
    usual = usual_rounds(listed, open_ended=open_ended)
    block = Block(
        id=name,
        tasks=listed,
        name=section.text("name", longest=NAME_LENGTH),
        rounds=section.whole("rounds", usual, 1, MOST_ROUNDS),
        open_ended=open_ended,
        every_s=section.duration_s("every", 0),
    )
    section.close()
    return block


def usual_rounds(tasks: tuple[Task, ...], *, open_ended: bool) -> int:
    """Return the rounds of a block that is told none: as many as its longest ladder."""
    if open_ended:
        return 1
    return max([1, *(len(task.amounts) for task in tasks)])
