"""Movements: what an athlete must do, and what a judge looks for, as data.

Angles follow the clinical neutral-zero convention unless a bound says otherwise: a straight
limb has 0 degrees of flexion, which is 180 degrees between the two bones. Because both
numbers are in use, every angle bound names how it `reads`.
"""

from decimal import Decimal
from typing import Literal

import msgspec

LONGEST_LABEL = 18
"""Characters of a no-rep label: what a phone's button holds in one line."""

Family = Literal[
    "barbell", "dumbbell", "kettlebell", "ball", "hanging", "floor", "jump", "object", "engine"
]
CountUnit = Literal["reps", "metres", "calories", "seconds"]
Cost = Literal["repetition", "stretch", "stand_still", "attempt"]
Capacity = Literal[
    "pull",
    "press",
    "hinge",
    "squat",
    "lunge",
    "carry",
    "jump",
    "core",
    "grip",
    "load",
    "engine",
    "skill",
    "balance",
]
LoadStyle = Literal["none", "bar", "one", "each", "object"]
Setting = Literal["load", "box_height", "target_height", "bar_height", "rope_height", "machine"]

Landmark = Literal[
    "top_of_head",
    "chin",
    "chest",
    "back",
    "shoulder",
    "elbow",
    "wrist",
    "hand",
    "seat",
    "hip",
    "hip_crease",
    "knee",
    "top_of_knee",
    "ankle",
    "heel",
    "toes",
    "foot",
    "body",
    "ground",
    "bar",
    "load",
    "rig",
    "rings",
    "rope",
    "box",
    "bench",
    "target",
    "wall",
    "line",
    "obstacle",
    "machine",
]
Joint = Literal["knee", "hip", "elbow", "shoulder", "trunk", "thigh", "upper_arm", "shank", "body"]
Reading = Literal["flexion", "interior", "from_vertical", "from_horizontal"]
Side = Literal["both", "either", "near", "far"]
Relation = Literal["above", "at_or_above", "level", "at_or_below", "below"]

Stage = str
THROUGHOUT: Stage = "throughout"

DrawnKind = Literal[
    "barbell",
    "dumbbell",
    "dumbbell_end",
    "kettlebell",
    "ball",
    "box",
    "bench",
    "rig",
    "rings",
    "climbing_rope",
    "skipping_rope",
    "wall",
    "target",
    "mark",
    "line",
    "obstacle",
    "mat",
    "sandbag",
    "yoke",
    "farmer_handle",
    "sled",
    "strap",
    "tyre",
    "log",
    "long_log",
    "keg",
    "rower",
    "ski",
    "bike",
    "water",
    "cone",
]
Attachment = Literal["floor", "hands", "near_hand", "far_hand", "shoulders", "feet", "waist"]
View = Literal["side", "front"]


class Angle(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="measure",
    tag="angle",
):
    """A bound on an angle [degrees].

    `flexion` is 0 for a straight limb, `interior` is the angle between the two bones (180
    for the same limb). `from_vertical` and `from_horizontal` read how far a segment leans:
    the trunk (hip to shoulder), the thigh, the shank, the upper arm, or the whole body
    (hands or shoulders to ankles). At least one of the two bounds is given.
    """

    joint: Joint
    reads: Reading
    at_least_deg: float | None = None
    at_most_deg: float | None = None
    side: Side = "both"


class Height(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="measure",
    tag="height",
):
    """One landmark above, level with or below another."""

    landmark: Landmark
    relation: Relation
    than: Landmark
    side: Side = "both"


class Touch(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="measure",
    tag="touch",
):
    """Two landmarks that must touch, or must stay clear of each other."""

    landmark: Landmark
    on: Landmark
    touches: bool = True
    side: Side = "both"


class Over(
    msgspec.Struct,
    frozen=True,
    forbid_unknown_fields=True,
    kw_only=True,
    tag_field="measure",
    tag="over",
):
    """One landmark above another in plan: their horizontal distance is at most `within_m`."""

    landmark: Landmark
    over: Landmark
    within_m: float
    side: Side = "both"


Measure = Angle | Height | Touch | Over


class Point(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A point of performance.

    Attributes
    ----------
    at
        When it must be true: the stage of one of the movement's figures (``"start"``,
        ``"bottom"``, ``"finish"``), or ``"throughout"``.
    landmark
        The part of the body, or the thing, it concerns.
    says
        The sentence a judge and an athlete read.
    measures
        The relations that decide it where it can be measured; all of them must hold.
    unless, only_with
        The id of a variation that lifts this point where it is allowed, and of one that
        brings it.
    """

    at: Stage
    landmark: Landmark
    says: str
    measures: tuple[Measure, ...] = ()
    unless: str = ""
    only_with: str = ""


class Variation(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Another way of doing it, which a division may allow or bar.

    `usual` is what holds when a division says nothing. A variation may also ask for more
    ("without swinging"): where it is allowed it brings points and no-reps of its own.
    `strain_percent` is how hard one of it is, of one done as without it [%].
    """

    id: str
    name: str
    says: str
    usual: Literal["allowed", "barred"]
    strain_percent: int = 100


class NoRep(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A reason for which a judge does not count.

    Attributes
    ----------
    label
        What stands on a phone's button, at most 18 characters.
    says
        The sentence on the card.
    cost
        ``repetition``: this one is not counted. ``stretch``: the distance since the last
        mark is not counted and is done again. ``stand_still``: nothing counts until the
        position is regained. ``attempt``: the whole try is lost.
    unless, only_with
        The id of a variation that lifts this reason where it is allowed, and of one that
        brings it.
    """

    id: str
    label: str
    says: str
    cost: Cost
    unless: str = ""
    only_with: str = ""


class JudgePlace(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Where the judge stands and what they watch."""

    stands: str
    watches: str


class Counting(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the work is counted.

    `counts` says when one counts; `mark` is how many units make one usual count (5 with
    metres: every complete five metres).
    """

    unit: CountUnit
    counts: str
    mark: int = 1


class KitNeed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A thing one athlete at work needs, or (`per` ``lane``) that a lane needs once."""

    item: str
    count: int = 1
    per: Literal["athlete", "lane"] = "athlete"


class Space(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The clear room one athlete at work needs [m]: along the lane, across it, and upward."""

    length_m: Decimal
    width_m: Decimal
    height_m: Decimal
    says: str = ""


class Rate(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How fast it goes, unbroken and at a load that suits the athlete.

    `low` and `high` bound the usual range in `unit` (equal where a source gives one figure);
    `source` names the publication, or says "common practice, no source".
    """

    unit: Literal["s_per_rep", "m_per_s", "s_per_500m", "kcal_per_min", "s"]
    level: Literal["advanced", "intermediate", "measured"]
    low: Decimal
    high: Decimal
    source: str
    who: Literal["all", "women", "men"] = "all"


class Drawn(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A thing drawn in a figure.

    `at` is what it is fastened to, `x_m` and `y_m` the offset of its centre from there
    (from the spot between the feet on the ground for ``floor``) [m], `turn_deg` its turn
    anticlockwise, `size_m` and `tall_m` its size where that is not the usual one; `behind`
    puts it behind the body (a bag on the far shoulder).
    """

    draw: DrawnKind
    at: Attachment = "floor"
    x_m: float = 0.0
    y_m: float = 0.0
    turn_deg: float = 0.0
    size_m: float | None = None
    tall_m: float | None = None
    behind: bool = False


class Figure(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One drawn position: a pose by id, the things around it, and a caption.

    `people` draws the same pose several times, `spaced_m` apart, for work in step.
    """

    stage: Stage
    pose: str
    caption: str
    kit: tuple[Drawn, ...] = ()
    view: View = "side"
    people: int = 1
    spaced_m: float = 0.9


class Movement(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A movement standard.

    Attributes
    ----------
    id, name, many
        ``"box_jump"``, ``"Box jump"``, and what stands after a number: ``"box jumps"``.
    load, settings
        How a load is said ("each" for two dumbbells), and what a division must set.
    start, finish
        The position it begins and ends in, in a sentence each.
    points, variations, no_reps
        What must happen, what else may be allowed, and what does not count.
    counting
        The units it can be counted in, the usual one first.
    together
        What must happen at once when several athletes do it in step; empty where it
        cannot be done so.
    cadence
        Usual speeds with their sources.
    figures
        The drawn positions in order, from ``start`` to ``finish``.
    """

    id: str
    name: str
    many: str
    family: Family
    start: str
    points: tuple[Point, ...]
    finish: str
    no_reps: tuple[NoRep, ...]
    judge: JudgePlace
    counting: tuple[Counting, ...]
    space: Space
    cadence: tuple[Rate, ...]
    capacities: tuple[Capacity, ...]
    load: LoadStyle = "none"
    settings: tuple[Setting, ...] = ()
    variations: tuple[Variation, ...] = ()
    together: tuple[str, ...] = ()
    kit: tuple[KitNeed, ...] = ()
    cautions: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()

    def figure(self, stage: Stage) -> Figure:
        """Return the figure of `stage`; KeyError if there is none."""
        for figure in self.figures:
            if figure.stage == stage:
                return figure
        raise KeyError(stage)

    def allowed(self, switched: dict[str, bool] | None = None) -> frozenset[str]:
        """Return the ids of the variations allowed, after a division's own switches."""
        choice = switched or {}
        return frozenset(
            one.id for one in self.variations if choice.get(one.id, one.usual == "allowed")
        )

    def strain(self, switched: dict[str, bool] | None = None) -> float:
        """Return how hard one is where a division switches variations, of a usual one [ratio].

        Athletes use what makes it easier as soon as they may.
        """
        choice, ratio = switched or {}, 1.0
        for one in self.variations:
            usual = one.usual == "allowed"
            if choice.get(one.id, usual) != usual:
                ratio *= 100 / one.strain_percent if usual else one.strain_percent / 100
        return ratio

    def points_for(self, allowed: frozenset[str]) -> tuple[Point, ...]:
        """Return the points in force where the variations `allowed` may be used."""
        return tuple(point for point in self.points if _in_force(point, allowed))

    def no_reps_for(self, allowed: frozenset[str]) -> tuple[NoRep, ...]:
        """Return the no-rep reasons in force where the variations `allowed` may be used."""
        return tuple(reason for reason in self.no_reps if _in_force(reason, allowed))


def _in_force(one: Point | NoRep, allowed: frozenset[str]) -> bool:
    return one.unless not in allowed and (not one.only_with or one.only_with in allowed)
