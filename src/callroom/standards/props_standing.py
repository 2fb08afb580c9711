"""Things that stand, hang or lie on the floor: boxes, bars, walls, marks."""

from math import pi, radians, sin

from callroom.standards.shapes import Disc, Layer, Line, rectangle
from callroom.standards.sight import BEFORE, BEHIND, HELD, Prop, Sight, frame, lines, opaque, solid


def box(sight: Sight) -> tuple[Prop, ...]:
    """Draw a box."""
    wide, tall = sight.size(0.55), sight.tall(0.6)
    x, y = sight.centre
    crate = rectangle((x, y - tall / 2), wide, tall)
    grip = Line(((x - 7, y - tall * 0.68), (x + 7, y - tall * 0.68)))
    return (Prop(BEHIND, (opaque(crate), lines(grip))),)


def bench(sight: Sight) -> tuple[Prop, ...]:
    """Draw a bench."""
    x, y = sight.centre
    long, tall = sight.size(1.15), sight.tall(0.43)
    pad = rectangle((x, y - tall + 4.5), long, 9)
    legs = [Line(((x + at, y - tall + 10), (x + at, y))) for at in (-long * 0.36, long * 0.36)]
    return (Prop(BEHIND, (frame(*legs), Layer("fig-frame-tint", (pad,), gap=True))),)


def rig(sight: Sight) -> tuple[Prop, ...]:
    """Draw a rig."""
    x, y = sight.centre
    back = x - sight.size(0.85)
    post = Line(((back, 0), (back, y), (x, y)))
    brace = Line(((back, y + 30), (back + 30, y)))
    return (
        Prop(BEHIND, (frame(post, brace),)),
        Prop(HELD, (solid(Disc((x, y), 2.6)),)),
    )


def rings(sight: Sight) -> tuple[Prop, ...]:
    """Draw a rings."""
    x, y = sight.centre
    ring = Disc((x, y - 8.5), 9.5)
    strap = Line(((x, y - 18), (x, y - 18 - sight.tall(0.6))))
    return (Prop(BEHIND, (frame(strap),)), Prop(HELD, (lines(ring),)))


def climbing_rope(sight: Sight) -> tuple[Prop, ...]:
    """Draw a climbing rope."""
    x, y = sight.centre
    rope = Line(((x, y), (x, y - sight.tall(3.0))))
    return (Prop(BEHIND, (Layer("fig-kit-rope", (rope,)),)),)


def skipping_rope(sight: Sight) -> tuple[Prop, ...]:
    """Draw a skipping rope."""
    hand = sight.spot("near_hand")
    apex = sight.centre
    bow = sight.thing.drawn.turn_deg
    way = (apex[0] - hand[0], apex[1] - hand[1])
    spots = []
    for step in range(25):
        share = step / 24
        swell = bow * sin(pi * share) * 0.25
        spots.append(
            (
                hand[0] + way[0] * share - way[1] * swell / 100,
                hand[1] + way[1] * share + way[0] * swell / 100,
            )
        )
    handle = Line((hand, (hand[0] + 9, hand[1] + 1)))
    return (
        Prop(BEHIND, (lines(Line(tuple(spots))),)),
        Prop(BEFORE, (lines(handle),)),
    )


def wall(sight: Sight) -> tuple[Prop, ...]:
    """Draw a wall."""
    x, y = sight.centre
    tall = sight.tall(2.4)
    face = Line(((x, y), (x, y - tall)))
    ticks = [Line(((x, y - at), (x + 8, y - at - 8))) for at in range(6, int(tall) - 8, 22)]
    return (Prop(BEHIND, (frame(face), Layer("fig-thin", tuple(ticks)))),)


def target(sight: Sight) -> tuple[Prop, ...]:
    """Draw a target."""
    x, y = sight.centre
    post = Line(((x, 0), (x, y - 26)))
    ring = rectangle((x - 2, y), 6, 34)
    return (Prop(BEHIND, (frame(post), solid(ring))),)


def mark(sight: Sight) -> tuple[Prop, ...]:
    """Draw a mark."""
    x, y = sight.centre
    return (Prop(BEHIND, (Layer("fig-tape", (Line(((x - 9, y), (x + 9, y))),)),)),)


def line(sight: Sight) -> tuple[Prop, ...]:
    """Draw a line."""
    x, y = sight.centre
    tape = Line(((x - 5, y + 1), (x + 5, y + 1)))
    flag = Line(((x, y), (x, y - sight.tall(0.45))))
    return (Prop(BEHIND, (Layer("fig-guide", (flag,)), Layer("fig-tape", (tape,)))),)


def obstacle(sight: Sight) -> tuple[Prop, ...]:
    """Draw a obstacle."""
    x, y = sight.centre
    wide, tall = sight.size(1.2), sight.tall(0.18)
    block = Line(
        (
            (x - wide / 2, y),
            (x - wide / 2 + 16, y - tall),
            (x + wide / 2 - 16, y - tall),
            (x + wide / 2, y),
        ),
        closed=True,
    )
    return (Prop(BEHIND, (opaque(block),)),)


def mat(sight: Sight) -> tuple[Prop, ...]:
    """Draw a mat."""
    x, y = sight.centre
    thick = sight.tall(0.05)
    return (
        Prop(
            BEHIND,
            (Layer("fig-frame-tint", (rectangle((x, y - thick / 2), sight.size(0.6), thick),)),),
        ),
    )


def water(sight: Sight) -> tuple[Prop, ...]:
    """Draw a water."""
    x, y = sight.centre
    half = sight.size(2.6) / 2
    surface = tuple(
        (x - half + step * 4.0, y + 3.2 * sin(radians(step * 24)))
        for step in range(int(half / 2) + 1)
    )
    return (Prop(BEHIND, (Layer("fig-water", (Line(surface),)),)),)


def cone(sight: Sight) -> tuple[Prop, ...]:
    """Draw a cone."""
    x, y = sight.centre
    shape = Line(((x - 10, y), (x - 2, y - 26), (x + 2, y - 26), (x + 10, y)), closed=True)
    return (Prop(BEHIND, (opaque(shape),)),)
