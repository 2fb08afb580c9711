"""Folding of what concerns the ground, the side programme and the checklists."""

from callroom.journal.entries import ground_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.checks import Tick


def ground_set(build: Builder, _entry: Entry, body: bodies.GroundSet) -> None:
    """Put the ground in the place of the one before."""
    build.ground = body.ground
    build.touch("ground")


def side_set(build: Builder, _entry: Entry, body: bodies.SideSet) -> None:
    """Put one thing into the side programme."""
    build.side.put(body.item.id, body.item)
    build.touch("side", f"side:{body.item.id}")


def side_dropped(build: Builder, _entry: Entry, body: bodies.SideDropped) -> None:
    """Take one thing out of the side programme."""
    build.side.drop(body.item)
    build.touch("side", f"side:{body.item}")


def check_ticked(build: Builder, entry: Entry, body: bodies.CheckTicked) -> None:
    """Tick a point, or untick it."""
    if body.done:
        tick = Tick(seq=entry.seq, at_ms=entry.at_ms, actor=entry.actor)
        build.ticks.put(body.check, tick)
    else:
        build.ticks.drop(body.check)
    build.touch("checks", f"check:{body.check}")


def check_added(build: Builder, _entry: Entry, body: bodies.CheckAdded) -> None:
    """Keep a point of the director's own."""
    build.own_checks.put(body.check.id, body.check)
    build.touch("checks", f"check:{body.check.id}")


def check_dropped(build: Builder, _entry: Entry, body: bodies.CheckDropped) -> None:
    """Take a point of the director's own out, with its tick."""
    build.own_checks.drop(body.check)
    build.ticks.drop(body.check)
    build.touch("checks", f"check:{body.check}")
