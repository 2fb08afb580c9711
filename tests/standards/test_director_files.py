"""A director's own movements: added, changed, and every fault named at once."""

from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Finding, errors_among
from callroom.standards import Loaded, built_in, load_movements, read_movements
from callroom.standards.library import MOST_BYTES, checked
from callroom.standards.reading import Place

OWN = """
family = "object"

[[movement]]
id = "stone_to_platform"
name = "Stone to platform"
many = "stones to the platform"
load = "object"
settings = ["load", "box_height"]
start = "The stone lies in front of the platform."
points = [
  { at = "start", landmark = "load", says = "The stone is on the floor.", measures = [{ measure = "touch", landmark = "load", on = "ground" }] },
  { at = "finish", landmark = "load", says = "The stone rests on the platform.", unless = "touch" },
]
finish = "The stone on the platform, hands off."
variations = [{ id = "touch", name = "Touching", says = "A touch is enough.", usual = "barred" }]
no_reps = [
  { id = "off", label = "Rolled off", says = "The stone rolled off.", cost = "repetition" },
]
judge = { stands = "To the side.", watches = "The stone coming to rest." }
counting = [{ unit = "reps", counts = "One counts when the hands are off." }]
kit = [{ item = "stone", per = "lane" }]
space = { length_m = 3, width_m = 2.5, height_m = 2.2 }
cadence = [{ unit = "s_per_rep", level = "advanced", low = 4, high = 6.5, source = "common practice, no source" }]
capacities = ["hinge", "load"]
cautions = ["Hands away from the edge."]
figures = [
  { stage = "start", pose = "bag_floor", caption = "The stone.", kit = [{ draw = "ball", x_m = 0.1, y_m = 0.2, size_m = 0.4 }] },
  { stage = "finish", pose = "own_pose", caption = "Done." },
]

[[pose]]
id = "own_pose"
shoulder = [20, -10]

[[change]]
movement = "box_jump"
name = "Jump onto the box"
cautions = ["Step down."]
"""


def rules(loaded: Loaded) -> list[str]:
    return [finding.rule for finding in loaded.findings]


def read(text: str) -> Loaded:
    return read_movements({"own.toml": text})


def faulty(old: str, new: str, base: str = OWN) -> tuple[Finding, ...]:
    assert old in base
    return read(base.replace(old, new)).findings


def test_a_movement_is_added_and_one_is_changed() -> None:
    loaded = read(OWN)
    assert loaded.findings == ()
    stone = loaded.library.movements["stone_to_platform"]
    assert stone.family == "object"
    assert str(stone.space.width_m) == "2.5"
    assert loaded.library.poses["own_pose"].shoulder == (20.0, -10.0)
    jump, before = loaded.library.movements["box_jump"], built_in().movements["box_jump"]
    assert (jump.name, jump.cautions) == ("Jump onto the box", ("Step down.",))
    assert (jump.points, jump.no_reps, jump.figures) == (
        before.points,
        before.no_reps,
        before.figures,
    )
    assert before.name == "Box jump"
    assert len(loaded.library.movements) == len(built_in().movements) + 1


def test_the_whole_library_can_be_written_as_changes_and_stays_the_same() -> None:
    text = "".join(f'[[change]]\nmovement = "{name}"\n' for name in built_in().movements)
    loaded = read(text)
    assert loaded.findings == ()
    assert loaded.library.movements == built_in().movements


def test_all_faults_are_found_at_once_with_file_key_and_what_was_given() -> None:
    text = (
        OWN.replace('label = "Rolled off"', 'label = "Rolled off the platform"')
        .replace('cost = "repetition"', 'cost = "repetitions"')
        .replace("length_m = 3", 'length_m = "three"')
        .replace('finish = "The stone on the platform, hands off."\n', "")
        .replace('stands = "To the side."', 'stand = "To the side."')
    )
    loaded = read(text)
    found = {(finding.rule, finding.facts["key"]) for finding in loaded.findings}
    at = 'movement "stone_to_platform", '
    assert found == {
        ("standards.no_such_choice", at + "no_reps 1, cost"),
        ("standards.wrong_kind", at + "space, length_m"),
        ("standards.key_missing", at + "finish"),
        ("standards.key_unknown", at + "judge, stand"),
        ("standards.key_missing", at + "judge, stands"),
    }
    assert all(finding.facts["file"] == "own.toml" for finding in loaded.findings)
    choice = next(one for one in loaded.findings if one.rule == "standards.no_such_choice")
    assert choice.facts["given"] == "repetitions"
    assert choice.facts["near"] == "repetition"
    unknown = next(one for one in loaded.findings if one.rule == "standards.key_unknown")
    assert unknown.facts["near"] == "stands"


def test_nothing_is_half_loaded() -> None:
    loaded = read(OWN.replace('cost = "repetition"', 'cost = "a beer"'))
    assert errors_among(loaded.findings)
    assert loaded.library == built_in()


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ('label = "Rolled off"', 'label = "Rolled off the edge"', "standards.text_long"),
        ('label = "Rolled off"', 'label = "  "', "standards.text_empty"),
        ('id = "stone_to_platform"', 'id = "Stone!"', "standards.id_form"),
        ('id = "stone_to_platform"', 'id = "deadlift"', "standards.id_taken"),
        ('movement = "box_jump"', 'movement = "box_jumps"', "standards.nothing_to_change"),
        ('pose = "own_pose"', 'pose = "own_posed"', "standards.no_such_pose"),
        ('at = "finish"', 'at = "finale"', "standards.no_such_stage"),
        ('unless = "touch"', 'unless = "torch"', "standards.no_such_variation"),
        ('stage = "finish"', 'stage = "start"', "standards.id_twice"),
        ('capacities = ["hinge", "load"]', "capacities = []", "standards.list_empty"),
        ('capacities = ["hinge", "load"]', 'capacities = "hinge"', "standards.no_list"),
        ('capacities = ["hinge", "load"]', 'capacities = ["bulk"]', "standards.no_such_choice"),
        ("low = 4, high = 6.5", "low = 6, high = 4", "standards.bounds_crossed"),
        ("low = 4, high = 6.5", "low = 0, high = 4", "standards.bounds_crossed"),
        ("width_m = 2.5", "width_m = nan", "standards.number_bounds"),
        ("width_m = 2.5", "width_m = inf", "standards.number_bounds"),
        ("width_m = 2.5", "width_m = 0", "standards.number_bounds"),
        ("width_m = 2.5", "width_m = true", "standards.wrong_kind"),
        ("shoulder = [20, -10]", "shoulder = [20, nan]", "standards.number_bounds"),
        ("shoulder = [20, -10]", "shoulder = [20]", "standards.wrong_kind"),
        ("shoulder = [20, -10]", "shoulders = 20", "standards.key_unknown"),
        ('measure = "touch"', 'measure = "weigh"', "standards.no_such_choice"),
        ('measure = "touch", ', "", "standards.key_missing"),
        ('judge = { stands = "To the side."', 'judge = { stands = ""', "standards.text_empty"),
        ('family = "object"', 'familie = "object"', "standards.key_unknown"),
        ('caption = "Done."', 'caption = "Done.", people = 99', "standards.number_bounds"),
        ('usual = "barred"', 'usual = "maybe"', "standards.no_such_choice"),
        ('unit = "reps", counts', 'unit = "reps", mark = 0, counts', "standards.number_bounds"),
        ('kit = [{ item = "stone", per = "lane" }]', "kit = [3]", "standards.no_table"),
    ],
)
def test_each_kind_of_fault_has_its_own_rule(old: str, new: str, rule: str) -> None:
    assert rule in [finding.rule for finding in faulty(old, new)]


@pytest.mark.parametrize(
    ("measure", "rule"),
    [
        ('{ measure = "angle", joint = "knee", reads = "flexion" }', "standards.no_bound"),
        (
            (
                '{ measure = "angle", joint = "knee", reads = "flexion", at_least_deg = 9,'
                " at_most_deg = 1 }"
            ),
            "standards.bounds_crossed",
        ),
        (
            '{ measure = "angle", joint = "trunk", reads = "flexion", at_most_deg = 1 }',
            "standards.reading_unfit",
        ),
        (
            '{ measure = "height", landmark = "chin", relation = "above", than = "rig" }',
            "standards.landmark_not_shown",
        ),
        (
            '{ measure = "height", landmark = "hip", relation = "below", than = "knee" }',
            "standards.measure_unmet",
        ),
    ],
)
def test_a_measure_must_make_sense_and_be_shown(measure: str, rule: str) -> None:
    old = '{ at = "finish", landmark = "load", says = "The stone rests on the platform.", unless = "touch" }'
    new = f'{{ at = "finish", landmark = "load", says = "So.", unless = "touch", measures = [{measure}] }}'
    assert [finding.rule for finding in faulty(old, new)] == [rule]


def test_an_unmet_measure_is_a_warning_and_the_movement_is_there() -> None:
    loaded = read(OWN.replace("y_m = 0.2,", "y_m = 1.4,"))
    assert [finding.severity for finding in loaded.findings] == ["warning"]
    assert "stone_to_platform" in loaded.library.movements


@pytest.mark.parametrize(
    "text",
    [
        "[[movement",
        "movement = 3",
        "movement = [3]",
        "change = {}",
        "pose = 'x'",
        "[movement]\nid = 'x'",
        "[[movement]]\nid = 3",
        "[[movement]]",
        "[[change]]",
        "[[change]]\nmovement = []",
        "[[pose]]\nid = 'p'\nhip = 'far'",
        "family = 4\n[[movement]]\nid = 'x'",
        "x = " + "[" * 5000,
        "a = 1e400\n[[pose]]\nid='p'\nlean = 1e400",
        "[[pose]]\nid = 'p'\nlean = " + "9" * 5000,
        "[[pose]]\nid = 'p'\nlean = " + "9" * 300,
        "[[pose]]\nid = '" + "é" * 500 + "'",
        "[[pose]]\nid = '\u202e'",
        "[[pose]]\nid = 'p'\n[[pose]]\nid = 'p'",
    ],
)
def test_a_hostile_file_is_answered_with_findings(text: str) -> None:
    loaded = read(text)
    assert errors_among(loaded.findings)
    assert loaded.library == built_in()
    for finding in loaded.findings:
        assert all(len(str(value)) < 600 for value in finding.facts.values())
        assert "\u202e" not in str(finding.facts)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_but_never_fails(text: str) -> None:
    read(text)


values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=20)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=8,
)
KEYS = ("id", "points", "no_reps", "judge", "counting", "space", "cadence", "figures", "kit")


@given(st.dictionaries(st.sampled_from(KEYS), values, min_size=1))
def test_any_value_in_any_key_is_a_finding_not_a_failure(given_values: dict[str, object]) -> None:
    whole = {**msgspec.to_builtins(built_in().movements["box_jump"]), **given_values}
    place = Place("own.toml")
    made = checked(whole, built_in().poses, place)
    assert made is not None or place.faults


# ---- From disk -------------------------------------------------------------------------------


def test_files_are_read_in_order_and_faults_of_all_are_told(tmp_path: Path) -> None:
    good, bad, missing, binary = (tmp_path / name for name in "abcd")
    good.write_text(OWN, encoding="utf-8-sig")
    bad.write_text("[[change]]\nmovement = 'no_such'\n", encoding="utf-8")
    binary.write_bytes(b"\xff\xfe\x00")
    loaded = load_movements([good, bad, missing, binary])
    assert {(finding.facts["file"], finding.rule) for finding in loaded.findings} == {
        ("b", "standards.nothing_to_change"),
        ("c", "standards.cannot_open"),
        ("d", "standards.not_toml"),
    }
    assert load_movements([good]).findings == ()


def test_a_file_that_is_far_too_long_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_bytes(b"#" * (MOST_BYTES + 1))
    assert rules(load_movements([path])) == ["standards.too_large"]


def test_a_later_file_may_change_what_an_earlier_one_added() -> None:
    second = '[[change]]\nmovement = "stone_to_platform"\nname = "Stone"\n'
    loaded = read_movements({"one.toml": OWN, "two.toml": second})
    assert loaded.findings == ()
    assert loaded.library.movements["stone_to_platform"].name == "Stone"


def test_the_example_in_the_documentation_loads() -> None:
    page = Path(__file__).parents[2] / "docs" / "movements.md"
    text = page.read_text(encoding="utf-8")
    example = text.split("```toml\n")[1].split("```")[0]
    loaded = read(example)
    assert loaded.findings == ()
    assert loaded.library.movements["stone_to_platform"].settings == ("load", "box_height")
    assert f"knows {len(built_in().movements)} movements" in text
