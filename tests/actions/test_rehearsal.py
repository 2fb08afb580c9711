"""The script of a rehearsal: what goes wrong is chosen by the seed, and everybody mends it."""

import msgspec
import pytest

from callroom.actions.invent_safety import invented_facts
from callroom.actions.mishaps import choose_mishaps
from callroom.actions.rehearsal import script
from callroom.actions.safety_rules import facts_faults
from callroom.journal.entries.safety_bodies import SafetySet
from callroom.model import Actor, ScoreReport
from callroom.model.safety import SafetyFacts
from callroom.views.results import results_digest
from tests.web.building import FakeBook, example_book


def played(seed: int, *, smooth: bool = False) -> FakeBook:
    """The example day played to its end by the real rules; a refusal ends the test."""
    book = example_book()
    for number, cue in enumerate(script(book.state, seed, smooth=smooth)):
        book.set_now(cue.at_ms)
        actor = Actor(role=cue.role, device=cue.post, name=cue.post)
        book.do(actor, cue.asked(book.state), key=f"cue-{number}")
    return book


@pytest.mark.parametrize("seed", [1, 4])
def test_whatever_goes_wrong_is_mended_by_the_end_of_the_day(seed: int) -> None:
    before = example_book().state
    assert before.event is not None
    assert before.plan is not None
    wrong = choose_mishaps(before, before.event, before.plan, seed)
    state = played(seed).state
    assert state.plan is not None
    assert {state.heat_run(heat.id).stage for heat in state.plan.heats} == {"confirmed"}
    assert all(posting.final for posting in state.postings.values())
    assert not state.unplaced
    assert not [sheet for sheet in state.sheets.values() if sheet.disputed]

    heat, team = wrong.no_show
    workout = state.plan.heat(heat).workout
    absent = [one for one in state.sheets.values() if (one.workout, one.team) == (workout, team)]
    assert {one.counting.outcome for one in absent if one.counting} == {"did_not_start"}
    assert team not in state.heat_run(heat).arrived

    chosen = [sheet for sheet in state.sheets.values() if sheet.chosen_seq is not None]
    corrected = [sheet for sheet in state.sheets.values() if sheet.correction is not None]
    assert len(chosen) == 1
    assert len(corrected) == 1
    assert len(chosen[0].reports) > 1

    (appeal,) = state.appeals.values()
    assert appeal.decision is not None
    (loss,) = state.losses.values()
    lost = wrong.lost
    assert lost is not None
    assert (loss.floor, loss.lane) == (lost.floor, lost.lane)
    after = [one for one in state.plan.heats if one.start_s >= lost.at_s]
    assert lost.lane not in {
        place.lane for one in after if one.floor == lost.floor for place in one.lanes
    }
    assert state.plan.revision == before.plan.revision + 1


def test_first_aid_closes_what_it_saw_and_a_near_miss_is_left_open() -> None:
    book = played(1)
    state = book.state
    hurt, near = state.incidents["1"], state.incidents["2"]
    assert (hurt.sort, hurt.first_aid, hurt.open) == ("injury", True, False)
    assert [step.record for step in hurt.steps] == ["incident/invented-1", "incident/invented-2"]
    assert (near.sort, near.open) == ("near_miss", True)
    assert state.event is not None
    assert {one.floor for one in state.weather.values()} <= {
        floor.id for floor in state.event.floors
    }
    assert state.weather


def test_a_venue_that_was_described_is_not_invented_anew() -> None:
    book = example_book()
    known = SafetyFacts(spectators=12)
    state = msgspec.structs.replace(book.state, safety=known)
    assert state.event is not None
    assert not [
        body
        for cue in script(state, 1)
        for body in cue.request.proposals
        if isinstance(body, SafetySet)
    ]
    assert facts_faults(invented_facts(state.event)) == ()


def test_late_heats_start_late_and_scores_of_an_outage_come_after_it() -> None:
    before = example_book().state
    assert before.event is not None
    assert before.plan is not None
    wrong = choose_mishaps(before, before.event, before.plan, 1)
    book = played(1)
    ends = {heat: book.state.heat_run(heat).finished_ms for heat in (wrong.outage,)}
    came = [
        entry.at_ms
        for entry, body in book.entries
        if isinstance(body, ScoreReport) and body.heat == wrong.outage and body.source == "pad"
    ]
    assert min(came) > (ends[wrong.outage] or 0) + 600_000
    smooth = played(1, smooth=True)
    for heat in wrong.late:
        late_ms = book.state.heat_run(heat).started_ms
        planned_ms = smooth.state.heat_run(heat).started_ms
        assert late_ms is not None
        assert planned_ms is not None
        assert late_ms - planned_ms == 240_000


def test_the_same_seed_plays_the_same_day_and_a_smooth_one_has_no_mishap() -> None:
    assert results_digest(played(4).state) == results_digest(played(4).state)
    smooth = played(4, smooth=True).state
    assert not smooth.appeals
    assert not smooth.losses
    assert not smooth.incidents
    assert smooth.weather
    assert results_digest(smooth) != results_digest(played(4).state)
