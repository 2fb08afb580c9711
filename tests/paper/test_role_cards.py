"""The cards of the roles: one page each, whatever the names, with the way to join."""

import io

import pypdf
import pytest
from msgspec.structs import replace

from callroom.bootstrap.language import language_of
from callroom.model import from_milliseconds
from callroom.paper import PaperSize, role_cards_pdf
from callroom.views.role_cards import RoleCards, role_cards
from callroom.views.work_wording import speech_of
from tests.paper.reading import count_pages, pages_of, qr_codes_of
from tests.views.building import example_event, example_state

TITLES = ("Judge", "Desk", "Floor manager", "Announcer", "Check-in")


def drawn(view: RoleCards, size: PaperSize = "a4", language: str = "en") -> bytes:
    event = replace(example_event(), language=language)
    speech = speech_of(event, {}, language_of(language).words)
    return role_cards_pdf(
        view, size=size, at=from_milliseconds(example_state().at_ms), speech=speech
    )


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_a_page_for_each_role_says_what_to_do_when_it_goes_wrong(size: PaperSize) -> None:
    view = replace(role_cards(example_state()), emergency_number="112", heads=("Ada Quill",))
    pages = pages_of(drawn(view, size))
    assert [page.split("\n")[0].strip() for page in pages] == list(TITLES)
    for page in pages:
        assert "When something goes wrong" in page
        assert "112" in page
    for title, page in zip(TITLES, pages, strict=True):
        assert ("Ada Quill" in page) == (title != "Announcer")


def test_the_code_leads_to_where_a_phone_joins() -> None:
    pdf = drawn(role_cards(example_state()))
    assert qr_codes_of(pdf, 1) == {"http://192.168.1.20:8000/join"}


def heights_around(page: pypdf.PageObject, label: str) -> tuple[list[float], list[float]]:
    """How high the texts drawn before a label lie, and the label and those after it [pt]."""
    found: list[tuple[str, float]] = []

    def note(text: str, cm: list[float], tm: list[float], _font: object, _size: float) -> None:
        if text.strip():
            found.append((text.strip(), cm[3] * tm[5] + cm[5]))

    page.extract_text(visitor_text=note)
    at = next(index for index, (text, _) in enumerate(found) if text.startswith(label))
    heights = [height for _, height in found]
    return heights[:at], heights[at:]


@pytest.mark.parametrize("size", ["a4", "us-letter"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_the_longest_names_keep_to_one_page(size: PaperSize, language: str) -> None:
    long = "#panic() Wolfeschlegelsteinhausen " * 9
    view = replace(
        role_cards(example_state()),
        join="http://a-very-long-name-of-a-laptop." + "x" * 200 + "/join",
        heads=(long, long, "W" * 200),
        managers=(long, long, "W" * 200),
        emergency_number=long,
        first_aid_place="W" * 300,
        aed_place=long,
    )
    pdf = drawn(view, size, language)
    assert count_pages(pdf) == len(TITLES)
    label = language_of(language).words.gettext("Whom to ask")
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        above, below = heights_around(page, label)
        assert min(above) > max(below)
