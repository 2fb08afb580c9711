"""Places against SciPy's ranks, and against their definition."""

from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import rankdata  # type: ignore[import-untyped]

from callroom.scoring import places
from callroom.scoring.rank import ranking

numbers = st.lists(st.integers(-5, 5) | st.integers(-(2**53), 2**53), min_size=1, max_size=40)


@given(numbers)
def test_places_are_scipys_least_ranks(keys: list[int]) -> None:
    assert places(keys) == rankdata(keys, method="min").tolist()


@given(st.lists(st.none() | st.integers(0, 6), max_size=30))
def test_keys_that_are_missing_take_no_place(keys: list[int | None]) -> None:
    there = [key for key in keys if key is not None]
    expected = [None if key is None else 1 + sum(k < key for k in there) for key in keys]
    found, order = ranking(keys)
    assert found == expected
    assert sorted(order) == list(range(len(keys)))
    in_order = [found[index] for index in order]
    assert in_order[: len(there)] == sorted(place for place in found if place is not None)
    assert in_order[len(there) :] == [None] * (len(keys) - len(there))


def test_whole_numbers_beyond_floats_are_told_apart() -> None:
    assert places([2**60 + 1, 2**60, 2**60 + 1]) == [2, 1, 2]
