"""The safety plan: from the event's own content, open where the director has not said."""

import pytest
from msgspec.structs import replace

from callroom.bootstrap.language import language_of
from callroom.model.safety import Area, Exit, SafetyFacts, Weather
from callroom.standards import library_with
from callroom.views.safety_plan import POSTS, SafetyPlan, for_post, persons_expected, safety_plan
from callroom.views.safety_wording import point_text
from callroom.views.weather_watch import weather_now, weather_told
from tests.views.building import example_event, example_state

SAID = SafetyFacts(
    areas=(Area(name="Hall", use="chairs", area_m2=200),),
    exits=(Exit(name="Front", width_mm=1800), Exit(name="Yard", width_mm=1800)),
    spectators=80,
    first_aiders=3,
    first_aid_place="by the door",
    aed_place="at the desk",
    aed_walk_s=45,
    emergency_number="112",
    ambulance_entry="gate B",
    assembly_point="the car park",
    shelter="the school",
    lost_children_place="the desk",
    wet_ground="the head judge moves it to the hall, by 9:00",
    alarm="three blasts of the horn",
)


def planned(facts: SafetyFacts, **changes: object) -> SafetyPlan:
    state = replace(example_state(), safety=facts, **changes)
    event = example_event()
    return safety_plan(state, event, library_with(event.movements).movements)


def open_rules(plan: SafetyPlan) -> set[str]:
    return {point.rule for point in plan.open_points}


def test_whatever_is_not_said_is_open() -> None:
    assert open_rules(planned(SafetyFacts())) == {
        "safety.first_aiders_few",
        "safety.first_aid_place_open",
        "safety.aed_open",
        "safety.aed_walk_open",
        "safety.call_open",
        "safety.ambulance_open",
        "safety.clear_open",
        "safety.crowd_open",
        "safety.areas_open",
        "safety.exits_open",
        "safety.thunder_open",
        "safety.wet_open",
        "safety.lost_child_open",
    }
    assert open_rules(planned(SAID)) == set()


def test_a_limit_that_is_passed_is_open_again() -> None:
    full = planned(replace(SAID, spectators=2_000))
    assert {"safety.crowd_full", "safety.exits_few", "safety.first_aiders_few"} <= open_rules(full)
    assert "safety.aed_far" in open_rules(planned(replace(SAID, aed_walk_s=61)))
    assert "safety.provider" in open_rules(planned(replace(SAID, spectators=4_000)))


def test_everybody_who_is_there_is_counted() -> None:
    state = example_state()
    athletes = sum(len(team.athletes) for team in state.teams.values())
    assert persons_expected(state) == athletes + len(state.crew)
    assert persons_expected(replace(state, safety=SAID)) == athletes + len(state.crew) + 80


def test_minors_and_alcohol_are_there_only_where_they_are() -> None:
    without = {point.rule for part in planned(SAID).sections for point in part.points}
    both = planned(replace(SAID, minors=True, alcohol=True))
    with_both = {point.rule for part in both.sections for point in part.points}
    assert with_both - without == {"safety.minors", "safety.alcohol"}


def test_every_point_is_on_some_page_and_every_page_says_how_to_call_and_to_stop() -> None:
    plan = planned(replace(SAID, minors=True, alcohol=True))
    everything = {point.rule for part in plan.sections for point in part.points}
    on_pages: set[str] = set()
    for post in POSTS:
        own = {point.rule for part in for_post(plan, post).sections for point in part.points}
        on_pages |= own if post != "lead" else set()
        assert {"safety.call", "safety.stop"} <= own
    # Where doors open is for whoever plans, before the day.
    assert everything - on_pages == {"safety.doors"}


def test_every_point_has_a_sentence_without_a_hole() -> None:
    words = language_of("en").words
    for facts in (SAID, SafetyFacts(), replace(SAID, spectators=9_000, minors=True)):
        for part in planned(facts).sections:
            for point in part.points:
                text = point_text(point, words)
                assert not text.startswith("safety.")
                assert "{" not in text


def test_cautions_of_the_movements_used_are_named_with_their_workouts() -> None:
    (kit,) = (part for part in planned(SAID).sections if part.id == "kit")
    cautions = [point for point in kit.points if point.rule == "safety.caution"]
    names = {str(point.facts["workout"]) for point in cautions}
    assert any("Long haul" in name for name in names)
    assert len({(point.facts["movement"], point.facts["caution"]) for point in cautions}) == len(
        cautions
    )


def reading(**given: int | bool) -> Weather:
    return Weather(floor="yard", at_ms=1_000, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("weather", "rules"),
    [
        (reading(air_c10=180, humidity_percent=50), set()),
        (reading(air_c10=340, humidity_percent=60), {"safety.index", "safety.no_globe"}),
        (
            reading(air_c10=300, wet_bulb_c10=260, globe_c10=380),
            {"safety.heat_limit", "safety.work_rest"},
        ),
        (reading(air_c10=380, wet_bulb_c10=320, globe_c10=480), {"safety.heat_cancel"}),
        (reading(gust_m_s10=95), {"safety.wind_structures"}),
        (reading(air_c10=-50, gust_m_s10=160), {"safety.wind_stop", "safety.chill"}),
        (reading(air_c10=-220, gust_m_s10=80), {"safety.frostbite"}),
        (reading(thunder=True), {"safety.thunder_now"}),
    ],
)
def test_what_a_reading_means(weather: Weather, rules: set[str]) -> None:
    told = weather_told(weather, "Yard", SafetyFacts(), outdoor=True)
    assert {point.rule for point in told.points} == rules
    words = language_of("en").words
    assert all("{" not in point_text(point, words) for point in told.points)


def test_the_last_reading_of_each_floor_and_the_next_forecast_are_told() -> None:
    readings = {
        "1": Weather(floor="yard", at_ms=100, air_c10=200),
        "2": Weather(floor="yard", at_ms=300, air_c10=210),
        "3": Weather(floor="yard", at_ms=900, air_c10=300, forecast=True),
        "4": Weather(floor="yard", at_ms=800, air_c10=290, forecast=True),
        "5": Weather(floor="hall", at_ms=200, air_c10=220),
    }
    state = replace(example_state(), weather=readings)
    told = weather_now(state, example_event(), 500)
    assert [(one.weather.floor, one.weather.at_ms) for one in told] == [
        ("hall", 200),
        ("yard", 300),
        ("yard", 800),
    ]
