"""A team's form, read: whatever is typed, there is a team that fits its division, or faults."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Athlete, State, Team, errors_among
from callroom.model.checking import check_teams
from callroom.model.entering import Entering, Terms
from callroom.model.person import Agreed, Person
from callroom.views.entry_form import form_places, make_up_text
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_team import Filled, Hand, TeamReader
from callroom.web.forms.team_form import TEAM_FIELDS, form_of, posted_team, seated
from tests.views.building import example_event, example_state

OPEN = example_event().divisions[0]
EVENT = replace(
    example_event(), divisions=(replace(OPEN, reserves=2), example_event().divisions[1])
)
STATE: State = replace(
    example_state(EVENT),
    entering=Entering(opens_ms=0, ages_in=("open",), shirt_sizes=("S", "M"), consent="Yes?"),
    terms=(Terms(number=1, seq=1, at_ms=0, consent="Yes?", waiver=""),),
)
PER_PLACE = (
    "name",
    "category",
    "born",
    "minor",
    "guardian",
    "emergency",
    "shirt",
    "agree",
    "paper",
)
FIELDS = (*TEAM_FIELDS, "website", *(f"{name}-{at}" for name in PER_PLACE for at in "ABCDEF"))
BEFORE = Team(id="T21", name="Old", division="open")


def read(
    texts: dict[str, str], hand: Hand = "form", before: Team = BEFORE, **known: Person
) -> Filled:
    form = posted_team(EVENT, before.division, Posted(texts))
    return TeamReader(STATE, EVENT, form, key="k" * 24, hand=hand, now_ms=5).read(before, known)


@given(
    texts=st.dictionaries(
        st.sampled_from(FIELDS),
        st.one_of(st.sampled_from(["", "on", "A", "women", "2001-02-30", "M"]), st.text()),
    ),
    hand=st.sampled_from(["form", "team", "director"]),
)
def test_whatever_is_typed_gives_a_sound_team_or_faults(texts: dict[str, str], hand: Any) -> None:
    filled = read(texts, hand)
    assert set(filled.people) == {one.person for one in filled.team.athletes}
    if not filled.faults:
        assert errors_among(check_teams(EVENT, (filled.team,), ())) == ()
        for person in filled.people.values():
            assert person.name == " ".join(person.name.split()) != ""
    assert all(name in {*FIELDS} for name in filled.faults)


WHOLE = {"team": "Late", "captain": "B", "email": "b@example.org", "name-B": "Bo", "agree-B": "on"}


def test_unseen_and_turning_signs_are_taken_out_and_joined_pictures_stay() -> None:
    filled = read({**WHOLE, "team": "Late\u202e\n Risers 👩\u200d👩\u200d👧"})
    assert filled.team.name == "Late Risers 👩\u200d👩\u200d👧"


def test_a_reserve_says_whom_they_stand_in_for() -> None:
    faults = read({**WHOLE, "name-E": "Eve"}).faults
    assert list(faults) == ["category-E"]
    team = read({**WHOLE, "name-E": "Eve", "category-E": "men"}).team
    assert [(one.place, one.category, one.reserve) for one in team.athletes] == [
        ("B", "women", False),
        ("E", "men", True),
    ]


def test_details_without_a_name_ask_for_it() -> None:
    assert list(read({**WHOLE, "emergency-C": "Lou"}).faults) == ["name-C"]


@pytest.mark.parametrize(
    ("before", "now", "same"),
    [
        ("Zoë Quinn", "zoe  quinn", True),
        ("Kim Smaple", "Kim Sample", True),
        ("Kim Sample", "Ada Young", False),
        ("Ann", "Ben", False),
    ],
)
def test_a_slip_is_mended_and_another_person_begins_anew(before: str, now: str, same: bool) -> None:
    held = Athlete(place="B", category="women", person="p1")
    known = Person(name=before, agreed=Agreed(terms=1, at_ms=1, by="self"), medical_note="asthma")
    team = replace(BEFORE, athletes=(held,))
    filled = read({**WHOLE, "name-B": now, "agree-B": ""}, "team", team, p1=known)
    (athlete,) = filled.team.athletes
    assert (athlete.person == "p1") is same
    assert filled.gone == (() if same else ("p1",))
    assert (filled.people[athlete.person].medical_note == "asthma") is same


def test_nobody_is_lost_without_a_word_where_the_division_has_become_smaller() -> None:
    many = tuple(Athlete(place=at, category="women", person=f"p{at}") for at in "ABCDEFGH")
    team = replace(BEFORE, athletes=many)
    assert list(read(WHOLE, "team", team).faults) == ["team"]
    form = form_of(STATE, EVENT, team, {"pG": Person(name="Gil")})
    assert len(form.without) == 4
    assert "Gil" in form.without


def test_the_form_of_a_team_reads_back_as_the_team() -> None:
    people = {
        one.person: Person(name=f"Name of {one.person}", emergency_contact="Lou", shirt="S")
        for one in STATE.teams["T01"].athletes
    }
    team = replace(STATE.teams["T01"], captain="p0C", entry_rank=4, say_it="one")
    form = form_of(STATE, EVENT, team, people)
    filled = TeamReader(STATE, EVENT, form, key="k", hand="director", now_ms=5).read(team, people)
    assert filled.faults == {}
    assert filled.team == team
    assert dict(filled.people) == people


def test_who_moves_stands_at_the_next_place_of_their_category_else_as_a_reserve() -> None:
    athletes = tuple(
        Athlete(place=at, category=category, person=f"p{at}")
        for at, category in (("A", "men"), ("B", "women"), ("C", "women"), ("D", "women"))
    )
    held = seated(form_places(EVENT, EVENT.divisions[0]), athletes)
    assert {at: one.person for at, one in held.items()} == {
        "A": "pC",
        "B": "pB",
        "C": "pA",
        "E": "pD",
    }
    assert make_up_text(EVENT, EVENT.divisions[0]) == "2 women, 2 men, up to 2 reserves"
