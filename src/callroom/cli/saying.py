"""How a verb answers: sentences or JSON on stdout, progress on stderr, and the exit code."""

import functools
import sys
from collections.abc import Callable, Iterable
from typing import Any, ParamSpec

import click
import msgspec

from callroom.cli.words import _
from callroom.model import BadInput, CallroomError, Event, Finding, NotAllowed, Refusal
from callroom.views.sentences import sentence

DONE, NO, BAD_INPUT = 0, 1, 2

Params = ParamSpec("Params")

json_option = click.option(
    "--json", "as_json", is_flag=True, help="Answer in JSON on standard output."
)


def book_argument(verb: Callable[Params, int | None]) -> Callable[Params, int | None]:
    """Give a verb its BOOK: a file, or instead of it the address of a book in a database."""
    told = "PostgreSQL book instead of BOOK: postgresql://USER@HOST/DATABASE/BOOK"
    # The option is read before the verb is; it stands here to be found in its help.
    told_of = click.option("--database", metavar="URL", expose_value=False, help=told)
    return click.argument("book", type=click.Path(dir_okay=False))(told_of(verb))


def answering(verb: Callable[Params, int | None]) -> Callable[Params, None]:
    """Turn what `verb` returns or refuses into an exit code, and a refusal into sentences.

    0: done. 1: the answer is "no". 2: what was given cannot be used.
    """

    @functools.wraps(verb)
    def answered(*args: Params.args, **kwargs: Params.kwargs) -> None:
        as_json = bool(kwargs.get("as_json"))
        try:
            code = verb(*args, **kwargs)
        except CallroomError as fault:
            say_findings(findings_of(fault), as_json=as_json)
            code = NO if isinstance(fault, Refusal | NotAllowed) else BAD_INPUT
        sys.exit(code or DONE)

    return answered


def findings_of(fault: CallroomError) -> tuple[Finding, ...]:
    """Return everything a refusal has to say."""
    return fault.findings if isinstance(fault, BadInput) else (fault.finding(),)


def say_findings(findings: Iterable[Finding], *, as_json: bool, event: Event | None = None) -> None:
    """Say findings: sentences on stderr, or one JSON object on stdout.

    With the `event`, moments of the day are said by its clock.
    """
    if as_json:
        say_json({"findings": [_with_sentence(finding, event) for finding in findings]})
        return
    for finding in findings:
        said_already = "file" in finding.facts  # the sentence then begins with the place
        where = f"{finding.source}: " if finding.source and not said_already else ""
        click.echo(f"{finding.severity}: {where}{sentence(finding, _, event=event)}", err=True)


def _with_sentence(finding: Finding, event: Event | None) -> dict[str, Any]:
    said: dict[str, Any] = msgspec.to_builtins(finding)
    return said | {"sentence": sentence(finding, _, event=event)}


def say_json(value: object) -> None:
    """Print one value as JSON."""
    click.echo(msgspec.json.format(msgspec.json.encode(value), indent=2).decode())


def progress(text: str) -> None:
    """Tell the waiting person what is going on."""
    click.echo(text, err=True)
