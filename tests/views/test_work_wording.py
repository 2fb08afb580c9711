"""How a task is written for people."""

from decimal import Decimal

import pytest

from callroom.model import Block, Part, PublishedLoad, Switch, Task, VariationRule, Who
from callroom.standards.library import all_movements
from callroom.views.work import WorkRow, part_work
from callroom.views.work_wording import (
    amount,
    movement_name,
    no_rep_reasons,
    reminders,
    settings,
    speech_of,
)
from tests.views.building import example_event

EVENT = example_event()
PLAIN = speech_of(EVENT, {})
KNOWING = speech_of(EVENT, {movement.id: movement for movement in all_movements()})


def row_of(task: Task) -> WorkRow:
    """The row of a part that has this task only, for a team of two women and two men."""
    part = Part(id="a", kind="work", cap_s=60, blocks=(Block(id="b", tasks=(task,)),))
    return part_work(part, EVENT.divisions[0]).blocks[0].rows[0]


@pytest.mark.parametrize(
    ("task", "said"),
    [
        (Task(id="t", movement="row", amounts=(5,)), ()),
        (Task(id="t", movement="row"), ("as much as you can",)),
        (Task(id="t", movement="clean", unit="lift", tries=3), ("3 tries",)),
        (Task(id="t", movement="clean", unit="lift"), ()),
        (
            Task(id="t", movement="row", amounts=(5,), who=Who(kind="pair"), working=2),
            ("a pair", "2 at a time"),
        ),
        (
            Task(id="t", movement="run", unit="metres", amounts=(40,), mark=10, sharing="each"),
            ("every athlete does it, 1 at a time", "every full 10 m counts 1"),
        ),
        (
            Task(id="t", movement="run", amounts=(40,), sharing="each", working=4),
            ("every athlete does it",),
        ),
        (
            Task(id="t", movement="squat", amounts=(9,), sharing="together", working=2),
            ("2 in step",),
        ),
        (Task(id="t", movement="run", amounts=(1,), sharing="carry"), ("the team goes together",)),
        (
            Task(
                id="t",
                movement="sled",
                amounts=(1,),
                sharing="carry",
                loads=(PublishedLoad(kg=Decimal(60)),),
            ),
            ("may be handed over, the team goes along",),
        ),
        (
            Task(
                id="t",
                movement="push_up",
                amounts=(9,),
                switch=Switch(kind="fixed_order"),
                least_each=2,
                while_holding="plank_hold",
                variation="knees_down",
                tighten="chest to the mat",
            ),
            (
                "in fixed order",
                "at least 2 each",
                "only while a partner holds: plank hold",
                "knees down",
                "chest to the mat",
            ),
        ),
    ],
)
def test_what_a_judge_must_mind(task: Task, said: tuple[str, ...]) -> None:
    assert reminders(row_of(task), PLAIN) == said


def test_amounts_say_for_how_many() -> None:
    run = Task(id="t", movement="run", unit="metres", amounts=(400,), sharing="each")
    assert amount(row_of(run), 0, PLAIN) == "4 × 400 m"
    assert amount(row_of(Task(id="t", movement="clean", unit="lift")), 0, PLAIN) == ""


def test_loads_and_heights_name_their_category() -> None:
    thruster = part_work(EVENT.workouts[0].parts[0], EVENT.divisions[0]).blocks[0].rows[1]
    assert settings(thruster, PLAIN) == ("women 29 kg / 65 lb", "men 43 kg / 95 lb")
    pounds = speech_of(example_event(mass_unit="lb"), {})
    assert settings(thruster, pounds)[0] == "women 65 lb / 29 kg"


def test_movements_are_named_as_read_after_a_number() -> None:
    assert movement_name(Task(id="t", movement="deadlift"), KNOWING) == "deadlifts"
    assert movement_name(Task(id="t", movement="row", unit="calories"), KNOWING) == "row"
    assert movement_name(Task(id="t", movement="box_jump"), PLAIN) == "box jump"


def test_no_rep_reasons_come_from_the_movements_own_standard() -> None:
    deadlift = Task(id="t", movement="deadlift")
    (known,) = (movement for movement in all_movements() if movement.id == "deadlift")
    reasons = no_rep_reasons(row_of(deadlift), KNOWING)
    assert reasons
    assert set(reasons) <= {reason.label for reason in known.no_reps}
    assert no_rep_reasons(row_of(deadlift), PLAIN) == ()


def test_a_variation_takes_its_no_rep_away_and_a_tightened_standard_brings_one() -> None:
    usual = no_rep_reasons(row_of(Task(id="t", movement="deadlift")), KNOWING)
    sumo = Task(
        id="t",
        movement="deadlift",
        variation_rules=(VariationRule(variation="sumo", allowed=True),),
        tighten_no_rep="Not paused",
    )
    said = no_rep_reasons(row_of(sumo), KNOWING)
    assert set(usual) - set(said) == {"Hands inside"}
    assert said[-1] == "Not paused"
    assert "allowed: sumo stance" in reminders(row_of(sumo), KNOWING)


def test_what_is_barred_is_said_only_where_it_is_usual() -> None:
    barred = Task(
        id="t",
        movement="box_jump",
        variation_rules=(
            VariationRule(variation="rebound", allowed=False),
            VariationRule(variation="step_up", allowed=False),
        ),
    )
    assert [one for one in reminders(row_of(barred), KNOWING) if "barred" in one] == [
        "barred: jumping down"
    ]
