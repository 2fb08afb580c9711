"""Occupant loads, exits and first aid against published figures; the sources are beside each.

Every figure is for first planning: the local code, the fire authority and licensed
professionals decide.
"""

from fractions import Fraction

import pytest

from callroom.model.safety import AreaUse, Exit
from callroom.safety.crowd import (
    NARROWEST_DOOR_MM,
    exits_needed,
    persons_for,
    persons_out,
    persons_through,
    width_needed_mm,
)
from callroom.safety.first_aid import first_aiders_needed, seeking_help, shock_after_s

SQUARE_METRES_A_SQUARE_FOOT = Fraction("0.09290304")


@pytest.mark.parametrize(
    ("square_feet", "use", "persons"),
    [
        # International Building Code, table 1004.5 (2021): 3,000 sq ft of tables and chairs,
        # https://www.instapreview.co/guides/occupant-load-factors-by-occupancy
        (3000, "tables", 200),
        # Case study on the same table, https://community.blackspectacles.com/t/case-study-question/3544
        (720, "tables", 48),
        (50, "exercise", 1),
        (499, "standing", 99),
    ],
)
def test_persons_in_an_area(square_feet: int, use: AreaUse, persons: int) -> None:
    assert persons_for(square_feet * SQUARE_METRES_A_SQUARE_FOOT, use) == persons


@pytest.mark.parametrize(
    ("persons", "exits"), [(49, 1), (50, 2), (500, 2), (501, 3), (1000, 3), (1001, 4)]
)
def test_exits_by_persons(persons: int, exits: int) -> None:
    # International Building Code, section 1006.3,
    # https://usmadesupply.com/resources/building-codes-standards/emergency-life-safety/ibc-chapter-10
    assert exits_needed(persons) == exits


def test_exit_width() -> None:
    # International Building Code, section 1005.3: 300 persons need 60 inches; two doors of at
    # least 32, https://www.instapreview.co/guides/means-of-egress-ibc
    assert width_needed_mm(300) == 1524
    assert NARROWEST_DOOR_MM == 813
    assert persons_through(Exit(name="side", width_mm=1524)) == 300
    assert persons_through(Exit(name="hatch", width_mm=812)) == 0
    assert width_needed_mm(300, stairs=True) == 2286
    assert width_needed_mm(300, sprinklered=True) == 1143


def test_losing_one_exit_leaves_half() -> None:
    # International Building Code, section 1005.5,
    # https://helonic.com/knowledge-base/ibc-egress-width-requirements
    wide, narrow = Exit(name="gate", width_mm=2540), Exit(name="side", width_mm=1016)
    assert (persons_through(wide), persons_through(narrow)) == (500, 200)
    assert persons_out((wide, narrow)) == 400
    assert persons_out((wide, wide)) == 500  # two exits serve 500 at most
    assert persons_out((wide,)) == 49
    assert persons_out(()) == 0


@pytest.mark.parametrize(("persons", "needed"), [(80, 2), (1000, 2), (1001, 3), (3000, 6)])
def test_first_aiders(persons: int, needed: int) -> None:
    # The Event Safety Guide (HSE, UK), as repeated at https://bute-park.com/event_guide/
    # first-aid-provision/: two for each thousand up to 3,000, never fewer than two.
    assert first_aiders_needed(persons) == needed


def test_who_is_likely_to_need_them() -> None:
    # Lighthouse Risk Services, 2017: one to two per cent,
    # https://www.lighthouseriskservices.com/2017/07/whats-latest-first-aid-events/
    assert seeking_help(400) == (4, 8)


def test_the_defibrillator_is_reached_there_and_back() -> None:
    # American Heart Association placement advice as restated at
    # https://purchaseaeds.com/blog/how-many-aeds-should-a-facility-have: three minutes from
    # collapse to shock, timed there and back, pads on top.
    assert shock_after_s(60) == 180
