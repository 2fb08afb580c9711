"""Before its release a workout is not named in standings, not even as a reason for a place."""

from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.journal.entries import bodies
from callroom.model import Rules
from callroom.views.standings import standings
from callroom.views.timetable import Audience
from tests.actions.day_building import DIRECTOR, EVENT, JUDGE, loaded_day, report

NAME = "Nobody knows this yet"
PUBLIC = Audience(public=True, now_s=0)


def test_a_reason_names_a_hidden_workout_by_its_number() -> None:
    day = loaded_day()
    first = replace(EVENT.workouts[0], name=NAME, release_s=10**6)
    chain = Rules(tie_chain=("best_in:w1", "shared"))
    event = replace(EVENT, workouts=(first, EVENT.workouts[1]), rules=chain)
    day.tell(DIRECTOR, bodies.EventSet(event=event))
    # Level on points over w1 and the two parts of w2; the chain looks into w1.
    times = {"T1": (1, 2, 1), "T2": (2, 1, 1), "T3": (3, 3, 3), "T4": (4, 4, 4)}
    for team, (one, two, three) in times.items():
        pair = "1" if team in {"T1", "T2"} else "2"
        day.ask(JUDGE, ask.report_score(report(f"w1-{pair}", team, one * 100_000)))
        for part, place in (("a", two), ("b", three)):
            told = report(f"w2-{pair}", team, place * 100_000, part=part)
            day.ask(JUDGE, ask.report_score(told))
    crew, public = standings(day.state, "pairs"), standings(day.state, "pairs", PUBLIC)
    assert NAME in str([row.reasons for row in crew.rows])
    assert NAME not in str([row.reasons for row in public.rows])
    assert NAME not in str([column.workout for column in public.columns])
