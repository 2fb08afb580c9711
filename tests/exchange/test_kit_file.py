"""Kit from a table."""

from decimal import Decimal

import pytest

from callroom.exchange import read_event, read_kit
from callroom.model import KitItem, Mass
from callroom.views.sentences import sentence
from tests.exchange.files import SMALL_EVENT, places, refused
from tests.exchange.sheets import workbook

EVENT = read_event(SMALL_EVENT.encode())
KIT = """\
Item;Kind;Pieces;Mass;Floor;Borrowed from
Barbell;bar;7;20 kg;Main floor;
Barbell;Bar;6;45 lb;main;Thornwick Loft
Plate;plate;14;2,5 kg;;
Cone;other;60;;;
"""


def test_pieces_are_read_with_masses_as_marked() -> None:
    assert read_kit(KIT.encode(), EVENT).kit == (
        KitItem(
            id="barbell", name="Barbell", kind="bar", count=7, mass=Mass(amount=Decimal(20)),
            floor="main",
        ),
        KitItem(
            id="barbell_2", name="Barbell", kind="bar", count=6,
            mass=Mass(amount=Decimal(45), unit="lb"), floor="main", lender="Thornwick Loft",
        ),
        KitItem(id="plate", name="Plate", kind="plate", count=14, mass=Mass(amount=Decimal("2.5"))),
        KitItem(id="cone", name="Cone", kind="other", count=60),
    )  # fmt: skip


def test_a_workbook_reads_like_a_csv() -> None:
    rows: list[list[object]] = [list(line.split(";")) for line in KIT.splitlines()]
    for row in rows[1:]:
        row[2] = int(str(row[2]))
    assert read_kit(workbook(rows), EVENT) == read_kit(KIT.encode(), EVENT)


HEAD = "Id,Name,Kind,Count,Mass,Floor"
FAULTS = [
    (f"{HEAD}\na,Bar,bat,1,,", "table.not_known_near", "C", '"bar"'),
    (f"{HEAD}\na,Bar,bar,,,", "table.cell_empty", "D", "Fill it in"),
    (f"{HEAD}\na,Bar,bar,7.5,,", "table.no_whole", "D", "from 0"),
    (f"{HEAD}\na,Bar,bar,-1,,", "table.no_whole", "D", "from 0"),
    (f"{HEAD}\na,Bar,bar,1,20,", "table.no_mass", "E", "20 kg"),
    (f"{HEAD}\na,Bar,bar,1,20 kg / 45 lb,", "table.no_mass", "E", "one mass"),
    (f"{HEAD}\na,Bar,bar,1,2 x 20 kg,", "table.no_mass", "E", "one mass"),
    (f"{HEAD}\na,Bar,bar,1,,yard", "table.not_known", "F", "Main floor"),
    (f"{HEAD}\na b,Bar,bar,1,,", "table.id_form", "A", "40 letters"),
    (f"{HEAD}\na,Bar,bar,1,,\na,Rod,bar,1,,", "table.id_twice", "A", "row 2"),
]


@pytest.mark.parametrize(("text", "rule", "column", "mend"), FAULTS)
def test_a_fault_is_placed_and_the_mend_is_named(
    text: str, rule: str, column: str, mend: str
) -> None:
    findings = refused(read_kit, text.encode(), EVENT, "kit.csv")
    row = text.count("\n") + 1
    assert places(findings) == [(rule, row, column)]
    assert sentence(findings[0]).startswith(f"kit.csv, row {row}, column {column}: ")
    assert mend in sentence(findings[0])
