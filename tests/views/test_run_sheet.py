"""The run sheet: the whole day in order, whose each line is, what is on and late."""

from itertools import pairwise

from msgspec.structs import replace

from callroom.model import CrewMember, Duty, Event, KitItem, Plan, Rota, Shift, State
from callroom.model.side_programme import SideItem, Span
from callroom.views.day_times import DayTimes, HeatTime
from callroom.views.run_line import InCharge
from callroom.views.run_sheet import RunSheet, for_person, for_post, run_sheet
from callroom.views.run_wording import line_text, people_text
from callroom.views.sentences import SENTENCES
from callroom.views.wording import ENGLISH
from tests.views.building import example_state

HOUR = 3600


def a_day(**changes: object) -> tuple[State, Event, Plan]:
    state = replace(example_state(), **changes)
    assert state.event is not None
    assert state.plan is not None
    return state, state.event, state.plan


def crewed() -> tuple[State, Event, Plan]:
    """A day with a desk that changes hands at ten, and a judge in the first heat's first lane."""
    _, _, plan = a_day()
    heat = min(plan.heats, key=lambda one: (one.start_s, one.id))
    shifts = (
        Shift(id="d1", post="desk", start_s=0, end_s=HOUR),
        Shift(id="d2", post="desk", start_s=HOUR, end_s=2 * HOUR),
        Shift(id="d3", post="desk", start_s=2 * HOUR, end_s=3 * HOUR),
        Shift(id="k", post="kit", start_s=0, end_s=HOUR),
        Shift(
            id="j",
            post="judge",
            start_s=heat.start_s,
            end_s=heat.end_s,
            floor=heat.floor,
            heat=heat.id,
            lane=heat.lanes[0].lane,
        ),
    )
    duties = tuple(
        Duty(shift=shift, person=person)
        for shift, person in (("d1", "ana"), ("d2", "ana"), ("d3", "bo"), ("j", "cy"))
    )
    rota = Rota(plan_revision=1, shifts=shifts, duties=duties)
    crew = {one: CrewMember(person=one, posts=("desk",)) for one in ("ana", "bo", "cy")}
    return a_day(rota=rota, crew=crew)


def kinds(sheet: RunSheet) -> list[str]:
    return [line.kind for line in sheet.lines]


def test_the_day_goes_from_set_up_to_what_is_brought_back() -> None:
    kit = (KitItem(id="b", name="Bar", kind="bar", count=4, lender="Barn gym"),)
    state, event, plan = a_day(kit=kit)
    sheet = run_sheet(state, event)
    found = kinds(sheet)
    assert found[0] == "set_up"
    assert found[-1] == "kit_back"
    assert found.count("heat") == len(plan.heats)
    assert [line.start_s for line in sheet.lines] == sorted(line.start_s for line in sheet.lines)
    assert found.count("posting") == len({heat.workout for heat in plan.heats})
    assert sheet.now_s is None
    assert all(line.standing == "ahead" for line in sheet.lines)
    for line in sheet.lines:
        assert line.says.rule in SENTENCES
        assert "{" not in line_text(line, event, ENGLISH)


def test_without_a_plan_the_side_programme_is_what_there_is() -> None:
    talk = SideItem(
        id="t", kind="speech", name="A word", spans=(Span(start_s=0, length_s=600),), public=False
    )
    state, event, _ = a_day(side={"t": talk})
    bare = replace(state, plan=None)
    assert kinds(run_sheet(bare, event)) == ["side"]


def test_a_floor_changes_over_only_between_unlike_workouts() -> None:
    state, event, plan = a_day()
    expected = 0
    for floor in event.floors:
        here = sorted(
            (heat for heat in plan.heats if heat.floor == floor.id), key=lambda one: one.start_s
        )
        expected += sum(one.workout != other.workout for one, other in pairwise(here))
    assert kinds(run_sheet(state, event)).count("changeover") == expected


def test_shifts_in_a_row_are_one_line_and_an_open_one_says_so() -> None:
    state, event, _ = crewed()
    shifts = [line for line in run_sheet(state, event).lines if line.kind == "shift"]
    assert [(line.start_s, line.end_s, line.says.rule) for line in shifts if line.people] == [
        (0, 2 * HOUR, "run.shift"),
        (2 * HOUR, 3 * HOUR, "run.shift"),
    ]
    assert [line.says.rule for line in shifts if not line.people] == ["run.shift_open"]


def test_each_line_names_who_holds_its_posts_then() -> None:
    state, event, plan = crewed()
    sheet = run_sheet(state, event)
    postings = [line for line in sheet.lines if line.kind == "posting"]
    assert InCharge(person="ana", post="desk") in postings[0].people
    # Outside all shifts of a post whoever holds the nearest one has it.
    assert postings[-1].start_s > 3 * HOUR
    assert InCharge(person="bo", post="desk") in postings[-1].people
    first = next(line for line in sheet.lines if line.kind == "heat")
    (judge,) = (who for who in first.people if who.post == "judge")
    assert (judge.person, judge.lane) == ("cy", plan.heats[0].lanes[0].lane)
    doors = next(line for line in sheet.lines if line.kind == "doors")
    assert people_text(doors, {}, ENGLISH) == "welcome: nobody yet"


def test_a_persons_sheet_has_their_lines_and_nobody_elses_name() -> None:
    state, event, _ = crewed()
    mine = for_person(run_sheet(state, event), "cy")
    assert kinds(mine) == ["heat"]
    assert {who.person for line in mine.lines for who in line.people} == {"cy"}
    assert people_text(mine.lines[0], {}, ENGLISH, alone=True).startswith("judge: lane ")
    desk = for_post(run_sheet(state, event), "desk")
    assert desk.lines
    assert all("desk" in line.posts for line in desk.lines)


def test_now_is_marked_and_a_late_heat_comes_on_when_it_is_expected() -> None:
    state, event, plan = crewed()
    heat = min(plan.heats, key=lambda one: (one.start_s, one.id))
    now_s = heat.start_s + 60
    on_time = run_sheet(state, event, now_s)
    assert on_time.now_s == now_s
    (line,) = (one for one in on_time.lines if one.kind == "heat" and one.standing == "now")
    assert line.start_s == heat.start_s
    times = DayTimes(
        heats={heat.id: HeatTime(start_s=heat.start_s + 600, may_s=heat.start_s + 600, late_s=600)}
    )
    late = run_sheet(state, event, now_s, times)
    first = next(one for one in late.lines if one.kind == "heat")
    assert (first.standing, first.expected_s) == ("ahead", heat.start_s + 600)
    assert run_sheet(state, event, now_s + 30 * 24 * HOUR).now_s is None
