"""The movement library: what each movement asks for, as data.

Decides: which movements exist, their points of performance, no-rep reasons, kit, space,
usual cadence and cautions, and the figures drawn from joint angles.
Never does: judge a result or forecast a pace. It reads its own data files, and a director's
own movement files where they are named.
May import: ``model``.
"""

from callroom.standards.faults import Fault, faults
from callroom.standards.figure import figure_svg, movement_svgs
from callroom.standards.library import (
    Library,
    Loaded,
    all_movements,
    built_in,
    load_movements,
    movement,
    read_movements,
)
from callroom.standards.measuring import holds, unmet
from callroom.standards.own import Own, check_own, library_with, read_movement, read_own
from callroom.standards.pose import Pose
from callroom.standards.rules import PLACE_FACTS, RULES
from callroom.standards.scene import Scene, scene_of

__all__ = [
    "PLACE_FACTS",
    "RULES",
    "Fault",
    "Library",
    "Loaded",
    "Own",
    "Pose",
    "Scene",
    "all_movements",
    "built_in",
    "check_own",
    "faults",
    "figure_svg",
    "holds",
    "library_with",
    "load_movements",
    "movement",
    "movement_svgs",
    "read_movement",
    "read_movements",
    "read_own",
    "scene_of",
    "unmet",
]
