"""What the hall screen shows is the director's to set."""

import pytest

from callroom.actions import day
from callroom.model import NotAllowed, Refusal, Screen
from tests.web.building import DIRECTOR, example_book


def test_what_was_set_last_is_what_is_shown() -> None:
    book = example_book()
    assert book.state.screen == Screen()
    first = Screen(parts=("floor",), each_s=5)
    wanted = Screen(parts=("next", "thanks"), each_s=20, thanks=("The bakery next door",))
    for screen in (first, wanted):
        book.do(DIRECTOR, day.set_screen(screen))
    assert book.state.screen == wanted
    assert book.state.subjects["screen"] == book.state.seq


@pytest.mark.parametrize("each_s", [0, 3, 121])
def test_a_part_that_nobody_can_read_is_refused(each_s: int) -> None:
    with pytest.raises(Refusal) as caught:
        example_book().do(DIRECTOR, day.set_screen(Screen(each_s=each_s)))
    assert caught.value.rule == "screen.each_s"


def test_only_the_director_sets_it() -> None:
    book = example_book()
    with pytest.raises(NotAllowed):
        book.do(book.doors.holders["token-desk"], day.set_screen(Screen()))
