"""Cards with far more work than usual."""

import re
from decimal import Decimal

import pytest

from callroom.model import Block, Part, PublishedLoad, State, Task, Workout
from callroom.paper.cards import cards_pdf, stacked
from callroom.views.cards import cards
from callroom.views.sheets import sheets
from callroom.views.work_wording import speech_of
from tests.paper.reading import pages_of
from tests.views.building import example_event, example_state


def one_workout(*blocks: Block, cap_s: int = 600) -> State:
    """The example with one workout made of `blocks`."""
    part = Part(id="a", kind="work", cap_s=cap_s, blocks=blocks)
    workout = Workout(id="w1", name="Crowded", floor="hall", parts=(part,))
    return example_state(example_event(workouts=(workout,)))


def first_card(state: State, to_a_sheet: int = 1) -> list[str]:
    """The pages of the first heat's cards."""
    assert state.event is not None
    pdf = cards_pdf(
        cards(state, heats={"w1-1"}),
        size="a4",
        at=sheets(state).as_of,
        speech=speech_of(state.event, {}),
        to_a_sheet=to_a_sheet,
    )
    return pages_of(pdf)


def squats(count: int) -> tuple[Task, ...]:
    loads = (PublishedLoad(kg=Decimal(20), lb=Decimal(45)),)
    return tuple(
        Task(id=f"t{number}", movement=f"movement_{number}", amounts=(10,), loads=loads)
        for number in range(1, count + 1)
    )


@pytest.mark.parametrize("to_a_sheet", [1, 2])
def test_a_long_list_gets_smaller_and_stays_on_its_sheet(to_a_sheet: int) -> None:
    pages = first_card(one_workout(Block(id="b", tasks=squats(20))), to_a_sheet)
    assert len(pages) == 4 // to_a_sheet
    for text in ("movement 20", "200", "Captain", "Revision 3"):
        assert text in pages[0]


@pytest.mark.parametrize("to_a_sheet", [1, 2])
def test_a_list_longer_than_a_sheet_goes_on_and_loses_nothing(to_a_sheet: int) -> None:
    pages = first_card(one_workout(Block(id="b", tasks=squats(70))), to_a_sheet)
    whole = " ".join(pages)
    assert len(pages) > 4
    assert all("Revision 3" in page for page in pages)
    for team in ("Two Left Feet", "Salt Sisters", "Chalk & Cheese", "Up Hill Both Ways"):
        assert sum(team in page for page in pages) == len(pages) // 4
    for number in range(1, 71):
        assert len(re.findall(rf"movement {number}\b", whole)) == 4
    assert len(re.findall(r"\b700\b", whole)) == 4


def test_many_rounds_lie_in_banks_and_none_is_lost() -> None:
    block = Block(id="b", tasks=squats(3), open_ended=True)
    pages = first_card(one_workout(block, cap_s=1800))
    assert len(pages) == 4
    numbers = pages[0].split()
    for total in range(10, 40 * 30 + 1, 10):
        assert str(total) in numbers
    assert "Every further round adds 30." in pages[0]


def test_strands_say_that_each_line_counts_its_own_side() -> None:
    tasks = (
        Task(id="l", movement="left", amounts=(10,), strand=1),
        Task(id="r", movement="right", amounts=(20,), strand=2),
    )
    pages = first_card(one_workout(Block(id="b", tasks=tasks, rounds=2)))
    assert "add them to 30 a full round" in " ".join(pages[0].split())


@pytest.mark.parametrize("count", range(7))
def test_one_cut_and_one_pile_on_the_other_keep_the_order(count: int) -> None:
    laid = stacked(count)
    left, right = laid[::2], laid[1::2]
    assert [card for card in left + right if card is not None] == list(range(count))


def test_tasks_side_by_side_count_from_nothing_so_that_they_can_be_added() -> None:
    beside = (
        Task(id="run", movement="run", amounts=(20,), strand=1),
        Task(id="row", movement="row", amounts=(30,), strand=2),
    )
    pages = first_card(one_workout(Block(id="a", tasks=squats(9)), Block(id="b", tasks=beside)))
    assert "add them to the 90 before" in pages[0]
    assert "+20" in pages[0]
    assert "+30" in pages[0]
    assert "120" not in pages[0]
