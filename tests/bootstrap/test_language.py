"""Spanish is a whole language: dates, numbers, sentences, pages and paper."""

from datetime import date
from decimal import Decimal

import msgspec
import pytest

from callroom.bootstrap.language import accepted, language_of
from callroom.bootstrap.speech import speech_for
from callroom.model import Mass, State
from callroom.views import wording
from callroom.views.money_wording import money
from tests.views.building import example_state

SPANISH = language_of("es").words


@pytest.mark.parametrize("tag", ["es", "es-MX", "es-ES"])
def test_a_country_speaks_its_language_where_it_has_no_catalogue_of_its_own(tag: str) -> None:
    language = language_of(tag)
    assert language.tag == tag
    assert language.words.gettext("Heat") == "Tanda"


@pytest.mark.parametrize("tag", ["en", "tlh", ""])
def test_a_language_without_texts_is_english_and_says_so(tag: str) -> None:
    language = language_of(tag)
    assert language.tag == "en"
    assert language.words.gettext("Heat") == "Heat"


def test_days_and_numbers_are_written_as_the_language_writes_them() -> None:
    # Unicode CLDR 46, es: full date "EEEE, d 'de' MMMM 'de' y", decimal mark ",".
    assert wording.long_date(date(2027, 5, 15), SPANISH) == "sábado, 15 de mayo de 2027"
    assert wording.mass(Mass(amount=Decimal("42.5"), unit="kg"), SPANISH) == "42,5 kg"
    assert wording.mass(Mass(amount=Decimal("42.5"), unit="kg")) == "42.5 kg"
    assert money(123450, "EUR", SPANISH).replace("\u202f", " ").replace("\xa0", " ") == (
        "1 234,50 EUR"
    )


def test_work_on_paper_is_told_in_the_language_of_the_event() -> None:
    state = example_state()
    assert state.event is not None
    spanish = msgspec.structs.replace(
        state, event=msgspec.structs.replace(state.event, language="es")
    )
    said = speech_for(spanish)
    assert said.words.gettext("For time, cap {time}") == "Por tiempo, límite {time}"
    assert speech_for(state).words.gettext("For time, cap {time}") == "For time, cap {time}"
    assert speech_for(State()).words.gettext("Heat") == "Heat"


@pytest.mark.parametrize(
    ("asked", "tag"),
    [
        ("es-ES,es;q=0.9,en;q=0.8", "es-ES"),
        ("de, es;q=0.5", "es"),
        ("en-GB,es;q=0.9", "en"),
        ("fr;q=0.9, es;q=0", "en"),
        ("", "en"),
        ("../../etc,*;q=x,,;", "en"),
    ],
)
def test_a_browser_says_what_its_user_reads(asked: str, tag: str) -> None:
    assert accepted(asked).tag == tag
