"""Where the landmarks of a scene are, on the body and on the things around it."""

from callroom.model.movement import Landmark
from callroom.standards.body import FLESH
from callroom.standards.pose import SIDES
from callroom.standards.scene import Scene, Thing
from callroom.standards.vector import UP, Vector, middle

STATURE_M = 1.75


class Unmeasured(KeyError):
    """A landmark that a scene does not show."""

    def __init__(self, landmark: str, stage: str = "") -> None:
        """Keep the landmark, and the stage of the figure where it is known."""
        super().__init__(landmark)
        self.landmark = landmark
        self.stage = stage


_FLESH_OF = {
    "hand": "hand",
    "elbow": "elbow",
    "knee": "knee",
    "hip": "hip",
    "shoulder": "shoulder",
    "ankle": "ankle",
    "wrist": "wrist",
}


def radius_m(name: str, scene: Scene) -> float:
    """Return how far the surface lies from the landmark's centre [m]."""
    if name in _FLESH_OF:
        return FLESH[_FLESH_OF[name]] * STATURE_M
    if name == "load":
        return max((_size_m(thing) / 2 for thing in _things("load", scene)), default=0.0)
    return {"rig": 0.02, "bar": 0.02, "rings": 0.02, "rope": 0.03, "target": 0.2}.get(name, 0.0)


_USUAL_SIZE_M = {"ball": 0.36, "kettlebell": 0.2, "sandbag": 0.3, "tyre": 0.3, "keg": 0.38}


def _size_m(thing: Thing) -> float:
    usual = _USUAL_SIZE_M.get(thing.drawn.draw, 0.2)
    return (
        usual if thing.drawn.size_m is None or thing.drawn.draw == "sandbag" else thing.drawn.size_m
    )


_KINDS = {
    "bar": ("barbell", "farmer_handle", "yoke"),
    "load": (
        "dumbbell",
        "dumbbell_end",
        "kettlebell",
        "ball",
        "sandbag",
        "keg",
        "log",
        "long_log",
        "tyre",
    ),
    "rig": ("rig",),
    "rings": ("rings",),
    "rope": ("climbing_rope", "skipping_rope"),
    "target": ("target", "mark"),
    "wall": ("wall",),
    "line": ("line",),
    "box": ("box",),
    "bench": ("bench",),
    "obstacle": ("obstacle",),
    "machine": ("rower", "ski", "bike"),
}


def _things(name: str, scene: Scene) -> tuple[Thing, ...]:
    return scene.things_called(*_KINDS.get(name, ()))


def positions(name: Landmark, scene: Scene) -> dict[str, Vector]:
    """Return where a landmark is [m], by side; of what has no sides, under ``""``.

    Raises
    ------
    Unmeasured
        If the scene does not show it.
    """
    joints = scene.joints
    if name == "ground":
        return {"": Vector(0.0, 0.0)}
    if name in _KINDS:
        return _thing_positions(name, scene)
    if name == "top_of_knee":
        thick = UP * (FLESH["knee"] * STATURE_M)
        return {side: joints[f"{side}_knee"] + thick for side in SIDES}
    if name == "foot":
        return {side: middle(joints[f"{side}_heel"], joints[f"{side}_toes"]) for side in SIDES}
    if name in joints:
        return {"": joints[name]}
    if f"near_{name}" in joints:
        return {side: joints[f"{side}_{name}"] for side in SIDES}
    raise Unmeasured(name)


def _thing_positions(name: str, scene: Scene) -> dict[str, Vector]:
    things = _things(name, scene)
    if not things:
        raise Unmeasured(name)
    if name in {"box", "obstacle"}:
        usual = {"box": 0.6, "obstacle": 0.18}[name]
        return {"": things[0].at + UP * (things[0].drawn.tall_m or usual)}
    held = {"near_hand": "near", "far_hand": "far"}
    if len(things) == 2 and all(thing.drawn.at in held for thing in things):
        return {held[thing.drawn.at]: thing.at for thing in things}
    return {"": things[0].at}
