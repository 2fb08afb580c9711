"""Proposals for a running day: worked out, kept as shown, accepted with the rota, or stale."""

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions import planned
from callroom.bootstrap import repairing
from callroom.bootstrap.repairing import accepted, keep_proposals, kept_proposal, proposals
from callroom.bootstrap.rota_making import made_for
from callroom.journal.entries import bodies
from callroom.model import CrewMember, Refusal, RotaRules, Stale, State
from tests.actions.day_building import DIRECTOR, Day, loaded_day
from tests.web.building import example_book

RULES = RotaRules(posts=())


def late_day() -> Day:
    """A day with a rota, whose first heat began 25 minutes late and is still on."""
    day = loaded_day()
    for number in range(5):
        member = CrewMember(person=f"p{number}", posts=("judge",), experienced=True)
        day.tell(DIRECTOR, bodies.CrewSet(member=member))
    day.ask(DIRECTOR, planned.publish_rota(made_for(day.state, rules=RULES), RULES))
    day.ask(DIRECTOR, ask.call_heat("w1-1"))
    day.ask(DIRECTOR, ask.start_heat("w1-1", day.at_ms + 1_570_000))
    day.at_ms += 1_800_000
    return day


def test_a_late_day_goes_on_and_the_rota_with_it() -> None:
    day = late_day()
    proposal, *_ = proposals(day.state, day.at_ms, search=False)
    assert proposal.acceptable
    assert proposal.rota is not None
    assert proposal.rota.plan_revision == 2
    told = {team for notice in proposal.repaired.notices for team in notice.teams}
    assert told >= {"T3", "T4"}
    day.ask(DIRECTOR, accepted(day.state, proposal, "the first heat began late"))
    assert day.state.plan is not None
    assert day.state.plan.revision == 2
    assert day.state.rota == proposal.rota
    kept = day.state.repairs["2"]
    assert kept.rota_before is not None
    assert kept.rota_before.plan_revision == 1
    after, *_ = proposals(day.state, day.at_ms, search=False)
    assert not after.changes


def test_a_proposal_leaves_time_to_tell_it() -> None:
    day = late_day()
    proposal, *_ = proposals(day.state, day.at_ms, search=False)
    soonest = min(heat.start_s for heat in proposal.repaired.plan.heats if heat.id != "w1-1")
    assert soonest >= 1800 + repairing.LEAD_S
    day.at_ms += 120_000
    day.ask(DIRECTOR, accepted(day.state, proposal, "read for two minutes"))


def test_a_heat_that_is_about_to_start_is_not_held_up() -> None:
    day = loaded_day()
    for offset_s in (-100, 0, 110):
        (proposal,) = proposals(day.state, day.at_ms + offset_s * 1000, search=False)
        assert not proposal.changes
        assert proposal.repaired.notices == ()
    (late,) = proposals(day.state, day.at_ms + 300_000, search=False)
    assert late.acceptable


def test_a_withdrawn_team_moves_nothing_but_its_judge_is_told() -> None:
    day = loaded_day()
    day.ask(DIRECTOR, ask.withdraw_team("T3", ""))
    (proposal,) = proposals(day.state, day.at_ms, search=False)
    assert not proposal.changes
    assert {notice.said.rule for notice in proposal.repaired.notices} == {"tell.lane_empty"}


def test_a_lost_lane_finds_its_team_another() -> None:
    day = loaded_day()
    day.ask(DIRECTOR, planned.note_loss("lane", "wet", floor="main", lane=2))
    proposal, *_ = proposals(day.state, day.at_ms, search=False)
    assert proposal.acceptable
    lanes = {place.lane for heat in proposal.repaired.plan.heats for place in heat.lanes}
    assert 2 not in lanes
    day.ask(DIRECTOR, accepted(day.state, proposal, "lane 2 is wet"))


def test_the_night_before_thin_heats_are_closed() -> None:
    day = loaded_day()
    day.at_ms -= 12 * 3600_000
    day.ask(DIRECTOR, ask.withdraw_team("T3", "ill"))
    (proposal,) = proposals(day.state, day.at_ms, search=False)
    assert proposal.acceptable
    assert len(proposal.repaired.plan.heats) == 2
    assert {notice.said.rule for notice in proposal.repaired.notices} >= {"tell.heat_closed"}
    day.ask(DIRECTOR, accepted(day.state, proposal, "Team 3 dropped out"))
    assert day.state.plan is not None
    assert len(day.state.plan.heats) == 2


def test_another_order_is_looked_for_apart_where_something_moves(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(repairing, "ask_apart", lambda kind, *_: asked.append(kind))
    day = late_day()
    assert len(proposals(day.state, day.at_ms)) == 1
    assert asked == ["reorder"]
    proposals(loaded_day().state, loaded_day().at_ms)
    assert asked == ["reorder"]


def test_what_was_shown_is_accepted_or_nothing() -> None:
    book, day = example_book(), late_day()
    found = proposals(day.state, day.at_ms, search=False)
    keep_proposals(book, found)
    shown = kept_proposal(book, found[0].name)
    assert shown == found[0]
    with pytest.raises(Stale):
        kept_proposal(book, "another")
    later = replace(day.state, plan=replace(found[0].repaired.plan, revision=9))
    with pytest.raises(Stale):
        accepted(later, shown, "late")
    keep_proposals(book, ())
    with pytest.raises(Stale):
        kept_proposal(book, found[0].name)


def test_without_a_plan_there_is_nothing_to_repair() -> None:
    with pytest.raises(Refusal):
        proposals(State(), 0)
    with pytest.raises(Refusal):
        proposals(replace(loaded_day().state, plan=None), 0)
