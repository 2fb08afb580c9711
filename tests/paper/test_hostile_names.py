"""Names that could break a sheet, act on its reader, or have no glyph."""

from decimal import Decimal
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.model import (
    Block,
    Category,
    Division,
    Floor,
    Pause,
    PublishedLoad,
    State,
    Task,
)
from callroom.paper import print_pack
from callroom.paper.cards import cards_pdf
from callroom.paper.typesetting import name_text
from callroom.views.cards import cards
from callroom.views.sheets import sheets
from callroom.views.work_wording import speech_of
from tests.paper.reading import count_pages, pages_of
from tests.views.building import example_event, example_state, example_teams

HOSTILE = (
    '#panic("boom")',
    "*bold* _it_ $x^2$ `code` <label> @ref // gone",
    "= Heading\n- list\n/ term: x",
    "\u202egnp.exe\u202c \u2067\u05d1\u05d9\u05ea\u2069",
    "👩‍🚒🔥💪",
    "🔥 Fire & Fury 🔥",
    "x" * 10_000,
    "many words " * 900,
    "Z̸̢̛͚̳̦̈́͗̊a̷̛̤̲͋͑̎l̴͎̿̀g̶̙̈́o̵̤͝",
    "漢字チーム",
    "\x00\x07\x1b[31mred",
    '"quotes" \\backslash\\ {braces} [brackets]',
    "</text><script>alert(1)</script>",
    "\ufeff\u200b",
    "\U000e0041tag",
    "W" * 60,
)


def hostile_state() -> State:
    """The example with hostile names for everything that has a name."""
    plain = example_teams()
    renamed = {
        team.id: msgspec.structs.replace(team, name=name)
        for team, name in zip(plain.values(), HOSTILE, strict=True)
    }
    event = example_event()
    loads = (PublishedLoad(category="women", kg=Decimal("1E+3"), lb=Decimal("0.001")),)
    task = Task(
        id="t",
        movement="#panic()_with-markup" * 20,
        amounts=(10**9,),
        loads=loads,
        tighten="*tight* " * 200,
        variation="<x>" * 50,
    )
    long_haul = event.workouts[0]
    part = msgspec.structs.replace(
        long_haul.parts[0], blocks=(Block(id="b", name="$" * 300, tasks=(task,)),), tiebreak=None
    )
    workouts = (
        msgspec.structs.replace(long_haul, name="#" * 500, text="*" * 20_000, parts=(part,)),
        *event.workouts[1:],
    )
    event = msgspec.structs.replace(
        event,
        name="_Event_ 🔥" * 100,
        venue="#include" * 100,
        categories=(
            Category(id="women", name="*w*" * 100),
            Category(id="men", name="\u202emen"),
        ),
        divisions=tuple(
            msgspec.structs.replace(division, name=f"{division.id} $$ " * 50)
            for division in event.divisions
        ),
        floors=tuple(
            msgspec.structs.replace(floor, name="= floor " * 50) for floor in event.floors
        ),
        workouts=workouts,
    )
    state = example_state(event, teams=renamed)
    assert state.plan is not None
    pauses = (Pause(id="p1", name="#pause " * 200, start_s=3600, length_s=600),)
    heats = tuple(heat for heat in state.plan.heats if heat.workout in {"w1", "w4"})
    plan = msgspec.structs.replace(state.plan, heats=heats, pauses=pauses)
    return msgspec.structs.replace(state, plan=plan)


def test_no_name_breaks_a_sheet_or_runs(tmp_path: Path) -> None:
    state = hostile_state()
    assert state.event is not None
    files = print_pack(sheets(state), tmp_path, size="a4", speech=speech_of(state.event, {}))
    pages = {file.stem: count_pages(file.read_bytes()) for file in files}
    assert pages["cards"] == 2 * 16
    assert pages["heat-sheets"] == 6
    assert pages["teams"] == 16
    whole = " ".join(pages_of((tmp_path / "teams.pdf").read_bytes()))
    assert '#panic("boom")' in whole
    assert "*bold* _it_ $x^2$ `code` <label> @ref // gone" in " ".join(whole.split())
    assert "Fire & Fury" in whole


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("👩‍🚒🔥💪", "T05"),
        ("漢字チーム", "T05"),
        ("漢字 Two", "Two (T05)"),
        ("", "T05"),
        ("🔥 Fire 🔥", "Fire"),
        ("Grüße Ωμέγα Жизнь", "Grüße Ωμέγα Жизнь"),
        ("!!!", "T05"),
    ],
)
def test_a_name_that_cannot_be_drawn_gives_way_to_the_id(name: str, shown: str) -> None:
    assert name_text(name, "T05") == shown


@settings(max_examples=8)
@given(st.lists(st.text(max_size=80), min_size=4, max_size=4))
def test_any_text_at_all_can_be_a_name(names: list[str]) -> None:
    teams = {
        team.id: msgspec.structs.replace(team, name=name)
        for team, name in zip(list(example_teams().values())[12:], names, strict=True)
    }
    event = example_event(
        divisions=(
            example_event().divisions[0],
            Division(id="pairs", name=names[0], make_up=example_event().divisions[1].make_up),
        ),
        floors=(Floor(id="hall", name=names[1], lanes=7), example_event().floors[1]),
    )
    state = example_state(event, teams=teams)
    view = cards(state, heats={"w1-1"})
    pdf = cards_pdf(view, size="a4", at=sheets(state).as_of, speech=speech_of(event, {}))
    assert count_pages(pdf) == 4
