"""The ``callroom`` command itself: the group that every verb joins."""

import importlib
from collections.abc import Mapping
from types import MappingProxyType

import click

_HERE = "callroom.cli.verbs"

# Each verb with the module and the name it is found under. A verb is loaded when it is used,
# so that a small one does not wait for the server or the printer.
VERBS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "demo": ("demonstrating", "demo"),
        "new": ("keeping", "new"),
        "load": ("setting_up", "load"),
        "check": ("setting_up", "check"),
        "forecast": ("forecasting", "forecast"),
        "pace": ("pacing", "pace"),
        "plan": ("planning", "plan"),
        "prices": ("planning", "prices"),
        "choices": ("planning", "choices"),
        "rota": ("rota", "rota"),
        "kit": ("kit", "kit"),
        "punctuality": ("punctuality", "punctuality"),
        "repair": ("repair", "repair"),
        "print": ("printing", "print_"),
        "serve": ("serving", "serve"),
        "rehearse": ("rehearsing", "rehearse"),
        "standings": ("results", "standings"),
        "export": ("results", "export"),
        "archive": ("archiving", "archive"),
        "money": ("money", "money"),
        "backup": ("keeping", "backup"),
        "verify": ("keeping", "verify"),
        "passphrase": ("hosting", "passphrase"),
        "take": ("hosting", "take_"),
        "bring-back": ("hosting", "bring_back"),
        "carry-on": ("carrying_on", "carry_on_"),
        "gather": ("carrying_on", "gather"),
    }
)


class Verbs(click.Group):
    """The verbs in the order in which an event needs them."""

    def parse_args(self, context: click.Context, args: list[str]) -> list[str]:
        """Put the address of ``--database`` where the verb expects its book."""
        return super().parse_args(context, _with_database(args))

    def list_commands(self, _context: click.Context) -> list[str]:
        """Return the names of all verbs."""
        return list(VERBS)

    def get_command(self, _context: click.Context, name: str) -> click.Command | None:
        """Return a verb, or None if there is none of that name."""
        found = VERBS.get(name)
        if found is None:
            return None
        module, attribute = found
        verb: click.Command = getattr(importlib.import_module(f"{_HERE}.{module}"), attribute)
        return verb


def _with_database(args: list[str]) -> list[str]:
    """Return the arguments with ``--database URL`` turned into the first one of the verb.

    So it can stand anywhere, as an option, and yet take the place of BOOK.
    """
    for at, one in enumerate(args):
        name, equals, url = one.partition("=")
        if name == "--database" and (equals or at + 1 < len(args)) and args[0] in VERBS:
            rest = args[:at] + args[at + (1 if equals else 2) :]
            return [rest[0], url if equals else args[at + 1], *rest[1:]]
    return args


@click.group(
    cls=Verbs,
    context_settings={"help_option_names": ["-h", "--help"]},
    invoke_without_command=True,
)
@click.version_option(package_name="callroom", message="%(prog)s %(version)s")
@click.pass_context
def main(context: click.Context) -> None:
    """Plan and run a one-day team fitness competition for a good cause.

    Without a verb: opens the browser on a list of books.
    """
    if context.invoked_subcommand is None:
        from callroom.cli.verbs.shelf import show_shelf  # noqa: PLC0415 - as every verb

        show_shelf()
