"""Freezing, losses, repairs and the rota: what the rules allow, and what the fold makes of it."""

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions import planned
from callroom.actions.day_now import day_now
from callroom.actions.digest import inputs_digest
from callroom.actions.request import propose
from callroom.journal.entries import bodies
from callroom.model import BadInput, CrewMember, Duty, NotAllowed, Plan, Refusal, Rota, RotaRules
from callroom.planner.repair import repair
from callroom.planner.rota import make_rota, pose_rota
from tests.actions.day_building import (
    DIRECTOR,
    EVENT,
    HEAD_JUDGE,
    JUDGE,
    TEAMS,
    Day,
    loaded_day,
    plan,
)

RULES = RotaRules(posts=(), most_in_a_row=4)
CREW = tuple(CrewMember(person=f"p{n}", posts=("judge",), experienced=True) for n in range(4))


def refused(day: Day, request: object, rule: str, actor: object = DIRECTOR) -> None:
    with pytest.raises(Refusal) as fault:
        day.ask(actor, request)  # type: ignore[arg-type]
    assert fault.value.rule == rule


def at(day: Day, offset_s: int) -> None:
    day.at_ms += offset_s * 1000


def plan_of(day: Day) -> Plan:
    assert day.state.plan is not None
    return day.state.plan


def staffed_day() -> Day:
    day = loaded_day()
    for member in CREW:
        day.tell(DIRECTOR, bodies.CrewSet(member=member))
    return day


def rota_for(day: Day) -> Rota:
    problem = pose_rota(EVENT, TEAMS, plan_of(day), day.state.crew.values(), RULES)
    return make_rota(problem)


def test_a_frozen_plan_is_not_replaced_until_it_is_thawed() -> None:
    day = loaded_day()
    told = day.state.plan_told
    assert told is not None
    assert (told.at_ms, told.frozen) == (day.at_ms, False)
    refused(day, planned.thaw_plan(1, "late entries"), "plan.not_frozen")
    refused(day, planned.freeze_plan(2), "plan.other_revision")
    day.ask(DIRECTOR, planned.freeze_plan(1))
    refused(day, planned.freeze_plan(1), "plan.frozen_already")
    second = ask.publish_plan(plan(2, inputs_digest(day.state)))
    refused(day, second, "plan.is_frozen")
    refused(day, planned.thaw_plan(1, " "), "decision.no_reason")
    day.ask(DIRECTOR, planned.thaw_plan(1, "two teams more"))
    day.ask(DIRECTOR, second)
    assert plan_of(day).revision == 2


def test_losses_are_numbered_and_end() -> None:
    day = loaded_day()
    refused(day, planned.note_loss("lane", "wet", floor="moon", lane=1), "loss.unknown_floor")
    refused(day, planned.note_loss("lane", "wet", floor="main", lane=9), "loss.unknown_lane")
    refused(day, planned.note_loss("kit", "torn", workout="w1"), "loss.no_number")
    refused(day, planned.note_loss("lane", "", floor="main", lane=2), "decision.no_reason")
    with pytest.raises(NotAllowed):
        day.ask(JUDGE, planned.note_loss("lane", "wet", floor="main", lane=2))
    day.ask(HEAD_JUDGE, planned.note_loss("lane", "wet floor", floor="main", lane=2))
    day.ask(DIRECTOR, planned.note_loss("kit", "a rope tore", workout="w1", left=3))
    day.ask(DIRECTOR, planned.note_loss("kit", "another", workout="w1", left=2))
    day.ask(DIRECTOR, planned.note_loss("floor", "power", floor="main", ready_s=4000))
    now = day_now(day.state, day.at_ms)
    assert [(lost.floor, lost.lane) for lost in now.lost_lanes] == [("main", 2)]
    assert (now.kit_lanes, now.ready_s, now.lost_floors) == ({"w1": 2}, {"main": 4000}, ())
    day.ask(DIRECTOR, planned.end_loss(day.state.losses["1"]))
    refused(day, planned.end_loss(day.state.losses["1"]), "loss.not_lost")
    assert day_now(day.state, day.at_ms).lost_lanes == ()


def test_real_times_of_a_heat_are_counted_from_its_clock() -> None:
    day = loaded_day()
    zero_ms = day.at_ms + 370_000
    day.ask(DIRECTOR, ask.call_heat("w1-1"))
    day.ask(DIRECTOR, ask.mark_arrived("w1-1", "T1"))
    assert day_now(day.state, day.at_ms).present == ("T1",)
    day.ask(DIRECTOR, ask.start_heat("w1-1", zero_ms))
    at(day, 970)
    assert day_now(day.state, day.at_ms).begun_s == {"w1-1": 300}
    day.ask(DIRECTOR, ask.finish_heat("w1-1"))
    now = day_now(day.state, day.at_ms)
    assert now.over_s == {"w1-1": 970 + 60 + 60}
    assert now.called == ()


def late_day() -> Day:
    """The first heat began 1,500 s late and is still on: the second cannot be on time."""
    day = loaded_day()
    day.ask(DIRECTOR, ask.call_heat("w1-1"))
    day.ask(DIRECTOR, ask.start_heat("w1-1", day.at_ms + 1_570_000))
    at(day, 1800)
    return day


def test_a_repair_moves_what_is_late_and_keeps_the_plan_before() -> None:
    day = late_day()
    before = plan_of(day)
    proposed = repair(EVENT, TEAMS, before, day_now(day.state, day.at_ms))
    assert proposed.how == "kept_order"
    request = planned.repair_plan(before, proposed.plan, "the first heat began late")
    day.ask(DIRECTOR, request)
    assert plan_of(day) == replace(proposed.plan, bound_s=None)
    kept = day.state.repairs["2"]
    assert (kept.before, kept.why) == (before, "the first heat began late")
    assert plan_of(day).heat("w1-1") == before.heat("w1-1")


def test_a_repair_that_is_not_possible_is_refused() -> None:
    day = late_day()
    before = plan_of(day)
    rewritten = replace(before.heats[0], start_s=60)
    moved = replace(before, revision=2, heats=(rewritten, *before.heats[1:]))
    with pytest.raises(BadInput) as fault:
        day.ask(DIRECTOR, planned.repair_plan(before, moved, "so that it looks right"))
    assert "check.repair_rewrites" in {found.rule for found in fault.value.findings}
    same = planned.repair_plan(before, replace(before, revision=2), "nothing")
    refused(day, same, "plan.nothing_repaired")
    with pytest.raises(NotAllowed):
        day.ask(HEAD_JUDGE, same)


def test_a_rota_is_for_the_plan_in_force_and_can_be_worked() -> None:
    day = staffed_day()
    rota = rota_for(day)
    assert not rota.open_shifts()
    old = replace(rota, plan_revision=7)
    refused(day, planned.publish_rota(old, RULES), "rota.other_plan")
    first = rota.duties[0]
    twice = tuple(replace(duty, person=first.person) for duty in rota.duties)
    with pytest.raises(BadInput):
        day.ask(DIRECTOR, planned.publish_rota(replace(rota, duties=twice), RULES))
    day.ask(DIRECTOR, planned.publish_rota(rota, RULES))
    assert (day.state.rota, day.state.rota_rules) == (rota, RULES)


def test_plan_and_rota_are_told_together_or_not_at_all() -> None:
    day = staffed_day()
    second = plan(2, inputs_digest(day.state))
    rota = replace(rota_for(day), plan_revision=2)
    day.ask(DIRECTOR, planned.publish_plan_with_rota(second, rota, RULES))
    assert plan_of(day).revision == 2
    third = plan(3, inputs_digest(day.state))
    refused(day, planned.publish_plan_with_rota(third, rota, RULES), "rota.other_plan")
    assert plan_of(day).revision == 2


def test_a_shift_changes_hands_with_a_reason() -> None:
    day = staffed_day()
    rota = rota_for(day)
    refused(day, planned.change_rota((Duty(shift="w1-1/2", person=""),), "ill"), "rota.none")
    day.ask(DIRECTOR, planned.publish_rota(rota, RULES))
    holder = rota.holder_of("w1-1/2")
    refused(
        day,
        planned.change_rota((Duty(shift="w1-1/2", person=holder or ""),), "ill"),
        "rota.nothing_changed",
    )
    refused(day, planned.change_rota((Duty(shift="x", person=""),), "ill"), "rota.shift_unknown")
    stranger = planned.change_rota((Duty(shift="w1-1/2", person="nobody"),), "ill")
    refused(day, stranger, "person.unknown")
    ill = next(member for member in CREW if member.person == holder)
    gone = replace(ill, free_until_s=0)
    with pytest.raises(BadInput):
        # Whoever is gone cannot keep the rest of the day.
        day.ask(DIRECTOR, planned.change_rota((Duty(shift="w1-1/2", person=""),), "ill", (gone,)))
    free = tuple(Duty(shift=shift.id, person="") for shift in rota.shifts_of(ill.person))
    day.ask(DIRECTOR, planned.change_rota(free, "ill", (gone,)))
    assert day.state.rota is not None
    assert day.state.rota.shifts_of(ill.person) == ()
    assert day.state.crew[ill.person].free_until_s == 0


def test_requests_without_a_plan_are_refused() -> None:
    day = Day()
    day.tell(DIRECTOR, bodies.EventSet(event=EVENT))
    refused(day, planned.freeze_plan(1), "plan.none")
    refused(day, propose(bodies.RotaPublished(rota=Rota(plan_revision=1, shifts=(), duties=()))),
            "plan.none")  # fmt: skip


def test_a_plan_published_on_the_day_leaves_what_was_run_as_it_was() -> None:
    day = loaded_day()
    day.ask(DIRECTOR, ask.call_heat("w1-1"))
    day.ask(DIRECTOR, ask.start_heat("w1-1", day.at_ms + 70_000))
    second = plan(2, inputs_digest(day.state))
    moved = replace(second.heats[0], start_s=60, end_s=850)
    refused(
        day,
        ask.publish_plan(replace(second, heats=(moved, *second.heats[1:]))),
        "plan.heat_has_run",
    )
    day.ask(DIRECTOR, ask.publish_plan(second))
    assert plan_of(day).revision == 2
