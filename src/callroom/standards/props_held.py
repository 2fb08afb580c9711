"""Things that are lifted, carried or thrown."""

from math import cos, pi, sin

from callroom.standards.shapes import Capsule, Disc, Layer, Line, arc, rectangle
from callroom.standards.sight import BEFORE, BEHIND, HELD, Prop, Sight, lines, opaque, solid


def barbell(sight: Sight) -> tuple[Prop, ...]:
    """Draw a barbell."""
    if sight.view == "front":
        bar = Line((sight.part(-105, 0), sight.part(105, 0)))
        plates = [rectangle(sight.part(side * 72, 0), 9, sight.size(0.45)) for side in (-1, 1)]
        return (Prop(HELD, (lines(bar), solid(*plates))),)
    plate = Disc(sight.centre, sight.size(0.45) / 2)
    return (
        Prop(BEHIND, (Layer("fig-kit-wash", (plate,)),)),
        Prop(BEFORE, (lines(plate), solid(Disc(sight.centre, 2.6)))),
    )


def dumbbell(sight: Sight) -> tuple[Prop, ...]:
    """Draw a dumbbell."""
    handle = Line((sight.part(-8, 0), sight.part(8, 0)))
    heads = [rectangle(sight.part(side * 12, 0), 8.5, 15, sight.turn) for side in (-1, 1)]
    return (_in_hand(sight, lines(handle), solid(*heads)),)


def dumbbell_end(sight: Sight) -> tuple[Prop, ...]:
    """Draw a dumbbell end."""
    corners = tuple(
        sight.part(9.5 * cos(step * pi / 3), 9.5 * sin(step * pi / 3)) for step in range(6)
    )
    return (_in_hand(sight, solid(Line(corners, closed=True))),)


def _in_hand(sight: Sight, *layers: Layer) -> Prop:
    """Return layers held in a hand: the far hand's are behind the body, and paler."""
    if sight.thing.drawn.at == "far_hand" and sight.view == "side":
        pale = tuple(Layer(f"{layer.style}-far", layer.shapes, gap=layer.gap) for layer in layers)
        return Prop(BEHIND, pale)
    return Prop(HELD, layers)


def kettlebell(sight: Sight) -> tuple[Prop, ...]:
    """Draw a kettlebell."""
    bell = Disc(sight.part(0, -16), sight.size(0.2) / 2)
    handle = Line(
        (
            sight.part(-7, -9),
            sight.part(-6, -1),
            sight.part(0, 1.5),
            sight.part(6, -1),
            sight.part(7, -9),
        )
    )
    return (_in_hand(sight, lines(handle), solid(bell)),)


def ball(sight: Sight) -> tuple[Prop, ...]:
    """Draw a ball."""
    radius = sight.size(0.36) / 2
    seam = arc(sight.part(-radius * 1.1, 0), radius * 1.05, radius * 1.05, (-52, 52))
    return (Prop(HELD, (opaque(Disc(sight.centre, radius)), lines(seam))),)


def sandbag(sight: Sight) -> tuple[Prop, ...]:
    """Draw a sandbag."""
    half, thick = sight.size(0.62) / 2, sight.tall(0.30) / 2
    bag = Capsule(sight.part(-half + thick, 0), thick, sight.part(half - thick, 0), thick)
    seams = [
        Line((sight.part(at, -thick * 0.86), sight.part(at, thick * 0.86)))
        for at in (-half + thick * 0.9, half - thick * 0.9)
    ]
    return (Prop(HELD, (opaque(bag), lines(*seams))),)


def farmer_handle(sight: Sight) -> tuple[Prop, ...]:
    """Draw a farmer handle."""
    rail = Line((sight.part(-62, 0), sight.part(62, 0)))
    plates = [rectangle(sight.part(side * 46, 0), 8, sight.size(0.36)) for side in (-1, 1)]
    return (_in_hand(sight, lines(rail), solid(*plates)),)


def log(sight: Sight) -> tuple[Prop, ...]:
    """Draw a log."""
    radius = sight.size(0.29) / 2
    rings = [Disc(sight.centre, radius * share) for share in (0.62, 0.28)]
    whole = Disc(sight.centre, radius)
    return (
        Prop(BEHIND, (Layer("fig-kit-wash", (whole,)),)),
        Prop(BEFORE, (lines(whole), Layer("fig-kit-thin", tuple(rings)))),
    )


def long_log(sight: Sight) -> tuple[Prop, ...]:
    """Draw a long log."""
    long, thick = sight.size(3.4), sight.tall(0.2)
    trunk = rectangle(sight.centre, long, thick, sight.turn)
    grain = [
        Line((sight.part(-long / 2 + 14, at), sight.part(long / 2 - 10, at))) for at in (-4, 3)
    ]
    return (Prop(HELD, (opaque(trunk), Layer("fig-kit-thin", tuple(grain)))),)


def keg(sight: Sight) -> tuple[Prop, ...]:
    """Draw a keg."""
    wide, tall = sight.size(0.38), sight.tall(0.58)
    barrel = rectangle(sight.centre, wide, tall, sight.turn)
    bands = [
        Line((sight.part(-wide / 2 - 1.5, at), sight.part(wide / 2 + 1.5, at)))
        for at in (-tall * 0.2, tall * 0.2)
    ]
    return (Prop(HELD, (opaque(barrel), lines(*bands))),)
