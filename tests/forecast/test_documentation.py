"""The page about the forecast names every parameter and every public function."""

import tomllib
from pathlib import Path

import callroom.forecast

PAGE = (Path(__file__).parents[2] / "docs" / "forecast.md").read_text(encoding="utf-8")
DATA = Path(callroom.forecast.__file__).parent / "data"


def test_every_parameter_of_athletes_and_teams_is_explained() -> None:
    tables = tomllib.loads((DATA / "athletes.toml").read_text(encoding="utf-8"))
    tables["categories"] = tables["categories"]["other"]
    keys = {key for table in tables.values() for key in table if key != "source"}
    assert {key for key in keys if f"`{key}`" not in PAGE} == set()


def test_every_table_of_work_is_explained() -> None:
    tables = tomllib.loads((DATA / "work.toml").read_text(encoding="utf-8"))
    assert {name for name in tables if f"`{name}`" not in PAGE} == set()


def test_every_public_function_is_listed() -> None:
    public = {name for name in callroom.forecast.__all__ if name[0].islower()}
    assert {name for name in public if f"`{name}(" not in PAGE} == set()


def test_every_table_of_parameters_has_a_source() -> None:
    tables = tomllib.loads((DATA / "athletes.toml").read_text(encoding="utf-8"))
    flat = [table for name, table in tables.items() if name != "categories"]
    assert all(table["source"] for table in [*flat, *tables["categories"].values()])
