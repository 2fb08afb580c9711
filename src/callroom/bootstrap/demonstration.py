"""The demonstration event, loaded into a book like anybody's files, and planned."""

import tempfile
from pathlib import Path
from typing import get_args

from callroom.actions.planned import publish_plan_with_rota
from callroom.actions.planning import limits, plan_request
from callroom.bootstrap.books import AT_THE_KEYBOARD, book_for_commands, new_book, open_book
from callroom.bootstrap.loading import Files, Loaded, load_files
from callroom.bootstrap.planning import OnProgress, plan_apart, unheard
from callroom.bootstrap.rota_making import made_for
from callroom.exchange import DemoFile, demo_file
from callroom.model import BadInput

_PLANNING_S = 10


def make_demo_book(path: Path, on_progress: OnProgress = unheard) -> None:
    """Make a book of the demonstration event, loaded and planned, with its rota.

    Raises
    ------
    JournalError
        If there is a file already, or the place is not fit for a book.
    BadInput
        If the day cannot be planned, with the reasons.
    """
    new_book(path)
    load_demo(path)
    book = open_book(path)
    try:
        reply = plan_apart(plan_request(book.state, limits(_PLANNING_S)), on_progress)
        if reply.plan is None:
            raise BadInput(reply.findings)
        rota = made_for(book.state, reply.plan, search=False)
        asked = publish_plan_with_rota(reply.plan, rota, book.state.rota_rules)
        book.ask_now(AT_THE_KEYBOARD, asked, key="plan-1")
    finally:
        book.close()


def load_demo(path: Path) -> Loaded:
    """Load the demonstration's files into the book at `path`."""
    with tempfile.TemporaryDirectory() as folder:
        for name in get_args(DemoFile):
            (Path(folder) / name).write_bytes(demo_file(name))
        book = book_for_commands(path)
        try:
            return load_files(
                book,
                Files(
                    event=Path(folder) / "event.toml",
                    teams=Path(folder) / "teams.csv",
                    crew=Path(folder) / "crew.csv",
                    kit=Path(folder) / "kit.csv",
                ),
            )
        finally:
            book.close()
