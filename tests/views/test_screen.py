"""The hall screen: what takes turns, and that it is never empty."""

import msgspec

from callroom.actions import day
from callroom.actions.invent_budget import invented_budget
from callroom.actions.money import set_budget
from callroom.model import Screen, State
from callroom.model.side_programme import SideItem, Span
from callroom.views.page_head import public_at
from callroom.views.screen import ROWS, HallScreen, hall_screen
from callroom.views.timetable import Audience
from tests.views.building import example_state
from tests.web.building import DIRECTOR, FakeBook, played_book

OUTSIDE = Audience(public=True)


def shown(book: FakeBook) -> HallScreen:
    return hall_screen(book.state, public_at(book.state, book.now_ms()))


def parts_of(screen: HallScreen) -> list[str]:
    return list(dict.fromkeys(slide.part for slide in screen.slides))


def test_in_the_middle_of_the_day_each_part_has_its_turns_in_one_order() -> None:
    book = played_book(6)
    book.do(DIRECTOR, day.set_screen(Screen(thanks=("The bakery",))))
    screen = shown(book)
    assert parts_of(screen) == ["floor", "next", "standings", "programme", "thanks"]
    names = [slide.name for slide in screen.slides]
    assert len(set(names)) == len(names)
    heats = [slide.heat.slot.stage for slide in screen.slides if slide.heat is not None]
    assert heats[:2] == ["started", "called"]


def test_the_director_chooses_the_parts() -> None:
    book = played_book(6)
    book.do(DIRECTOR, day.set_screen(Screen(parts=("next", "floor"))))
    assert parts_of(shown(book)) == ["floor", "next"]


def test_what_was_raised_takes_its_turn_once_the_budget_shows_it() -> None:
    book = played_book(6)
    event = book.state.event
    assert event is not None
    budget = invented_budget(event)
    book.do(DIRECTOR, set_budget(msgspec.structs.replace(budget, on_screen=False)))
    assert "raised" not in parts_of(shown(book))
    book.do(DIRECTOR, set_budget(budget))
    assert parts_of(shown(book)) == ["floor", "next", "standings", "raised", "programme"]


def test_there_is_something_to_see_before_anything_is_set_up_and_without_any_part() -> None:
    assert parts_of(hall_screen(State(), OUTSIDE)) == ["welcome"]
    book = played_book(6)
    book.do(DIRECTOR, day.set_screen(Screen(parts=())))
    assert parts_of(shown(book)) == ["welcome"]


def test_before_the_first_heat_everyone_is_welcomed_and_told_what_comes() -> None:
    assert parts_of(hall_screen(example_state(), OUTSIDE)) == ["welcome", "next", "programme"]


def test_a_division_takes_more_than_one_turn_and_every_row_stands_on_one() -> None:
    screen = shown(played_book(10))
    turns = [slide for slide in screen.slides if slide.part == "standings"]
    division = turns[0].table.division.id if turns[0].table is not None else ""
    mine = [one for one in turns if one.table is not None and one.table.division.id == division]
    assert all(0 < len(one.rows) <= ROWS for one in mine)
    table = mine[0].table
    assert table is not None
    placed = [row.team for row in table.rows if row.place is not None]
    assert [row.team for one in mine for row in one.rows] == placed[: 3 * ROWS]


def test_long_thanks_are_told_in_turns_and_none_is_left_out() -> None:
    lines = tuple(f"Shop {number}" for number in range(2 * ROWS + 1))
    book = played_book(2)
    book.do(DIRECTOR, day.set_screen(Screen(parts=("thanks",), thanks=lines)))
    slides = shown(book).slides
    assert [len(slide.lines) for slide in slides] == [ROWS, ROWS, 1]
    assert tuple(line for slide in slides for line in slide.lines) == lines


def test_nothing_of_an_unreleased_workout_is_on_it() -> None:
    text = msgspec.json.encode(hall_screen(example_state(), OUTSIDE)).decode()
    assert "Heavy single" not in text


def test_what_is_over_is_no_longer_announced() -> None:
    book = played_book(6)
    state = book.state
    assert state.plan is not None
    ends = sorted((pause.start_s + pause.length_s, pause.name) for pause in state.plan.pauses)
    for now_s, left in ((ends[0][0] - 1, len(ends)), (ends[0][0], len(ends) - 1)):
        screen = hall_screen(state, Audience(public=True, now_s=now_s))
        (slide,) = [one for one in screen.slides if one.part == "programme"]
        assert len(slide.pauses) == left
    after = hall_screen(state, Audience(public=True, now_s=ends[-1][0]))
    assert "programme" not in parts_of(after)


def test_the_programme_has_what_is_on_beside_the_heats_in_order_of_time() -> None:
    state = example_state()
    assert state.plan is not None
    first_s = min(pause.start_s for pause in state.plan.pauses)
    spans = (Span(start_s=first_s - 60, length_s=60),)
    cakes = SideItem(id="cakes", kind="food", name="Cakes", spans=spans)
    keys = SideItem(id="keys", kind="other", name="Keys", spans=spans, public=False)
    beside = msgspec.structs.replace(
        state,
        side={"cakes": cakes, "keys": keys},
        screen=Screen(parts=("programme",)),
    )
    (slide,) = (one for one in hall_screen(beside, OUTSIDE).slides if one.part == "programme")
    assert slide.pauses[0].name == "Cakes"
    assert "Keys" not in {pause.name for pause in slide.pauses}
