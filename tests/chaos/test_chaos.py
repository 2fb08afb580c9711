"""Bad links, phones that die, a server that is killed: no score is lost, none counts twice."""

from pathlib import Path

import pytest

from tests.chaos.book import chaos_book
from tests.chaos.playing import play_chaos

pytestmark = [pytest.mark.store, pytest.mark.slow]


def test_a_flaky_day_ends_as_the_same_day_without_a_fault(tmp_path: Path) -> None:
    template = tmp_path / "day.book"
    chaos_book(template)
    day = play_chaos(template, tmp_path, seed=2, kills=1)
    assert (day.lost, day.double) == (0, 0)
    assert day.typed == day.scheduled > 80
    assert day.same
    # It was a bad day indeed.
    assert day.server_kills == 1
    assert day.phone_kills > 0
    assert day.sends > day.typed * 1.2
