"""The page about formats is true: its examples load, and it leaves out no key and no column."""

import re
from pathlib import Path

import pytest

from callroom.exchange import crew_file, kit_file, read_event, read_kit, read_teams, teams_file
from callroom.exchange.toml_section import Section
from callroom.model.checking import check_event
from callroom.model.crew import POSTS
from callroom.views.sentences import sentence
from tests.exchange.files import refused

PAGE = (Path(__file__).parents[2] / "docs" / "formats.md").read_text(encoding="utf-8")


def example(language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)```", PAGE, re.DOTALL)
    assert found is not None
    return found[1]


def test_the_event_of_the_example_is_sound() -> None:
    event = read_event(example("toml").encode())
    assert check_event(event) == ()
    assert [workout.id for workout in event.workouts] == ["w1", "w2"]


def test_the_teams_of_the_example_fit_its_event() -> None:
    event = read_event(example("toml").encode())
    found = read_teams(example("csv").encode(), event)
    assert found.findings == ()
    assert found.teams[0].entry_rank == 3


def test_every_key_that_is_read_is_described(monkeypatch: pytest.MonkeyPatch) -> None:
    known: set[str] = set()
    close = Section.close

    def noting(self: Section) -> None:
        known.update(self._known)
        close(self)

    monkeypatch.setattr(Section, "close", noting)
    read_event(example("toml").encode())
    assert len(known) > 80
    missing = {key for key in known if not re.search(rf"(?<![a-z_]){key}(?![a-z_])", PAGE)}
    assert missing == set()


@pytest.mark.parametrize("module", [teams_file, crew_file, kit_file])
def test_every_column_and_its_other_names_are_described(module: object) -> None:
    columns = module.COLUMNS  # type: ignore[attr-defined]
    assert [one.name for one in columns if f"`{one.name}`" not in PAGE] == []


def test_every_post_is_described() -> None:
    assert [post for post in POSTS if post.replace("_", " ") not in PAGE] == []


def test_the_messages_of_the_page_are_those_that_are_given() -> None:
    text = example("toml").replace('cap = "10:00"', 'capp = "10:00"', 1)
    row = text.split("\n").index('capp = "10:00"') + 1
    said = [sentence(found) for found in refused(read_event, text.encode())]
    assert (
        f'event.toml, line {row}, column 1: "capp" is not known here. Did you mean "cap"?' in said
    )
    assert '"capp" is not known here. Did you mean "cap"?' in PAGE


def test_a_kit_list_needs_only_three_columns() -> None:
    event = read_event(example("toml").encode())
    assert read_kit(b"Name,Kind,Count\nBox,other,3\n", event).kit[0].count == 3
