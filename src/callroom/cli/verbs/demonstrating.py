"""The verb that shows what Callroom does: an invented event, planned, printed and played."""

import tempfile
import webbrowser
from pathlib import Path
from typing import Any

import click

from callroom.actions.planning import PlanProgress
from callroom.bootstrap.books import open_book
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.exporting import export_files
from callroom.bootstrap.rehearsals import clock_for, rehearsal_of
from callroom.cli.rehearsal import Played, Stage, play
from callroom.cli.saying import NO, answering, json_option, progress, say_json
from callroom.cli.verbs.printing import write_pack
from callroom.cli.verbs.rehearsing import say_played, seed_option, teller
from callroom.cli.verbs.serving import stop_on_request
from callroom.cli.words import _
from callroom.model import State
from callroom.views.day_wording import day_clock
from callroom.views.results import results_digest


@click.command()
@click.option("--rehearse-only", is_flag=True, help="Play the day at once, write files, end.")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    help="The folder for the book and its files; a new temporary one by default.",
)
@click.option("--speed", default=60, show_default=True, help="Times real time, when served.")
@click.option("--port", default=8000, show_default=True, help="0: any free port.")
@click.option("--browser/--no-browser", default=True, help="Open a browser on it.")
@seed_option
@json_option
@answering
def demo(
    rehearse_only: bool,
    out: Path | None,
    speed: int,
    port: int,
    browser: bool,
    seed: int,
    as_json: bool,
) -> int | None:
    """Show a whole invented event: plan it, print it, serve it and play its day."""
    folder = out or Path(tempfile.mkdtemp(prefix="callroom-demo-"))
    folder.mkdir(parents=True, exist_ok=True)
    book = folder / "demo.book"
    book.unlink(missing_ok=True)
    make_demo_book(book, _tell)
    pack = folder / "print"
    copy = rehearsal_of(book, seed)
    opened = open_book(copy, clock=clock_for(copy, 0 if rehearse_only else speed))
    try:
        files = write_pack(opened.state, pack, "a4", 1, people=opened.people())
        progress(_("{count} sheets in {folder}.").format(count=len(files), folder=pack))
        with Stage(opened, port=0 if rehearse_only else port) as stage:
            progress(_("The rehearsal is served at {url}.").format(url=stage.url))
            if not rehearse_only:
                stop_on_request()
                if browser:
                    webbrowser.open(stage.url)
            played = play(opened, stage.url, seed, teller(_zone(opened.state)))
            say_played(played)
            if not rehearse_only:
                progress(_("The day is over; still serving. Stop with Ctrl-C."))
                stage.wait()
        state = opened.state
    finally:
        opened.close()
    files += export_files(copy, folder / "files")
    if as_json:
        say_json(_summary(state, played, files))
    return NO if played.refused else None


def _tell(met: PlanProgress) -> None:
    progress(
        _("a plan of {heats} heats; looking for a better one ({aim})").format(
            heats=len(met.plan.heats), aim=met.aim
        )
    )


def _zone(state: State) -> str:
    return state.event.zone if state.event is not None else "UTC"


def _summary(state: State, played: Played, files: tuple[Path, ...]) -> dict[str, Any]:
    event, plan = state.event, state.plan
    finish = day_clock(event, plan.finish_s) if event is not None and plan is not None else ""
    return {
        "teams": len(state.teams),
        "heats": len(plan.heats) if plan is not None else 0,
        "scores": played.scores,
        "refused": len(played.refused),
        "finish": finish,
        "standings_sha256": results_digest(state),
        "files": [str(path) for path in files],
    }
