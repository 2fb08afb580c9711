"""Bodies to canonical text and back, strictly; old versions upgraded in one place."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.journal import BadData, Codec, Kind, NewerVersion, UnknownKind
from callroom.journal.codec import MAX_DATA_BYTES
from callroom.journal.entries.kinds import KINDS as REAL_KINDS
from tests.journal.counting import CODEC, KINDS, Body, Confirmed, Counted


class Weighed(Body, frozen=True):
    """Third version of a kind; the first had pounds, the second no unit in the name."""

    team: str
    load_g: int
    smallest: Decimal = Decimal("0.5")
    on: date | None = None
    tags: Mapping[str, tuple[int, ...]] = {}


def pounds_to_load(fields: dict[str, Any]) -> dict[str, Any]:
    fields["load"] = fields.pop("pounds") * 453_592 // 1000
    return fields


def load_to_grams(fields: dict[str, Any]) -> dict[str, Any]:
    fields["load_g"] = fields.pop("load")
    return fields


WEIGHING = Codec(
    {"team.weighed": Kind(3, Weighed)},
    {("team.weighed", 1): pounds_to_load, ("team.weighed", 2): load_to_grams},
)

texts = st.text(st.characters(codec="utf-8"))
weighings = st.builds(
    Weighed,
    team=texts,
    load_g=st.integers(-(2**63), 2**63 - 1),
    smallest=st.decimals(allow_nan=False, allow_infinity=False),
    on=st.none() | st.dates(),
    tags=st.dictionaries(texts, st.lists(st.integers(0, 9)).map(tuple)),
)


@given(weighings)
def test_round_trip(body: Weighed) -> None:
    written = WEIGHING.encode(body)
    assert (written.kind, written.version) == ("team.weighed", 3)
    assert written.body == body
    assert WEIGHING.decode(written.kind, written.version, written.data) == body


@given(weighings)
def test_equal_bodies_have_equal_text(body: Weighed) -> None:
    reordered = msgspec.structs.replace(body, tags=dict(reversed(list(body.tags.items()))))
    assert WEIGHING.encode(reordered).data == WEIGHING.encode(body).data


def test_the_text_is_canonical() -> None:
    body = Weighed(team="Ü", load_g=100, tags={"b": (1,), "a": ()})
    expected = '{"load_g":100,"on":null,"smallest":"0.5","tags":{"a":[],"b":[1]},"team":"Ü"}'
    assert WEIGHING.encode(body).data == expected.encode()


@pytest.mark.parametrize(
    "data",
    [
        b'{"lane":"1","reps":3.0}',
        b'{"lane":"1","reps":3e0}',
        b'{"lane":"1","reps":"3"}',
        b'{"lane":"1","reps":true}',
        b'{"lane":"1","reps":-1}',
        b'{"lane":"1","reps":3,"reps":3}',
        b'{"lane":"1","reps":3,"extra":null}',
        b'{"lane":"1"}',
        b'{"lane":null,"reps":3}',
        b'{"lane":"1","reps":NaN}',
        b'{"lane":"1","reps":3} ',
        b'{"lane":"1","reps":3}x',
        b'["1",3]',
        b"3",
        b"",
        b"\xff\xfe{}",
        b'{"lane":"\xff","reps":3}',
        b'{"lane":' + b"[" * 100_000,
    ],
)
def test_strict_reading(data: bytes) -> None:
    if data.endswith(b"} "):
        # White space changes nothing that could be misread.
        assert CODEC.decode("lane.counted", 1, data) == Counted(lane="1", reps=3)
        return
    with pytest.raises(BadData) as refused:
        CODEC.decode("lane.counted", 1, data)
    assert refused.value.facts["kind"] == "lane.counted"


def test_a_field_given_twice_inside_is_found_too() -> None:
    data = b'{"load_g":1,"team":"T","tags":{"a":[1],"a":[2]}}'
    with pytest.raises(BadData, match="given twice"):
        WEIGHING.decode("team.weighed", 3, data)


def test_unknown_kinds_and_newer_versions_are_told_apart_from_bad_data() -> None:
    with pytest.raises(UnknownKind) as unknown:
        CODEC.decode("lane.weighed", 1, b"{}")
    assert unknown.value.facts == {"seq": 0, "kind": "lane.weighed", "version": 1}
    with pytest.raises(NewerVersion) as newer:
        CODEC.decode("lane.counted", 2, b"{}")
    assert newer.value.facts == {"seq": 0, "kind": "lane.counted", "version": 2, "known": 1}
    with pytest.raises(BadData):
        CODEC.decode("lane.counted", 0, b'{"lane":"1","reps":3}')


@given(st.integers(0, 10**6))
def test_old_versions_are_upgraded_step_by_step(pounds: int) -> None:
    first = msgspec.json.encode({"team": "T1", "pounds": pounds})
    second = msgspec.json.encode({"team": "T1", "load": 77})
    grams = pounds * 453_592 // 1000
    assert WEIGHING.decode("team.weighed", 1, first) == Weighed(team="T1", load_g=grams)
    assert WEIGHING.decode("team.weighed", 2, second) == Weighed(team="T1", load_g=77)


@pytest.mark.parametrize("data", [b'{"team":"T1"}', b'{"team":"T1","pounds":"x"}'])
def test_old_data_that_never_was_valid_is_bad_data(data: bytes) -> None:
    with pytest.raises(BadData):
        WEIGHING.decode("team.weighed", 1, data)


def test_what_cannot_be_read_back_is_not_written() -> None:
    for body in (
        Counted(lane="1", reps=-1),
        Counted(lane="1", reps=2.5),  # type: ignore[arg-type]
        Counted(lane="half \ud800", reps=1),
        Confirmed(lane="x" * MAX_DATA_BYTES),
    ):
        with pytest.raises(BadData):
            CODEC.encode(body)


def test_a_body_without_a_kind_is_a_mistake_in_the_code() -> None:
    with pytest.raises(TypeError, match="Weighed"):
        CODEC.encode(Weighed(team="T", load_g=1))


def test_tables_that_do_not_fit_each_other_are_refused() -> None:
    with pytest.raises(ValueError, match="upgraders"):
        Codec({"team.weighed": Kind(2, Weighed)})
    with pytest.raises(ValueError, match="upgraders"):
        Codec(KINDS, {("lane.counted", 1): load_to_grams})
    with pytest.raises(ValueError, match="share a body"):
        Codec({"a": Kind(1, Counted), "b": Kind(1, Counted)})


def test_callrooms_own_kinds_make_a_codec() -> None:
    Codec(REAL_KINDS)
    for name, kind in REAL_KINDS.items():
        assert kind.version >= 1, name
        assert kind.body.__struct_config__.forbid_unknown_fields, name
        assert kind.body.__struct_config__.frozen, name
