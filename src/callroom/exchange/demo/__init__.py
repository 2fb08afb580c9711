"""The demonstration event: an event file with its teams, crew and kit, all of it invented."""

from importlib import resources
from typing import Literal

DemoFile = Literal["event.toml", "teams.csv", "crew.csv", "kit.csv"]


def demo_file(name: DemoFile) -> bytes:
    """Return one file of the demonstration event."""
    return resources.files(__name__).joinpath(name).read_bytes()
