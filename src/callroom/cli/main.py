"""The ``callroom`` command itself: the group that every verb joins."""

import click


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="callroom", message="%(prog)s %(version)s")
def main() -> None:
    """Plan and run a one-day team fitness competition for a good cause."""
