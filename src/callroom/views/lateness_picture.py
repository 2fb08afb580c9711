"""How late each floor ran over the day, drawn: a step for each heat that began."""

from collections.abc import Sequence
from itertools import groupby

from callroom.views.lessons import HeatTook

_WIDE, _HIGH, _EDGE = 720, 150, 8
_COLOURS = ("#17456b", "#a85a16", "#447a4c", "#7a2f4f")


def lateness_svg(heats: Sequence[HeatTook]) -> str:
    """Return the lateness of the floors over the day as SVG without words; empty before two heats.

    The line at the foot is on time; what is above it is late. The scale is that of
    :func:`most_late_s`.
    """
    if len(heats) < 2:
        return ""
    first, last = min(one.began_s for one in heats), max(one.began_s for one in heats)
    top = max(most_late_s(heats), 1)
    drawn = [
        f'<path d="M0 {_HIGH - _EDGE}H{_WIDE}" stroke="#565d63" stroke-width="1"/>',
        f'<path d="M0 {_EDGE}H{_WIDE}" stroke="#ced2d6" stroke-width="1" stroke-dasharray="4 4"/>',
    ]
    for number, floor in enumerate(floors_of(heats)):
        points = [
            (
                round(_WIDE * (one.began_s - first) / max(last - first, 1)),
                round(_HIGH - _EDGE - (_HIGH - 2 * _EDGE) * max(one.late_s, 0) / top),
            )
            for one in heats
            if one.floor == floor
        ]
        path = f"M{points[0][0]} {points[0][1]}" + "".join(f"H{x}V{y}" for x, y in points[1:])
        colour = _COLOURS[number % len(_COLOURS)]
        drawn.append(f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="3"/>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE} {_HIGH}" width="{_WIDE}" '
        f'height="{_HIGH}">{"".join(drawn)}</svg>'
    )


def most_late_s(heats: Sequence[HeatTook]) -> int:
    """Return how late the latest heat began [s], at least a minute."""
    return max(60, *(one.late_s for one in heats))


def floors_of(heats: Sequence[HeatTook]) -> tuple[str, ...]:
    """Return the floors of the picture, in the order of their colours."""
    return tuple(floor for floor, _ in groupby(sorted(one.floor for one in heats)))


def colour_of(number: int) -> str:
    """Return the colour of a floor's line by its place in :func:`floors_of`."""
    return _COLOURS[number % len(_COLOURS)]
