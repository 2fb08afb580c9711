"""The self-check: the same for a seed, right where it says so, silent about the unreleased."""

import pytest

from callroom.bootstrap.speech import speech_for
from callroom.standards import built_in, figure_svg, movement
from callroom.views import guide_rules, wording
from callroom.views.guide import guide
from callroom.views.timetable import CREW, Audience
from callroom.views.training import MOST_QUESTIONS, Question, SelfCheck, self_check
from tests.views.building import example_state

STATE = example_state()
SPEECH = speech_for(STATE)
CREWS = guide(STATE, CREW)
SEEDS = range(1, 25)


def check(seed: int) -> SelfCheck:
    return self_check(CREWS, seed, SPEECH)


def questions(kind: str) -> list[Question]:
    return [one for seed in SEEDS for one in check(seed).questions if one.kind == kind]


def test_a_seed_asks_the_same_and_another_seed_something_else() -> None:
    assert check(4) == check(4)
    assert len({check(seed).questions for seed in SEEDS}) == len(SEEDS)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_check_has_its_number_of_clear_questions(seed: int) -> None:
    made = check(seed)
    assert len(made.questions) == MOST_QUESTIONS
    assert {one.kind for one in made.questions} >= {"cost", "place"}
    for one in made.questions:
        told = [(choice.text, choice.svg) for choice in one.choices]
        assert 2 <= len(told) == len(set(told)) <= 4
        assert 0 <= one.right < len(told)
        assert one.name == movement(one.movement).name


def test_the_right_drawing_is_the_figure_of_the_standard_and_no_title_tells() -> None:
    poses = built_in().poses
    asked = questions("which")
    assert asked
    for one in asked:
        own = {
            figure_svg(figure, poses, title="A drawn athlete")
            for figure in movement(one.movement).figures
        }
        assert [choice.svg in own for choice in one.choices] == [
            place == one.right for place in range(len(one.choices))
        ]
        assert all("<title>A drawn athlete</title>" in choice.svg for choice in one.choices)
        assert one.because.count("missing") == len(one.choices) - 1


def test_what_is_missing_is_a_point_and_no_choice_is_missed_as_well() -> None:
    asked = questions("missing")
    assert asked
    for one in asked:
        points = {point.says for point in movement(one.movement).points}
        assert {choice.text for choice in one.choices} <= points
        assert one.svg.startswith("<svg")
        assert one.choices[one.right].text == one.because


def test_what_a_fault_costs_and_where_to_stand_are_those_of_the_standard() -> None:
    for one in questions("cost"):
        reasons = movement(one.movement).no_reps
        (cost,) = {reason.cost for reason in reasons if one.asks.startswith(reason.says)}
        assert one.choices[one.right].text == guide_rules.cost(cost, wording.ENGLISH)
    for one in questions("place"):
        judge = movement(one.movement).judge
        assert one.choices[one.right].text == f"{judge.stands} {judge.watches}"


def test_the_public_is_not_asked_about_what_is_not_released() -> None:
    view = guide(STATE, Audience(public=True, now_s=0))
    asked = {name for seed in SEEDS for name in self_check(view, seed, SPEECH).movements}
    assert "clean_and_jerk" not in asked
    assert "clean_and_jerk" in {name for seed in SEEDS for name in check(seed).movements}


def test_without_an_event_the_whole_library_is_asked_about() -> None:
    made = self_check(None, 1, SPEECH)
    assert len(made.questions) == MOST_QUESTIONS


def test_only_right_answers_count() -> None:
    made = check(3)
    right = {index: one.right for index, one in enumerate(made.questions)}
    assert made.right(right) == MOST_QUESTIONS
    assert made.right({**right, 0: right[0] + 1}) == MOST_QUESTIONS - 1
    assert made.right({}) == 0
    assert made.right({99: 0}) == 0
