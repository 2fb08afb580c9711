"""A draft of a workout: written, posted, changed, read back, and what is wrong with it."""

from decimal import Decimal

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.exchange import demo_file, read_event
from callroom.model import Event, PublishedHeight, PublishedLoad, State, Workout
from callroom.model.mass import MassUnit
from callroom.web.builder import (
    Deed,
    Node,
    blank,
    do,
    faults_of,
    next_workout_id,
    nodes,
    posted_root,
    read_deed,
    read_workout,
    written,
)
from callroom.web.builder.draft import Path, field_name
from callroom.web.forms.published import read_height, read_load, write_height, write_load
from tests.views.building import example_event

DEMO = read_event(demo_file("event.toml"))
EXAMPLE = example_event()
WORKOUTS = [(event, one) for event in (DEMO, EXAMPLE) for one in event.workouts]


def posted(root: Node) -> dict[str, str]:
    """The form as a browser sends it: every field by name, empty ones too."""
    return {
        field_name(path, name): text
        for path, node in nodes(root)
        for name, text in {**node.texts, "variation": node.text("variation")}.items()
    }


@pytest.mark.parametrize(("event", "workout"), WORKOUTS, ids=lambda one: one.id)
def test_a_workout_written_posted_and_read_is_the_same_workout(
    event: Event, workout: Workout
) -> None:
    root = posted_root(posted(written(event, workout)))
    assert root is not None
    reading = read_workout(root, event)
    assert reading.faults == ()
    assert reading.workout == workout


def test_a_release_time_is_read_at_the_venue() -> None:
    workout = msgspec.structs.replace(EXAMPLE.workouts[0], release_s=-3 * 3600)
    root = written(EXAMPLE, workout)
    assert read_workout(root, EXAMPLE).workout.release_s == -3 * 3600


def edited(root: Node, path: Path, **texts: str) -> Node:
    """The draft with other texts in one node."""
    if not path:
        return msgspec.structs.replace(root, texts={**root.texts, **texts})
    inside = list(root.inside)
    inside[path[0]] = edited(inside[path[0]], path[1:], **texts)
    return msgspec.structs.replace(root, inside=tuple(inside))


def faults(root: Node) -> dict[str, str]:
    """The rules broken by a draft, by field; two movements of the example are not known."""
    found = faults_of(State(event=EXAMPLE), EXAMPLE, root, read_workout(root, EXAMPLE))
    rules = {fault.field: fault.finding.rule for fault in found}
    return {field: rule for field, rule in rules.items() if rule != "check.movement_unknown"}


@pytest.mark.parametrize(
    ("path", "texts", "field", "rule"),
    [
        ((0,), {"cap_s": "0"}, "0/cap_s", "part.cap_not_positive"),
        ((0,), {"cap_s": "soon"}, "0/cap_s", "entry.time_unreadable"),
        ((0,), {"tiebreak": "gone"}, "0/tiebreak", "tiebreak.unknown"),
        ((0, 0), {"rounds": "two"}, "0.0/rounds", "entry.count_unreadable"),
        ((0, 0), {"open_ended": "yes"}, "0/kind", "part.time_without_end"),
        ((0, 0, 1), {"amounts": ""}, "0.0.1/amounts", "task.amounts_missing"),
        ((0, 0, 1), {"amounts": "21-15"}, "0.0.1/amounts", "task.amounts_wrong_count"),
        ((0, 0, 1), {"amounts": "many"}, "0.0.1/amounts", "draft.amounts_unreadable"),
        ((0, 0, 1), {"movement": ""}, "0.0.1/movement", "task.movement_missing"),
        ((0, 0, 1), {"working": "9"}, "0.0.1/working", "task.too_many_working"),
        ((0, 0, 1), {"load:open:men": "heavy"}, "0.0.1/load:open:men", "entry.load_unreadable"),
        ((0, 0, 1), {"load:open:men": "0 kg"}, "0.0.1/loads", "published.not_positive"),
        ((0, 0, 2), {"height::men": "tall"}, "0.0.2/height::men", "draft.height_unreadable"),
        ((), {"name": ""}, "/name", "event.name_missing"),
        ((), {"floor": "moon"}, "/floor", "workout.floor_unknown"),
        ((), {"release_s": "tomorrow"}, "/release_s", "draft.release_unreadable"),
    ],
)
def test_a_fault_is_said_at_the_field_it_concerns(
    path: Path, texts: dict[str, str], field: str, rule: str
) -> None:
    root = written(EXAMPLE, EXAMPLE.workouts[0])
    assert faults(root) == {}
    assert faults(edited(root, path, **texts))[field] == rule


def test_rounds_left_empty_are_told_by_a_ladder() -> None:
    root = written(EXAMPLE, EXAMPLE.workouts[0])
    root = edited(root, (0, 0), rounds="")
    root = edited(root, (0, 0, 1), amounts="21, 15, 9")
    assert read_workout(root, EXAMPLE).workout.parts[0].blocks[0].rounds == 3


def test_a_blank_part_has_a_block_and_a_task_under_ids_of_their_own() -> None:
    first = blank("part")
    second = blank("part", frozenset({"a", "b1", "t1"}))
    ids = [node.id for part in (first, second) for _, node in nodes(part)]
    assert len(set(ids[:3])) == 3
    assert second.id != first.id
    assert next_workout_id(EXAMPLE, frozenset({"w6"})) == "w7"


ROOT = written(EXAMPLE, EXAMPLE.workouts[0])
DEEDS = st.builds(
    Deed,
    st.sampled_from(["add", "copy", "up", "down", "remove"]),
    st.lists(st.integers(0, 3), min_size=1, max_size=2).map(tuple),
)


@given(st.lists(DEEDS, max_size=12))
def test_whatever_is_pressed_ids_stay_apart_and_the_draft_can_be_posted(deeds: list[Deed]) -> None:
    root = ROOT
    for deed in deeds:
        root, path = do(root, deed)
        at = root
        for index in path:
            at = at.inside[index]
    for part in root.inside:
        within = [node.id for path, node in nodes(part) if path]
        assert len(within) == len(set(within))
    assert posted_root(posted(root)) is not None
    assert read_workout(root, EXAMPLE).workout.id == "w1"


def test_moving_up_and_down_again_changes_nothing_and_the_ends_stay() -> None:
    up, at = do(ROOT, Deed("up", (0, 0, 1)))
    assert at == (0, 0, 0)
    assert up.inside[0].inside[0].inside[0] == ROOT.inside[0].inside[0].inside[1]
    assert do(up, Deed("down", (0, 0, 0)))[0] == ROOT
    assert do(ROOT, Deed("up", (0, 0, 0)))[0] == ROOT


@pytest.mark.parametrize("text", ["fly 0", "up", "up x", "add 0.0.0", "remove 0.0.0.0", ""])
def test_a_button_that_is_none_of_ours_does_nothing(text: str) -> None:
    assert read_deed(text) is None


@pytest.mark.parametrize(
    "texts",
    [{}, {"name": "x"}, {"/name": "x", "0.0.0.0/id": "x"}, {"0/id": "a"}],
    ids=["nothing", "another form", "too deep", "no workout"],
)
def test_a_form_that_is_none_of_ours_is_no_draft(texts: dict[str, str]) -> None:
    assert posted_root(texts) is None


AMOUNT = st.decimals(min_value=1, max_value=500, places=1, allow_nan=False)


@given(kg=st.none() | AMOUNT, lb=st.none() | AMOUNT, count=st.integers(1, 4))
def test_a_load_is_read_as_it_is_written(
    kg: Decimal | None, lb: Decimal | None, count: int
) -> None:
    load = PublishedLoad(kg=kg, lb=lb, count=count)
    read = read_load(write_load(load), "kg")
    assert read == (load if kg is not None or lb is not None else None)


@given(cm=AMOUNT, inch=st.none() | AMOUNT)
def test_a_height_is_read_as_it_is_written(cm: Decimal, inch: Decimal | None) -> None:
    height = PublishedHeight(cm=cm, inch=inch)
    assert read_height(write_height(height), "lb") == height


@pytest.mark.parametrize(
    ("text", "unit", "kg", "lb", "count"),
    [
        ("43", "kg", "43", None, 1),
        ("95", "lb", None, "95", 1),
        ("95 LB / 43 kg", "kg", "43", "95", 1),
        ("2x15", "kg", "15", None, 2),
        ("22,5 kg", "kg", "22.5", None, 1),
    ],
)
def test_a_load_may_be_typed_short(
    text: str, unit: MassUnit, kg: str | None, lb: str | None, count: int
) -> None:
    wanted = PublishedLoad(
        kg=Decimal(kg) if kg else None, lb=Decimal(lb) if lb else None, count=count
    )
    assert read_load(text, unit) == wanted


@pytest.mark.parametrize("text", ["43 kg / 44 kg", "heavy", "-3", "43 kg /", "60 cm"])
def test_a_load_that_means_two_things_or_none_is_not_guessed(text: str) -> None:
    assert read_load(text, "kg") is None


def test_a_target_may_be_typed_in_metres_and_feet() -> None:
    wanted = PublishedHeight(cm=Decimal(300), inch=Decimal(120))
    assert read_height("3 m / 10 ft", "kg") == wanted
    assert read_height("24", "lb") == PublishedHeight(inch=Decimal(24))
