"""Kit to collect and give back: a page for each lender, what is due first on top."""

from datetime import date
from decimal import Decimal

from callroom.bootstrap.language import language_of
from callroom.model import KitItem, Mass, from_milliseconds
from callroom.paper import kit_sheets_pdf
from callroom.views.kit_lenders import by_lender
from callroom.views.page_head import page_head
from tests.paper.reading import pages_of
from tests.views.building import example_event, example_state


def item(name: str, lender: str = "", due: date | None = None, mass: str = "") -> KitItem:
    load = Mass(amount=Decimal(mass), unit="kg") if mass else None
    return KitItem(
        id=name, name=name, kind="other", count=7, lender=lender, due_back=due, mass=load
    )


KIT = (
    item("Cone"),
    item("Rower", "Harbour Gym", date(2026, 11, 20)),
    item("Bar", "Harbour Gym", date(2026, 11, 16), mass="20"),
    item("Mat", "#strong[A] <b>Club</b>"),
)


def test_each_lender_has_a_page_and_our_own_comes_last() -> None:
    lenders = by_lender(KIT)
    assert [one.name for one in lenders] == ["#strong[A] <b>Club</b>", "Harbour Gym", ""]
    assert [one.name for one in lenders[1].items] == ["Bar", "Rower"]
    assert lenders[1].due_back == date(2026, 11, 16)
    state = example_state()
    pdf = kit_sheets_pdf(
        lenders,
        example_event(),
        page_head(state),
        size="a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=language_of("en").words,
    )
    pages = pages_of(pdf)
    assert len(pages) == 3
    assert "#strong[A] <b>Club</b>" in pages[0]
    assert "Bar, 20 kg" in pages[1]
    assert "Monday 16 November 2026" in pages[1]
    assert "Broken or missing" in pages[1]
    assert "Our own kit" in pages[2]
    assert "Broken or missing" not in pages[2]
