"""What a day tests together, and what it should make a director think about."""

from collections.abc import Mapping
from datetime import date

import msgspec
import numpy as np
import pytest

from callroom.forecast import RULES, check_programme, forecast_event
from callroom.model import Category, Event, Floor, Part, Who, Workout
from callroom.model.forecast import Programme
from callroom.views.sentences import SENTENCES, sentence
from tests.forecast.building import FOURS, MOVEMENTS, block, loads, part_of, task


def day(**parts: Part | tuple[Part, ...]) -> Event:
    return Event(
        id="e",
        name="E",
        day=date(2027, 5, 15),
        zone="Europe/London",
        start_s=32400,
        venue="V",
        cause="C",
        currency="GBP",
        categories=(Category(id="women", name="Women"), Category(id="men", name="Men")),
        divisions=(FOURS,),
        floors=(
            Floor(id="f", name="Hall", lanes=6),
            Floor(id="yard", name="Yard", lanes=6, outdoor=True),
        ),
        workouts=tuple(
            Workout(
                id=name,
                name=name.upper(),
                floor="yard" if name.startswith("out") else "f",
                parts=part if isinstance(part, tuple) else (part,),
            )
            for name, part in parts.items()
        ),
    )


def checked(event: Event) -> Programme:
    forecast = forecast_event(event, MOVEMENTS, generator=np.random.default_rng(1), teams=300)
    return check_programme(event, FOURS, MOVEMENTS, forecast)


def rules(programme: Programme) -> Mapping[str, dict[str, object]]:
    return {finding.rule: dict(finding.facts) for finding in programme.findings}


def test_two_workouts_of_the_same_kind_are_found_and_other_ones_are_not() -> None:
    run = part_of(block(task("run", 800)))
    alike = checked(day(a=run, b=part_of(block(task("run", 400), rounds=3))))
    found = rules(alike)["forecast.workouts_alike"]
    assert (found["workout"], found["other"], found["percent"]) == ("a", "b", 100)
    other = part_of(block(task("power_clean", 30, loads=loads("40", "60"))))
    assert "forecast.workouts_alike" not in rules(checked(day(a=run, b=other)))


def test_capacities_are_weighed_by_time_and_gaps_named() -> None:
    programme = checked(day(a=part_of(block(task("run", 800), task("pull_up", 20)))))
    used = {use.capacity: use for use in programme.capacities}
    # 800 m take 800 / 3.5 s at the intermediate pace, 20 pull-ups 36 s, half of it for each of
    # their two capacities.
    share = 800 / 3.5 / (800 / 3.5 + 36)
    assert used["engine"].percent == round(100 * share)
    assert used["pull"].percent == used["grip"].percent == round(50 * (1 - share))
    assert used["engine"].workouts == ("a",)
    assert "squat" in programme.gaps
    assert "engine" not in programme.gaps
    assert {"load", "squat"} <= {
        str(finding.facts["capacity"])
        for finding in programme.findings
        if finding.rule == "forecast.capacity_missing"
    }


def test_lengths_of_the_same_kind_are_found() -> None:
    short = part_of(block(task("burpee", 10)), cap_s=120)
    long = part_of(block(task("run", 3000)), cap_s=1500)
    assert "forecast.same_length" in rules(checked(day(a=short, b=short)))
    programme = checked(day(a=short, b=long))
    assert "forecast.same_length" not in rules(programme)
    assert programme.length_s["a"] < 120 < programme.length_s["b"]


def test_the_work_of_one_athlete() -> None:
    men = Who(kind="category", category="men")
    programme = checked(
        day(
            a=part_of(block(task("pull_up", 21, 15, 9, who=men), rounds=3)),
            b=part_of(block(task("pull_up", 10, sharing="each"))),
            c=part_of(block(task("burpee", 12, sharing="together", working=4))),
        )
    )
    each = {volume.movement: volume.each for volume in programme.volumes}
    assert each == {"pull_up": 33, "burpee": 12}  # (21 + 15 + 9) / 2 + 10, rounded up
    assert len(programme.worked_s) == 4
    assert min(programme.worked_s) > 0


def test_much_of_one_movement_is_a_caution() -> None:
    many = checked(day(a=part_of(block(task("pull_up", 80, sharing="each")))))
    facts = rules(many)["forecast.movement_volume"]
    assert (facts["each"], facts["most"]) == (80, 60)
    few = checked(day(a=part_of(block(task("pull_up", 80)))))
    assert "forecast.movement_volume" not in rules(few)


def test_loads_between_categories() -> None:
    programme = checked(day(a=part_of(block(task("thruster", 20, loads=loads("30", "40"))))))
    assert [(one.category, one.percent) for one in programme.load_shares] == [
        ("women", 75),
        ("men", 100),
    ]


def test_skill_after_hard_work_is_a_caution_and_before_it_is_not() -> None:
    lift, row = task("power_clean", 10, loads=loads("40", "60")), task("row", 2000)
    assert rules(checked(day(a=part_of(block(row, lift)))))["forecast.skill_when_tired"] == {
        "workout": "a",
        "division": "fours",
        "movement": "power_clean",
        "after_s": pytest.approx(460, abs=120),
    }
    assert "forecast.skill_when_tired" not in rules(checked(day(a=part_of(block(lift, row)))))


def test_caps_that_stop_most_and_caps_that_stop_none() -> None:
    work = block(task("burpee", 60))
    tight = rules(checked(day(a=part_of(work, cap_s=90))))
    assert tight["forecast.few_finish"]["percent"] == 0
    wide = rules(checked(day(a=part_of(work, cap_s=900))))
    assert wide["forecast.cap_generous"]["cap_s"] == 900
    assert "forecast.few_finish" not in wide


def test_long_work_outdoors_unable_teams_and_unknown_movements() -> None:
    programme = checked(
        day(
            out=part_of(block(task("run", 2400)), cap_s=1200),
            heavy=part_of(block(task("power_clean", 9, loads=loads("140", "200")))),
            new=part_of(block(task("hoop_dance", 9))),
        )
    )
    found = rules(programme)
    assert found["forecast.work_outdoors"]["floor"] == "Yard"
    assert found["forecast.unable"]["percent"] == 100
    assert found["forecast.movement_unknown"]["movement"] == "hoop_dance"


def test_a_day_may_have_lifts_and_open_rounds() -> None:
    lift = part_of(
        block(msgspec.structs.replace(task("power_clean", tries=3), unit="lift")), kind="load"
    )
    rounds = part_of(block(task("push_up", 10), task("run", 100), open_ended=True), kind="work")
    programme = checked(day(a=lift, b=(rounds,)))
    assert {use.capacity for use in programme.capacities} >= {"hinge", "press", "engine"}
    assert programme.length_s["a"] == 900


def test_every_rule_has_a_sentence_that_its_facts_fill() -> None:
    for rule in RULES:
        text = sentence(RULES.found(rule.rule, "x", **dict.fromkeys(rule.facts, 7)))
        assert rule.rule in SENTENCES
        assert "{" not in text
        assert text[-1] == "."
