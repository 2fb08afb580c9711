"""The story of a division drawn: a line for each team, from its first place to its last."""

from itertools import pairwise

from callroom.views.story import Step, Story

_ROW, _EDGE, _DOT = 26, 12, 9
# The three that end in front are drawn on top and dark; the others stay readable in grey.
_FRONT = ("#17456b", "#a85a16", "#447a4c")
_OTHER = "#9aa1a7"


def story_svg(story: Story, *, rows_wide: float) -> str:
    """Return the places over the workouts as SVG, a row for each team, place 1 on top.

    Teams that share a place stand in the rows of it, in the final order, so that every line ends
    in the row of its team. The picture has no words: the sheet sets the names beside it. Empty
    for a story without steps.

    Parameters
    ----------
    rows_wide
        How wide the picture is, in heights of a row.
    """
    steps, teams = len(story.steps), len(story.teams)
    if not steps or not teams:
        return ""
    width, height = round(rows_wide * _ROW), teams * _ROW
    apart = (width - 2 * _EDGE) / max(steps - 1, 1)
    rows = [_rows(story, step) for step in story.steps]
    drawn = []
    for rank, team in reversed(list(enumerate(story.teams))):
        points = [
            (round(_EDGE + step * apart), row * _ROW + _ROW // 2)
            for step, found in enumerate(rows)
            if (row := found.get(team)) is not None
        ]
        drawn.append(_line(points, _FRONT[rank] if rank < len(_FRONT) else _OTHER))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}">{"".join(drawn)}</svg>'
    )


def _rows(story: Story, step: Step) -> dict[str, int]:
    """Return the row of each team that has a place after a step, from 0."""
    found: dict[str, int] = {}
    taken: dict[int, int] = {}
    for team in story.teams:
        place = step.places.get(team)
        if place is not None:
            found[team] = place - 1 + taken.get(place, 0)
            taken[place] = taken.get(place, 0) + 1
    return found


def _line(points: list[tuple[int, int]], colour: str) -> str:
    bold = colour != _OTHER
    path = "".join(
        f'<path d="{_curve(one, other)}" fill="none" stroke="{colour}" '
        f'stroke-width="{5 if bold else 2}"/>'
        for one, other in pairwise(points)
    )
    dots = "".join(
        f'<circle cx="{x}" cy="{y}" r="{_DOT if bold else _DOT - 4}" fill="{colour}"/>'
        for x, y in points
    )
    return path + dots


def _curve(one: tuple[int, int], other: tuple[int, int]) -> str:
    (x1, y1), (x2, y2) = one, other
    bend = (x2 - x1) // 2
    return f"M{x1} {y1}C{x1 + bend} {y1} {x2 - bend} {y2} {x2} {y2}"
