"""Before a workout's release nothing of it leaks through files that leave the house."""

import zipfile
from pathlib import Path

import pytest
from msgspec.structs import replace

from callroom.actions.load import load
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.exporting import export_files
from tests.actions.day_building import EVENT
from tests.bootstrap.day_books import day_book

pytestmark = pytest.mark.store

NAME = "Nobody knows this yet"


def test_neither_results_nor_calendars_name_an_unreleased_workout(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    day_book(path).close()
    hidden = replace(EVENT.workouts[1], name=NAME, text=NAME, release_s=10**9)
    event = replace(EVENT, workouts=(EVENT.workouts[0], hidden))
    book = open_book(path)
    book.ask_now(AT_THE_KEYBOARD, load(book.state, event=event), key="hidden")
    book.close()
    for file in export_files(path, tmp_path / "files"):
        if file.name not in {"book.json", "event.toml"}:  # the director's own copies
            assert NAME.encode() not in plain(file), file


def plain(file: Path) -> bytes:
    """The bytes of a file, those of a workbook unpacked."""
    if file.suffix != ".xlsx":
        return file.read_bytes()
    with zipfile.ZipFile(file) as workbook:
        return b"".join(workbook.read(name) for name in workbook.namelist())
