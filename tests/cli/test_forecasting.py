"""``callroom forecast`` as scripts rely on it."""

from pathlib import Path

import pytest

from callroom.exchange import demo_file
from tests.cli.running import callroom

pytestmark = pytest.mark.store


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with the demonstration's event, and nothing else."""
    folder = tmp_path_factory.mktemp("forecast")
    event = folder / "event.toml"
    event.write_bytes(demo_file("event.toml"))
    assert callroom("new", folder / "day.book").code == 0
    assert callroom("load", folder / "day.book", event).code == 0
    return folder / "day.book"


def test_json_tells_every_workout_part_and_division(book: Path) -> None:
    ran = callroom("forecast", book, "--teams", "100", "--seed", "3", "--json")
    assert ran.code == 0, ran.err
    day = ran.answer
    assert (day["teams"], day["seed"]) == (100, 3)
    assert len(day["workouts"]) == 5
    part = day["workouts"][0]["parts"][0]["divisions"][0]
    forecast = part["forecast"]
    assert forecast["finish_s"]["p10"] < forecast["finish_s"]["p90"]
    assert 0 <= forecast["under_cap_percent"] <= 100
    assert forecast["counts"]["p50"] <= part["total"]
    assert part["stall"] in forecast["steps"]
    floor = day["workouts"][0]["floors"][0]
    assert floor["floor_s"]["p90"] <= floor["planned_floor_s"]
    assert {one["division"] for one in day["programmes"]} == {"open", "steady", "pairs"}
    assert day["programmes"][0]["programme"]["capacities"]


def test_the_same_seed_says_the_same(book: Path) -> None:
    words = ("forecast", book, "--teams", "50", "--json")
    assert callroom(*words).out == callroom(*words).out


def test_people_read_it_in_sentences(book: Path) -> None:
    ran = callroom("forecast", book, "--teams", "100")
    assert ran.code == 0
    assert "in 100 finish by 10:00" in ran.out
    assert "holds the floor" in ran.out
    assert "endurance" in ran.out
    assert "warning" in ran.err


@pytest.mark.parametrize("teams", ["0", "many", "1000000"])
def test_a_number_of_teams_that_makes_no_sense_is_bad_input(book: Path, teams: str) -> None:
    ran = callroom("forecast", book, "--teams", teams)
    assert ran.code == 2
    assert teams in ran.err


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    assert callroom("new", tmp_path / "empty.book").code == 0
    ran = callroom("forecast", tmp_path / "empty.book")
    assert ran.code == 1
    assert "event" in ran.err
