import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from callroom.exchange.faults import Spot
from callroom.exchange.toml_positions import Path, positions_in
from callroom.exchange.toml_text import toml_pairs

EVERY_FORM = '''# a comment with [brackets] and "quotes"
title = "x" # title = "no"
[a.b]
c = [1, # ]
 2, {d=3, "e.f" = """x
"y" \\""""}]
'k k'.z = 2020-01-01 10:00:00
q = 'C:\\'
[[w.x]]
q=1
[[w.x]]
q=2
  [w.x.sub]
  r = [[1],[2,3]]
[[w.x.deep]]
s='a'
"\\u00e9" = true
'''


def spot(text: str, needle: str, after: str = "") -> Spot:
    at = text.index(needle, text.index(after))
    return Spot(text.count("\n", 0, at) + 1, str(at - text.rfind("\n", 0, at)))


def every_path(value: object, path: Path = ()) -> list[Path]:
    if isinstance(value, dict):
        steps: Any = value.items()
    elif isinstance(value, list):
        steps = enumerate(value)
    else:
        return []
    return [
        one for step, inner in steps for one in ((*path, step), *every_path(inner, (*path, step)))
    ]


def test_keys_and_values_are_found_in_every_form_of_the_language() -> None:
    places = positions_in(EVERY_FORM)
    assert places.key(("title",)) == Spot(2, "1")
    assert places.value(("title",)) == Spot(2, "9")
    assert places.key(("a", "b", "c", 2, "e.f")) == spot(EVERY_FORM, '"e.f"')
    assert places.value(("a", "b", "k k", "z")) == spot(EVERY_FORM, "2020")
    assert places.key(("a", "b", "q")) == spot(EVERY_FORM, "q = 'C")
    assert places.key(("w", "x", 1, "q")) == spot(EVERY_FORM, "q=2")
    assert places.value(("w", "x", 1, "sub", "r", 1, 1)) == spot(EVERY_FORM, "3]]")
    assert places.key(("w", "x", 1, "deep", 0, "s")) == spot(EVERY_FORM, "s='a'")
    assert places.key(("w", "x", 1, "deep", 0, "é")) == spot(EVERY_FORM, '"\\u00e9"')


def test_every_path_of_the_parsed_values_has_a_place() -> None:
    places = positions_in(EVERY_FORM)
    paths = every_path(tomllib.loads(EVERY_FORM))
    assert len(paths) > 25
    assert [path for path in paths if path not in places.keys] == []


def test_a_missing_key_is_placed_at_its_table_and_a_missing_table_at_the_top() -> None:
    places = positions_in(EVERY_FORM)
    assert places.key(("w", "x", 0, "nothing")) == Spot(9, "1")
    assert places.value(("w", "x", 0, "nothing")) == Spot(9, "1")
    assert places.key(("nothing", "at", "all")) == Spot(1, "1")


def test_line_ends_of_windows_change_no_place() -> None:
    windows = EVERY_FORM.replace("\n", "\r\n")
    assert positions_in(windows) == positions_in(EVERY_FORM)


def test_where_the_text_is_torn_the_places_before_stay_right() -> None:
    torn = 'a = 1\nb = """never closed'
    assert positions_in(torn).keys == {("a",): Spot(1, "1"), ("b",): Spot(2, "1")}


keys = st.text("abcxyz-_09", min_size=1, max_size=6)
scalars = st.one_of(
    st.integers(-99, 99),
    st.booleans(),
    st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=12),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(keys, inner, max_size=3)),
    max_leaves=12,
)


@given(st.dictionaries(keys, values, max_size=5))
def test_whatever_is_written_each_key_stands_where_it_is_said(document: Any) -> None:
    text = toml_pairs(document)
    assert tomllib.loads(text) == document
    places = positions_in(text)
    for path in every_path(document):
        place = places.keys[path]
        line = text.split("\n")[place.row - 1]
        rest = line[int(place.column) - 1 :]
        assert isinstance(path[-1], int) or rest.startswith(path[-1])
