"""Several phones on one lane know of each other, for as long as they ask."""

from typing import Any

from callroom.views.lane_pad import PadOther
from callroom.web.lane_watch import GONE_AFTER_S, LaneWatch
from tests.web.building import client_of, played_book

LANE = ("w1-1", 2)


def test_others_are_told_until_they_fall_silent() -> None:
    now_s = 0.0
    watch = LaneWatch(lambda: now_s)
    assert watch.note(LANE, "one", "a", 3) == ()
    assert watch.note(LANE, "two", "a", 5) == (PadOther(part="a", done=3),)
    assert watch.note(("w1-1", 3), "three", "a", 9) == ()
    now_s = GONE_AFTER_S - 1
    assert watch.note(LANE, "one", "b", 0) == (PadOther(part="a", done=5),)
    now_s = GONE_AFTER_S + 1
    assert watch.note(LANE, "one", "b", 1) == ()


def test_a_pad_hears_of_the_other_and_what_it_shows() -> None:
    book = played_book()
    assert book.state.plan is not None
    heat = book.state.plan.heat("w3-1")
    address = f"/pad/{heat.id}/{heat.lanes[0].lane}/now"

    def ask(role: Any, client: Any, done: int) -> Any:
        client.cookies.set("callroom-8000", f"token-{role}")
        return client.get(f"{address}?part=a&done={done}").json()["others"]

    with client_of(book) as client:
        assert ask("judge", client, 12) == []
        assert ask("head_judge", client, 4) == [{"part": "a", "done": 12}]
        assert ask("judge", client, 13) == [{"part": "a", "done": 4}]
