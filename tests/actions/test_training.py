"""A self-check is a report: always stored, the last one of each device shown."""

import pytest

from callroom.actions import day
from callroom.actions.request import body_of
from callroom.model import BadInput
from tests.web.building import DIRECTOR, example_book


def test_the_last_check_of_a_device_counts_and_how_often_it_was_taken() -> None:
    book = example_book()
    judge = book.doors.holders["token-judge"]
    book.do(judge, day.report_training(("thruster",), 3, 8))
    book.do(judge, day.report_training(("pull_up", "row"), 8, 8))
    book.do(DIRECTOR, day.report_training(("row",), 1, 8))
    taken = book.state.trainings["judge-1"]
    assert (taken.right, taken.asked, taken.times) == (8, 8, 2)
    assert taken.movements == ("pull_up", "row")
    assert book.state.trainings["director-1"].times == 1


def test_a_device_that_lost_its_role_is_still_heard() -> None:
    book = example_book()
    book.do(DIRECTOR, day.join_device("judge-1", "judge"))
    book.do(DIRECTOR, day.revoke_device("judge-1"))
    book.do(book.doors.holders["token-judge"], day.report_training(("row",), 5, 8))
    assert book.state.trainings["judge-1"].right == 5


@pytest.mark.parametrize(("right", "asked"), [(-1, 8), (9, 8), (1, 0)])
def test_numbers_that_cannot_be_are_refused(right: int, asked: int) -> None:
    data = f'{{"movements": ["row"], "right": {right}, "asked": {asked}}}'
    with pytest.raises(BadInput):
        body_of("training.taken", data.encode())


def test_a_volunteer_is_known_by_their_number_on_whatever_device() -> None:
    book = example_book()
    judge = book.doors.holders["token-judge"]
    book.do(judge, day.report_training(("thruster",), 5, 8, "p1"))
    book.do(judge, day.report_training(("thruster",), 8, 8, "p2"))
    assert not book.state.is_trained("p1")
    assert book.state.is_trained("p2")
    assert not book.state.is_trained("p3")
    book.do(DIRECTOR, day.report_training(("row",), 6, 8, "p1"))
    assert book.state.is_trained("p1")
    assert (book.state.trained["p1"].times, book.state.trainings["judge-1"].times) == (2, 2)
