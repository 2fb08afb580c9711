"""Machines, and heavy frames that are carried, pushed, pulled or flipped."""

from callroom.standards.shapes import Capsule, Disc, Layer, Line, rectangle
from callroom.standards.sight import BEHIND, HELD, Prop, Sight, frame, lines, opaque, solid, tint


def yoke(sight: Sight) -> tuple[Prop, ...]:
    """Draw a yoke."""
    x, y = sight.centre
    base = y + sight.tall(1.28)
    post = Line(((x, y - 22), (x, base)))
    runner = Line(((x - 48, base), (x + 48, base)))
    stays = [Line(((x, base - 34), (x + side * 34, base))) for side in (-1, 1)]
    weights = [Disc((x + side * 26, base - 24), 19) for side in (-1, 1)]
    return (
        Prop(BEHIND, (lines(post, runner, *stays), tint(*weights))),
        Prop(HELD, (solid(Disc((x, y), 4.5)),)),
    )


def sled(sight: Sight) -> tuple[Prop, ...]:
    """Draw a sled."""
    x, y = sight.centre
    tall = sight.tall(0.98)
    skid = Line(((x - 46, y - 3), (x + 46, y - 3), (x + 55, y - 14)))
    posts = [Line(((x + at, y - 3), (x + at, y - tall))) for at in (-36, 36)]
    load = [rectangle((x, y - 9 - step * 8), 42, 7) for step in range(4)]
    return (Prop(BEHIND, (lines(skid, *posts), solid(*load))),)


def strap(sight: Sight) -> tuple[Prop, ...]:
    """Draw a strap."""
    held = sight.spot("near_hand")
    return (Prop(BEHIND, (lines(Line((held, sight.centre))),)),)


def tyre(sight: Sight) -> tuple[Prop, ...]:
    """Draw a tyre."""
    wide, thick = sight.size(1.15), sight.tall(0.30)
    corner = 10
    half_w, half_t = wide / 2, thick / 2
    outline = Line(
        tuple(
            sight.part(px, py)
            for px, py in (
                (-half_w + corner, -half_t),
                (half_w - corner, -half_t),
                (half_w, -half_t + corner),
                (half_w, half_t - corner),
                (half_w - corner, half_t),
                (-half_w + corner, half_t),
                (-half_w, half_t - corner),
                (-half_w, -half_t + corner),
            )
        ),
        closed=True,
    )
    treads = [
        Line((sight.part(at, -half_t + 5), sight.part(at + 5, half_t - 5)))
        for at in range(int(-half_w) + 14, int(half_w) - 12, 14)
    ]
    return (Prop(BEHIND, (opaque(outline), Layer("fig-kit-thin", tuple(treads)))),)


def rower(sight: Sight) -> tuple[Prop, ...]:
    """Draw a rowing machine under its rower."""
    x, _ = sight.centre
    seat, hand = sight.spot("tailbone"), sight.spot("near_hand")
    rail_y = seat[1] + 8
    wheel = (x + 108, -46)
    rail = Line(((x - 78, rail_y + 3), (x + 68, rail_y - 1)))
    legs = [
        Line(((x - 70, rail_y + 3), (x - 76, 0))),
        Line(((x - 88, 0), (x - 64, 0))),
        Line(((x + 68, rail_y - 1), wheel)),
        Line((wheel, (x + 104, 0))),
        Line(((x + 84, 0), (x + 128, 0))),
    ]
    foot_rest = Line(((x + 47, -12), (x + 64, -42)))
    seat_pad = rectangle((seat[0], seat[1] + 3), 26, 6)
    chain = Line((hand, (wheel[0] - 12, wheel[1] - 20)))
    return (
        Prop(
            BEHIND,
            (
                frame(rail, *legs, foot_rest),
                Layer("fig-frame-tint", (Disc(wheel, 27),), gap=True),
                Layer("fig-thin", (chain,)),
                Layer("fig-frame-tint", (seat_pad,), gap=True),
            ),
        ),
        Prop(HELD, (solid(Disc(hand, 3.0)),)),
    )


def ski(sight: Sight) -> tuple[Prop, ...]:
    """Draw a ski machine: a tower with two cords."""
    x = sight.centre[0]
    top = -sight.tall(2.12)
    tower = Line(((x, 0), (x, top)))
    base = Line(((x - 48, 0), (x + 22, 0)))
    housing = rectangle((x + 8, top + 34), 22, 68)
    cords = [Line((sight.spot(f"{side}_hand"), (x - 3, top + 4))) for side in ("near", "far")]
    return (
        Prop(
            BEHIND,
            (
                frame(tower, base),
                Layer("fig-frame-tint", (housing,), gap=True),
                Layer("fig-thin", tuple(cords)),
            ),
        ),
        Prop(HELD, (solid(Disc(sight.spot("near_hand"), 3.2)),)),
    )


def bike(sight: Sight) -> tuple[Prop, ...]:
    """Draw a bike machine under its rider."""
    seat = sight.spot("tailbone")
    feet = [sight.spot(f"{side}_ball") for side in ("near", "far")]
    hub = ((feet[0][0] + feet[1][0]) / 2, (feet[0][1] + feet[1][1]) / 2)
    fan = (hub[0] + 62, hub[1] - 8)
    base = Line(((hub[0] - 50, 0), (fan[0] + 20, 0)))
    spine = Line(((seat[0], seat[1] + 4), hub, fan))
    stays = [Line((hub, (hub[0] - 8, 0))), Line((fan, (fan[0] + 2, 0)))]
    cranks = Line((feet[0], feet[1]))
    levers = [
        Line(((hub[0] + 26, hub[1] - 6), sight.spot(f"{side}_hand"))) for side in ("far", "near")
    ]
    saddle = Capsule((seat[0] - 9, seat[1] + 2), 4, (seat[0] + 10, seat[1] + 3), 2.5)
    return (
        Prop(
            BEHIND,
            (
                frame(base, spine, *stays, *levers),
                Layer("fig-frame-tint", (Disc(fan, 34),), gap=True),
                frame(Disc(hub, 9), cranks),
                Layer("fig-frame-tint", (saddle,), gap=True),
            ),
        ),
    )
