"""An event file with movements in it, and what of the browser's own a load leaves alone."""

import pytest
from msgspec.structs import replace

from callroom.bootstrap.event_reading import kept_in, read_event_file
from callroom.exchange import FaultyEvent, demo_file, write_event
from callroom.model import MovementRule
from callroom.standards import movement

DEMO = demo_file("event.toml")
CHANGE = b'\n[[change]]\nmovement = "box_jump"\ncautions = ["Step down."]\n'


def test_the_movements_of_a_file_are_the_events_own() -> None:
    event = read_event_file(DEMO + CHANGE)
    assert [(one.id, one.cautions) for one in event.movements] == [("box_jump", ("Step down.",))]
    assert read_event_file(write_event(event).encode()) == event
    assert read_event_file(DEMO).movements == ()


def test_faults_of_event_and_movements_are_told_together() -> None:
    faulty = DEMO.replace(b"lanes = ", b"lanes = -", 1) + CHANGE.replace(b"box_jump", b"box_jmup")
    with pytest.raises(FaultyEvent) as fault:
        read_event_file(faulty, "day.toml")
    rules = [one.rule for one in fault.value.findings]
    assert rules[-1] == "standards.nothing_to_change"
    assert len(rules) > 1


def test_what_the_file_is_silent_about_stays_as_it_was_made_in_the_browser() -> None:
    event = read_event_file(DEMO)
    own = replace(movement("row"), name="Row, chain only")
    rule = MovementRule(movement="rope_climb")
    first, *others = event.divisions
    known = replace(
        event, movements=(own,), divisions=(replace(first, movement_rules=(rule,)), *others)
    )
    assert kept_in(event, known) == known
    assert kept_in(event, None) == event
    told = read_event_file(DEMO + CHANGE)
    assert kept_in(told, known).movements == told.movements
