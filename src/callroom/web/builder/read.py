"""From the texts of a draft's fields to a workout, with every field that cannot be read."""

import re
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import TypeVar, get_args

import msgspec

from callroom.model import (
    BadTime,
    Block,
    Event,
    Finding,
    Part,
    PublishedHeight,
    PublishedLoad,
    Switch,
    Task,
    TieBreak,
    VariationRule,
    Who,
    Workout,
)
from callroom.model.clock import local_instant
from callroom.model.workout import (
    BuzzerLift,
    CapRule,
    PartKind,
    Sharing,
    SwitchKind,
    Unit,
    WhoKind,
)
from callroom.standards import library_with
from callroom.web.builder.draft import Node, Path, field_name
from callroom.web.forms.published import read_height, read_load
from callroom.web.forms.typed import read_count, read_time_ms

Value = TypeVar("Value")

ASKED, ALLOWED, BARRED = "ask", "allow", "bar"
"""What a field says of a variation; one that is asked is allowed, and named, for all."""

KINDS: tuple[PartKind, ...] = get_args(PartKind)
UNITS: tuple[Unit, ...] = get_args(Unit)
SHARINGS: tuple[Sharing, ...] = get_args(Sharing)
SWITCHES: tuple[SwitchKind, ...] = get_args(SwitchKind)
WHO_KINDS: tuple[WhoKind, ...] = get_args(WhoKind)
CAP_RULES: tuple[CapRule, ...] = get_args(CapRule)
BUZZER_LIFTS: tuple[BuzzerLift, ...] = ("completed", "off_floor")


class Reading(msgspec.Struct, frozen=True, kw_only=True):
    """What a draft says: a workout, and what in it could not be read.

    A fault's subject is the name of its field, which reads as if it were empty.
    """

    workout: Workout
    faults: tuple[Finding, ...]


def read_workout(root: Node, event: Event) -> Reading:
    """Return the workout that a draft for `event` says."""
    reader = _Reader(event)
    workout = reader.workout(root)
    return Reading(workout=workout, faults=tuple(reader.faults))


class _Reader:
    """Reads node after node; notes faults and goes on."""

    def __init__(self, event: Event) -> None:
        self._event = event
        self.faults: list[Finding] = []

    def workout(self, node: Node) -> Workout:
        at = _At(self, (), node)
        return Workout(
            id=node.id,
            name=node.text("name"),
            floor=node.text("floor"),
            text=node.text("text"),
            judges_per_lane=at.count("judges_per_lane", 1),
            walk_on_s=at.seconds("walk_on_s", 60),
            countdown_s=at.seconds("countdown_s", 10),
            sign_s=at.seconds("sign_s", 60),
            strip_s=at.seconds("strip_s", 60),
            report_s=at.seconds("report_s", 900),
            release_s=at.read("release_s", self._release_s, "draft.release_unreadable", None),
            parts=tuple(self._part(one, (index,)) for index, one in enumerate(node.inside)),
        )

    def _release_s(self, text: str) -> int | None:
        """Return a date and time of the venue as seconds from the day's start."""
        try:
            wall = datetime.fromisoformat(text)
            midnight = wall.replace(hour=0, minute=0, second=0, microsecond=0)
            since_s = (wall - midnight) // timedelta(seconds=1)
            instant = local_instant(wall.date(), since_s, self._event.zone)
        except (ValueError, OverflowError, BadTime):
            return None
        return (instant - self._event.starts_at) // timedelta(seconds=1)

    def _part(self, node: Node, path: Path) -> Part:
        at = _At(self, path, node)
        after = node.text("tiebreak")
        return Part(
            id=node.id,
            name=node.text("name"),
            kind=at.choice("kind", KINDS),
            cap_s=at.seconds("cap_s", 0),
            starts_s=at.seconds("starts_s", 0),
            resolution_ms=at.count("resolution_ms", 1000),
            tiebreak=TieBreak(after=after, splits_finishers=at.ticked("splits_finishers"))
            if after
            else None,
            cap_rule=at.choice("cap_rule", CAP_RULES),
            share_percent=at.count("share_percent", 100),
            buzzer_lift=at.choice("buzzer_lift", BUZZER_LIFTS),
            all_lifts_needed=at.ticked("all_lifts_needed"),
            blocks=tuple(self._block(one, (*path, index)) for index, one in enumerate(node.inside)),
        )

    def _block(self, node: Node, path: Path) -> Block:
        at = _At(self, path, node)
        tasks = tuple(self._task(one, (*path, index)) for index, one in enumerate(node.inside))
        open_ended = at.ticked("open_ended")
        most = max((len(task.amounts) for task in tasks), default=1) or 1
        return Block(
            id=node.id,
            name=node.text("name"),
            # 21-15-9 says by itself that there are three rounds.
            rounds=1 if open_ended else at.count("rounds", most),
            open_ended=open_ended,
            every_s=at.seconds("every_s", 0),
            tasks=tasks,
        )

    def _task(self, node: Node, path: Path) -> Task:
        at = _At(self, path, node)
        kind, _, category = (node.text("who") or "anyone").partition(":")
        whole = at.choice("switch", SWITCHES)
        return Task(
            id=node.id,
            movement=node.text("movement"),
            unit=at.choice("unit", UNITS),
            amounts=at.read("amounts", _amounts, "draft.amounts_unreadable", ()),
            mark=at.count("mark", 1),
            who=Who(
                kind=_known(kind, WHO_KINDS) or "anyone",
                category=category,
                places=_places(node.text("places")) if kind == "places" else (),
            ),
            sharing=at.choice("sharing", SHARINGS),
            working=at.count("working", 1),
            switch=Switch(kind=whole, every=at.count("every", 0), hand_tag=at.ticked("hand_tag")),
            least_each=at.count("least_each", 0),
            strand=at.count("strand", 0),
            while_holding=node.text("while_holding"),
            variation=self._variation(node),
            variation_rules=self._variation_rules(node),
            tighten=node.text("tighten"),
            tighten_no_rep=node.text("tighten_no_rep"),
            tries=at.count("tries", 0),
            loads=self._loads(at, node.texts),
            heights=self._heights(at, node.texts),
        )

    def _loads(self, at: "_At", texts: Mapping[str, str]) -> tuple[PublishedLoad, ...]:
        unit = self._event.mass_unit
        found = []
        for name in self._cells("load", texts):
            load = at.read(name, lambda text: read_load(text, unit), "entry.load_unreadable", None)
            if load is not None:
                _, division, category = name.split(":")
                found.append(msgspec.structs.replace(load, division=division, category=category))
        return tuple(found)

    def _heights(self, at: "_At", texts: Mapping[str, str]) -> tuple[PublishedHeight, ...]:
        unit = self._event.mass_unit
        found = []
        for name in self._cells("height", texts):
            height = at.read(
                name, lambda text: read_height(text, unit), "draft.height_unreadable", None
            )
            if height is not None:
                _, division, category = name.split(":")
                found.append(msgspec.structs.replace(height, division=division, category=category))
        return tuple(found)

    def _variation(self, node: Node) -> str:
        """Return the variation that is asked of all."""
        asked = (name for name, said in self._ways(node) if said == ASKED and not name[1])
        return next((variation for variation, _ in asked), "")

    def _variation_rules(self, node: Node) -> tuple[VariationRule, ...]:
        """Return what is allowed, then what is barred; of each, first what is for all."""
        rules = [
            VariationRule(variation=variation, division=division, allowed=said == ALLOWED)
            for (variation, division), said in self._ways(node)
            if said in {ALLOWED, BARRED}
        ]
        return tuple(sorted(rules, key=lambda rule: (not rule.allowed, bool(rule.division))))

    def _ways(self, node: Node) -> list[tuple[tuple[str, str], str]]:
        """Return what is said of the variations that the movement has, by variation and division.

        What is left over from a movement that was chosen before is passed over.
        """
        library = library_with(self._event.movements).movements
        movement = library.get(node.text("movement"))
        known = {one.id for one in movement.variations} if movement is not None else None
        found = []
        for name, said in node.texts.items():
            way, _, rest = name.partition(":")
            division, _, variation = rest.partition(":")
            if way == "way" and (known is None or variation in known):
                found.append(((variation, division), said))
        return found

    def _cells(self, kind: str, texts: Mapping[str, str]) -> list[str]:
        return [name for name in texts if re.fullmatch(rf"{kind}:[^:]*:[^:]*", name)]


class _At:
    """Reads the fields of one node."""

    def __init__(self, reader: _Reader, path: Path, node: Node) -> None:
        self._reader = reader
        self._path = path
        self._node = node

    def read(
        self, name: str, read: Callable[[str], Value | None], rule: str, usual: Value
    ) -> Value:
        """Return a field read, `usual` if it is empty, or cannot be read and is noted."""
        text = self._node.text(name)
        if not text:
            return usual
        value = read(text)
        if value is None:
            subject = field_name(self._path, name)
            self._reader.faults.append(
                Finding(rule=rule, severity="error", subject=subject, facts={"given": text[:40]})
            )
            return usual
        return value

    def count(self, name: str, usual: int) -> int:
        """Return a whole number."""
        return self.read(name, read_count, "entry.count_unreadable", usual)

    def seconds(self, name: str, usual: int) -> int:
        """Return a length of time in whole seconds."""
        return self.read(name, _seconds, "entry.time_unreadable", usual)

    def ticked(self, name: str) -> bool:
        """Whether a box is ticked."""
        return bool(self._node.text(name))

    def choice(self, name: str, among: tuple[Value, ...]) -> Value:
        """Return the one that is chosen, the first where none is."""
        return _known(self._node.text(name), among) or among[0]


def _known(text: str, among: tuple[Value, ...]) -> Value | None:
    return next((one for one in among if one == text), None)


def _seconds(text: str) -> int | None:
    time_ms = read_time_ms(text)
    return None if time_ms is None or time_ms % 1000 else time_ms // 1000


def _amounts(text: str) -> tuple[int, ...] | None:
    """Return ``"21-15-9"`` or ``"21, 15, 9"`` as whole numbers, or None."""
    counts = [read_count(one) for one in re.split(r"[-–,\s]+", text.strip(" ,-–"))]
    known = tuple(count for count in counts if count is not None)
    return known if len(known) == len(counts) else None


def _places(text: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.upper() for one in re.split(r"[\s,]+", text) if one))
