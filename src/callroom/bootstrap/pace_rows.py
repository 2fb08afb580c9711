"""Paces of forecasts in a form that answers can be remembered by."""

from collections.abc import Mapping
from types import MappingProxyType

Paces = Mapping[tuple[str, str], Mapping[str, int]]
"""By workout and division, then part: how slow teams are, in thousandths of the model's times."""

AS_MODELLED: Paces = MappingProxyType({})

Rows = tuple[tuple[str, str, str, int], ...]
"""The same as rows of workout, division, part and thousandths, in order."""


def frozen(paces: Paces) -> Rows:
    """Return paces as rows."""
    return tuple(
        (workout, division, part, permille)
        for (workout, division), parts in sorted(paces.items())
        for part, permille in sorted(parts.items())
    )


def thawed(rows: Rows) -> Paces:
    """Return paces that rows tell."""
    found: dict[tuple[str, str], dict[str, int]] = {}
    for workout, division, part, permille in rows:
        found.setdefault((workout, division), {})[part] = permille
    return found
