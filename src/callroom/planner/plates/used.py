"""How much of the kit a plan really used at one time."""

from collections.abc import Iterable, Mapping

import msgspec

from callroom.model.event import Event
from callroom.model.kit import KitItem
from callroom.model.mass import Mass
from callroom.model.movement import Movement
from callroom.model.plan import Plan
from callroom.model.team import Team
from callroom.planner.plates.kit import Need, Needs, at_once, fits, heat_needs


class KitUsed(msgspec.Struct, frozen=True, kw_only=True):
    """A thing of the kit list: how many there were, and the most in use at one time.

    `had` counts all lines of the list that will do, `borrowed` those that have a lender;
    `lenders` are named once each. `loads` are the masses it may have (none: any mass).
    """

    item: str
    loads: tuple[Mass, ...]
    had: int
    borrowed: int
    lenders: tuple[str, ...]
    most: int

    @property
    def needless(self) -> int:
        """How many of the borrowed ones could have stayed where they were."""
        return max(min(self.borrowed, self.had - self.most), 0)


def kit_used(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    kit: Iterable[KitItem],
    movements: Mapping[str, Movement],
) -> tuple[KitUsed, ...]:
    """Return what the heats of a plan had in use of the kit list, things by name.

    Plates are not among them: how many a bar takes is decided by its loading. What no heat
    needed stands at the end, as used by none.
    """
    known, items = {team.id: team for team in teams}, tuple(kit)
    needs = {heat.id: heat_needs(event, heat, known, movements) for heat in plan.heats}
    most: Needs = {}
    for heat in plan.heats:
        for need, count in at_once(heat, plan.heats, needs).items():
            most[need] = max(most.get(need, 0), count)
    found = []
    asked: set[str] = set()
    for need in sorted(most, key=lambda one: (one.item, [load.grams() for load in one.loads])):
        fitting = [item for item in items if fits(item, need)]
        asked |= {item.id for item in fitting}
        if fitting:
            found.append(_used(need, fitting, most[need]))
    for item in items:
        if item.id not in asked and item.kind != "plate":
            loads = () if item.mass is None else (item.mass,)
            found.append(_used(Need(item.name, loads), [item], 0))
    return tuple(found)


def _used(need: Need, items: list[KitItem], most: int) -> KitUsed:
    lent = [item for item in items if item.lender]
    return KitUsed(
        item=need.item.replace("_", " "),
        loads=need.loads,
        had=sum(item.count for item in items),
        borrowed=sum(item.count for item in lent),
        lenders=tuple(dict.fromkeys(item.lender for item in lent)),
        most=most,
    )
