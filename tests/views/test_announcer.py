"""The announcer's page: names as they are said, who leads, what comes next."""

import msgspec

from callroom.model import State
from callroom.views.announcer import announcer
from callroom.views.page_head import public_at
from callroom.views.timetable import Audience
from tests.views.building import example_state
from tests.web.building import played_book

OUTSIDE = Audience(public=True)


def test_a_team_is_told_as_its_name_is_said_and_where_it_stands() -> None:
    book = played_book(8)
    first = book.state.plan.heat("w3-3").teams[0] if book.state.plan is not None else ""
    spoken = msgspec.structs.replace(book.state.teams[first], say_it="SAT-er-day")
    state = msgspec.structs.replace(book.state, teams={**book.state.teams, first: spoken})
    told = announcer(state, public_at(state, book.now_ms()))
    (heat,) = told.on_floor
    team = next(one for one in heat.teams if one.team == first)
    assert team.say_it == "SAT-er-day"
    assert team.row is not None
    assert team.row.place is not None
    assert [one.lane for one in heat.teams] == sorted(one.lane for one in heat.teams)


def test_the_first_three_places_of_each_division_lead_with_all_who_share_them() -> None:
    book = played_book(8)
    told = announcer(book.state, public_at(book.state, book.now_ms()))
    assert [table.division.id for table in told.leading] == ["open", "pairs"]
    for table in told.leading:
        assert [row.place for row in table.rows if row.place is not None and row.place > 3] == []
        assert table.rows
    level = [one for heat in (*told.on_floor, *told.called) for one in heat.teams if one.level]
    for one in level:
        assert one.row is not None
        assert one.row.shared


def test_before_anything_counts_nobody_leads_and_nothing_unreleased_is_said() -> None:
    told = announcer(example_state(), OUTSIDE)
    assert told.leading == ()
    assert told.on_floor == ()
    assert all(team.row is None for heat in told.next for team in heat.teams)
    assert "Heavy single" not in msgspec.json.encode(told).decode()


def test_an_empty_book_has_an_empty_page() -> None:
    told = announcer(State(), OUTSIDE)
    assert (told.on_floor, told.called, told.next, told.leading) == ((), (), (), ())


def test_what_a_team_needs_is_told_in_the_heat_where_it_is_at_stake() -> None:
    book = played_book(8)
    told = announcer(book.state, public_at(book.state, book.now_ms()))
    at_stake = [heat for heat in (*told.on_floor, *told.called, *told.next) if heat.racing]
    assert at_stake
    for heat in at_stake:
        for team in (one for one in heat.teams if one.need is not None):
            need = team.need
            assert need is not None
            assert need.target in {1, 2, 3}
            assert need.at_least is not None
            assert 1 <= need.at_least <= heat.racing[team.division]
    # Before anything counts nothing is told to be at stake.
    before = announcer(example_state(), OUTSIDE)
    assert not any(one.need for heat in before.next for one in heat.teams)
