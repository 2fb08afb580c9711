"""A request that could not be stored is refused before it can reach its neighbours."""

import pytest

from callroom.journal import META, NOTES, PEOPLE, SECRETS, Request
from callroom.journal.store import BadRequest
from callroom.journal.store.side import MAX_VALUE_BYTES
from callroom.model.person import Note, Person
from tests.journal.counting import Tally


def ask(**fields: object) -> Request[Tally]:
    given: dict[str, object] = {
        "actor": "judge",
        "device": "pad-1",
        "key": "k",
        "content": b"",
        "decide": lambda _: [],
        **fields,
    }
    return Request(**given)  # type: ignore[arg-type]


@pytest.mark.parametrize("field", ["actor", "device", "key"])
@pytest.mark.parametrize("given", ["", "a\nb", "a\x00b", "half a pair \ud800", "x" * 201])
def test_names_that_no_table_should_hold(field: str, given: str) -> None:
    with pytest.raises(BadRequest) as refused:
        ask(**{field: given})
    assert refused.value.facts["field"] == field


@pytest.mark.parametrize("field", ["seen_at_ms", "clock_error_ms"])
@pytest.mark.parametrize("given", [2**60, -(2**60)])
def test_times_beyond_whole_numbers_everywhere(field: str, given: int) -> None:
    with pytest.raises(BadRequest):
        ask(**{field: given})


def test_a_wrong_clock_is_no_reason_to_refuse_a_report() -> None:
    assert ask(seen_at_ms=0, clock_error_ms=-(10**12)).seen_at_ms == 0


def test_the_digest_is_that_of_the_content() -> None:
    assert ask(content=b"a").digest != ask(content=b"b").digest
    assert ask(content=b"a").digest == ask(content=b"a", key="other").digest


def test_side_values_are_checked_where_they_are_made() -> None:
    with pytest.raises(BadRequest):
        PEOPLE.put("p1", Person(name=7))  # type: ignore[arg-type]
    with pytest.raises(BadRequest):
        NOTES.put("p1/1", Note(text="half \ud800", author="desk", at_ms=0))
    with pytest.raises(BadRequest):
        SECRETS.put("token", 7)  # type: ignore[arg-type]
    with pytest.raises(BadRequest):
        META.put("", "no id")
    with pytest.raises(BadRequest) as refused:
        META.put("long", "x" * (MAX_VALUE_BYTES + 1))
    assert refused.value.facts["most"] == MAX_VALUE_BYTES
