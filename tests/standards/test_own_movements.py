"""The director's own movements: written in an event file, read back, put into the library."""

import pytest
from msgspec.structs import replace

from callroom.exchange.movement_writing import write_movement
from callroom.standards import (
    all_movements,
    built_in,
    check_own,
    library_with,
    movement,
    read_movement,
    read_own,
)
from tests.standards.test_director_files import OWN

FILE = OWN.partition("[[pose]]")[0].replace('family = "object"\n\n', "").replace(
    'name = "Stone to platform"', 'family = "object"\nname = "Stone to platform"'
).replace('"own_pose"', '"stand_open"')  # fmt: skip


def test_every_movement_of_the_library_is_written_and_read_back_the_same() -> None:
    changed = tuple(replace(one, many=f"{one.many[:30]} again") for one in all_movements())
    read = read_own("".join(map(write_movement, changed)), "event.toml")
    assert read.findings == ()
    assert set(read.movements) == set(changed)


def test_one_as_the_library_has_it_is_no_movement_of_ones_own() -> None:
    read = read_own(write_movement(movement("box_jump")), "event.toml")
    assert (read.movements, read.findings) == ((), ())


def test_an_event_file_adds_and_changes_movements() -> None:
    text = (
        FILE + '[[change]]\nmovement = "box_jump"\ncautions = ["Step down."]\n\n[event]\nid = 1\n'
    )
    read = read_own(text, "event.toml")
    assert read.findings == ()
    assert {one.id for one in read.movements} == {"stone_to_platform", "box_jump"}
    library = library_with(read.movements)
    assert library.movements["box_jump"].cautions == ("Step down.",)
    assert library.movements["stone_to_platform"].name == "Stone to platform"
    assert set(library.movements) == {*built_in().movements, "stone_to_platform"}
    assert library.poses is built_in().poses


def test_faults_of_an_event_file_name_file_and_key_and_leave_nothing() -> None:
    read = read_own(FILE.replace('"repetition"', '"reps"'), "gala.toml")
    assert read.movements == ()
    (found,) = read.findings
    assert (found.rule, found.facts["file"]) == ("standards.no_such_choice", "gala.toml")
    assert found.facts["key"] == 'movement "stone_to_platform", no_reps 1, cost'


def test_an_id_of_the_library_is_not_taken_by_accident() -> None:
    text = FILE.replace('id = "stone_to_platform"', 'id = "box_jump"')
    assert [one.rule for one in read_own(text, "e.toml").findings] == ["standards.id_taken"]
    instead = text.replace('id = "box_jump"', 'id = "box_jump"\ninstead = true')
    assert [one.id for one in read_own(instead, "e.toml").movements] == ["box_jump"]


def test_a_form_is_read_with_every_fault_at_its_place() -> None:
    row = {"id": "x y", "name": "Own", "no_reps": [{"id": "a", "label": "Far too long a label"}]}
    found = read_movement(row)
    assert found.movements == ()
    keys = {str(one.facts["key"]) for one in found.findings}
    assert {"many", "start", "no_reps 1, says", "no_reps 1, cost"} <= keys


@pytest.mark.parametrize("name", ["deadlift", "rope_climb"])
def test_what_the_library_has_is_sound_as_ones_own(name: str) -> None:
    assert check_own((movement(name),)) == ()


def test_what_does_not_fit_together_is_found() -> None:
    unsound = replace(movement("deadlift"), no_reps=())
    (found,) = check_own((unsound,))
    assert found.rule == "standards.list_empty"
    assert found.facts["key"] == 'movement "deadlift", no_reps'
