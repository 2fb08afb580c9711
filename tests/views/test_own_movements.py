"""A movement of the director's own is read wherever the library is: nothing asks the other one."""

from msgspec.structs import replace

from callroom.bootstrap.forecasting import forecast_draft
from callroom.bootstrap.speech import speech_for
from callroom.model import Event, State, Task
from callroom.model.movement import KitNeed, NoRep
from callroom.paper.cards import cards_payload
from callroom.planner.plates.kit import Need, lane_needs
from callroom.standards import library_with, movement
from callroom.views.cards import cards
from callroom.views.guide import guide
from callroom.views.guide_text import guide_text
from callroom.views.lane_pad import lane_pad
from callroom.views.samples import sample_cards, standards_of
from callroom.views.timetable import CREW
from callroom.views.training import self_check
from tests.views.building import example_event, example_state

OWN = replace(
    movement("deadlift"),
    id="log_pull",
    name="Log pull",
    many="log pulls",
    start="The log lies across the lane.",
    no_reps=(NoRep(id="roll", label="Log rolled", says="The log rolled.", cost="repetition"),),
    kit=(KitNeed(item="log"),),
    capacities=("hinge", "load"),
)


def own_event() -> Event:
    """The example with the second task of its first workout done with a log."""
    event = example_event()
    workout = event.workouts[0]
    part = workout.parts[0]
    block = part.blocks[0]
    task: Task = replace(block.tasks[1], movement="log_pull")
    block = replace(block, tasks=(block.tasks[0], task, *block.tasks[2:]))
    workout = replace(workout, parts=(replace(part, blocks=(block, *part.blocks[1:])),))
    return replace(event, movements=(OWN,), workouts=(workout, *event.workouts[1:]))


STATE: State = example_state(own_event())
SPEECH = speech_for(STATE)


def test_card_and_pad_have_its_name_and_its_no_reps() -> None:
    said = str(cards_payload(cards(STATE, heats={"w1-1"}), SPEECH))
    assert "log pulls" in said
    assert "Log rolled" in said
    assert STATE.plan is not None
    lane = STATE.plan.heat("w1-1").lanes[0].lane
    pad = lane_pad(STATE, "w1-1", lane, SPEECH)
    labels = {reason.label for reasons in pad.reasons.values() for reason in reasons}
    assert "Log rolled" in labels
    sample = cards_payload(sample_cards(STATE, "w1", "pairs"), SPEECH, sample=True)
    assert "Log rolled" in str(sample)
    assert "SAMPLE" in str(sample["frame"])


def test_guide_briefing_and_standards_sheet_have_its_points() -> None:
    for view in (guide(STATE, CREW), standards_of(STATE, "w1", "pairs")):
        told = guide_text(view, SPEECH)
        (one,) = (one for one in told.standards if one.id == "log_pull")
        assert one.points[0].says == "The log lies across the lane."


def test_the_self_check_asks_about_it() -> None:
    view = guide(STATE, CREW)
    alone = replace(view, standards=tuple(s for s in view.standards if s.movement is OWN))
    library = library_with(own_event().movements)
    check = self_check(alone, 3, SPEECH, library)
    assert {question.name for question in check.questions} == {"Log pull"}


def test_forecast_and_kit_know_it() -> None:
    event = own_event()
    day = forecast_draft(event, "w1")
    programme = day.programmes[0].programme
    unknown = [one for one in programme.findings if "log_pull" in one.facts.values()]
    assert unknown == []
    team = next(iter(STATE.teams.values()))
    library = library_with(event.movements).movements
    assert any(need.item == "log" for need in lane_needs(event.workouts[0], team, event, library))
    assert Need("barbell") not in lane_needs(event.workouts[0], team, event, library)
