"""The ``callroom`` command itself: the group that every verb joins."""

import click

from callroom.cli.verbs.demonstrating import demo
from callroom.cli.verbs.keeping import backup, new, verify
from callroom.cli.verbs.printing import print_
from callroom.cli.verbs.rehearsing import rehearse
from callroom.cli.verbs.results import export, standings
from callroom.cli.verbs.serving import serve
from callroom.cli.verbs.setting_up import check, load, plan
from callroom.cli.verbs.shelf import show_shelf


@click.group(context_settings={"help_option_names": ["-h", "--help"]}, invoke_without_command=True)
@click.version_option(package_name="callroom", message="%(prog)s %(version)s")
@click.pass_context
def main(context: click.Context) -> None:
    """Plan and run a one-day team fitness competition for a good cause.

    Without a verb: opens the browser on a list of books.
    """
    if context.invoked_subcommand is None:
        show_shelf()


for verb in (
    demo,
    new,
    load,
    check,
    plan,
    print_,
    serve,
    rehearse,
    standings,
    export,
    backup,
    verify,
):
    main.add_command(verb)
