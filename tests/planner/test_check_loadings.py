"""Every rule of the loadings' check has loadings that break it."""

from collections.abc import Sequence

import pytest

from callroom.model import KitItem, Mass
from callroom.model.plates import Loading
from callroom.planner.check import check_loadings
from callroom.planner.check.plates import count_moves
from callroom.planner.check.plates_rules import RULES
from tests.planner.plate_days import kg, kit_of, lb, stock

BAR = kg(20)
KIT = kit_of(stock({"20": 2, "10": 2}))


def loading(
    *sleeve: Mass, lane: int = 1, wanted: int | None = None, bar: Mass | None = BAR
) -> Loading:
    loads = () if wanted is None else (kg(wanted),)
    return Loading(heat="h", lane=lane, wanted=loads, bar=bar, sleeve=sleeve)


def found(*loadings: Loading, kit: Sequence[KitItem] = KIT, most: int = 8) -> set[str]:
    return {one.rule for one in check_loadings(kit, loadings, most_on_sleeve=most)}


SOUND = loading(kg(20), kg(10), wanted=80)

BREACHES = {
    "check.plates_too_many": (loading(kg(20), kg(20), kg(20), wanted=140),),
    "check.bars_too_many": (loading(), loading(lane=2), loading(lane=3)),
    "check.plate_unknown": (loading(lb(45)),),
    "check.load_doubled": (SOUND, loading()),
    "check.plates_without_bar": (loading(kg(10), bar=None),),
    "check.light_inside": (loading(kg(10), kg(20), wanted=80),),
    "check.load_not_reached": (loading(kg(20), wanted=70),),
    "check.lane_without_bar": (loading(wanted=20, bar=None),),
}


def test_sound_loadings_pass() -> None:
    assert found(SOUND, loading(lane=2)) == set()


@pytest.mark.parametrize("rule", BREACHES)
def test_a_planted_breach_is_found(rule: str) -> None:
    assert rule in found(*BREACHES[rule])


def test_a_sleeve_takes_only_so_many_plates() -> None:
    assert found(SOUND, most=1) == {"check.sleeve_too_full"}


def test_every_rule_is_broken_by_some_loading() -> None:
    assert set(BREACHES) | {"check.sleeve_too_full"} == {rule.rule for rule in RULES}


def test_pounds_are_not_taken_for_kilograms() -> None:
    kit = kit_of(stock({"10": 2}))
    heavy = Loading(heat="h", lane=1, wanted=(lb(90), kg(40)), bar=kg(20), sleeve=(kg(10),))
    assert found(heavy, kit=kit) == set()
    only_pounds = Loading(heat="h", lane=1, wanted=(lb(88),), bar=kg(20), sleeve=(kg(10),))
    assert found(only_pounds, kit=kit) == {"check.load_not_reached"}


def test_moves_are_counted_from_the_outside_in() -> None:
    steps = [
        Loading(heat=name, lane=1, bar=kg(20), sleeve=sleeve)
        for name, sleeve in (
            ("a", (kg(20), kg(10))),
            ("b", (kg(20), kg(5))),
            ("c", (kg(5),)),
        )
    ]
    order = [("a", 1), ("b", 1), ("c", 1)]
    assert count_moves(steps, order) == (2 + 4) + (2 + 2) + (4 + 2)
