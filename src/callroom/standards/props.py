"""The things in a figure: how each kind of kit is drawn, and whether before or behind the body."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from callroom.model.movement import DrawnKind, View
from callroom.standards import props_held as held
from callroom.standards import props_machines as machines
from callroom.standards import props_standing as standing
from callroom.standards.pose import Joints
from callroom.standards.scene import Thing
from callroom.standards.sight import BEHIND, Prop, Sight


def draw_thing(thing: Thing, joints: Joints, view: View) -> tuple[Prop, ...]:
    """Return the layers of a thing, each with its place in depth."""
    props = _DRAW[thing.drawn.draw](Sight(thing, joints, view))
    if thing.drawn.behind:
        return tuple(Prop(BEHIND, prop.layers) for prop in props)
    return props


_DRAW: Mapping[DrawnKind, Callable[[Sight], tuple[Prop, ...]]] = MappingProxyType(
    {
        "barbell": held.barbell,
        "dumbbell": held.dumbbell,
        "dumbbell_end": held.dumbbell_end,
        "kettlebell": held.kettlebell,
        "ball": held.ball,
        "box": standing.box,
        "bench": standing.bench,
        "rig": standing.rig,
        "rings": standing.rings,
        "climbing_rope": standing.climbing_rope,
        "skipping_rope": standing.skipping_rope,
        "wall": standing.wall,
        "target": standing.target,
        "mark": standing.mark,
        "line": standing.line,
        "obstacle": standing.obstacle,
        "mat": standing.mat,
        "sandbag": held.sandbag,
        "yoke": machines.yoke,
        "farmer_handle": held.farmer_handle,
        "sled": machines.sled,
        "strap": machines.strap,
        "tyre": machines.tyre,
        "log": held.log,
        "long_log": held.long_log,
        "keg": held.keg,
        "rower": machines.rower,
        "ski": machines.ski,
        "bike": machines.bike,
        "water": standing.water,
        "cone": standing.cone,
    }
)
