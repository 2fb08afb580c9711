"""How long paper takes: judges' cards with their QR codes, and a whole print pack.

The event is the demonstration's; teams are added until there are as many cards as asked for.
``cards_400_vs_html_to_pdf``: a pile of judges' cards with their QR codes, in pages of the same
texts made by a general-purpose HTML-to-PDF library (WeasyPrint), on 80 cards of 16 teams; both
take as long for the next card as for the last, so 400 give the same ratio.

Seconds are limits with room in hand, not scores: they are measured once, from cold, which is
how a director prints.
"""

from __future__ import annotations

import tempfile
import time
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path

from weasyprint import HTML  # type: ignore[import-untyped]

from callroom.exchange import read_event
from callroom.model import Athlete, Event, Heat, LaneTeam, Plan, State, Team
from callroom.paper import cards_pdf, print_pack
from callroom.paper.qr import qr_svg
from callroom.views.cards import Cards, cards
from callroom.views.sheets import sheets
from callroom.views.work_wording import Speech, speech_of
from cards_html import cards_html

AT = datetime(2026, 1, 1, tzinfo=UTC)


def day_of(team_count: int) -> State:
    """A book with the demo's event, `team_count` teams, and heats one after the other."""
    event = read_event(files("callroom.exchange").joinpath("demo/event.toml").read_bytes())
    teams = {team.id: team for team in (_team(event, number) for number in range(team_count))}
    heats: list[Heat] = []
    for workout in event.workouts:
        lanes = event.floor(workout.floor).open_lanes
        listed = list(teams)
        groups = [listed[at : at + len(lanes)] for at in range(0, len(listed), len(lanes))]
        for number, group in enumerate(groups, start=1):
            start_s = len(heats) * 120
            heats.append(
                Heat(
                    id=f"{workout.id}-{number}",
                    workout=workout.id,
                    floor=workout.floor,
                    number=number,
                    start_s=start_s,
                    end_s=start_s + workout.floor_s,
                    lanes=tuple(
                        LaneTeam(lane=lane, team=team)
                        for lane, team in zip(lanes, group, strict=False)
                    ),
                )
            )
    plan = Plan(revision=1, inputs_digest="bench", heats=tuple(heats))
    return State(event=event, teams=teams, plan=plan)


def _team(event: Event, number: int) -> Team:
    division = event.divisions[number % len(event.divisions)]
    line_up = [part.category for part in division.make_up for _ in range(part.count)]
    team_id = f"T{number + 1:03}"
    athletes = tuple(
        Athlete(place=place, category=category, person=f"{team_id}{place}")
        for place, category in zip("ABCD", line_up, strict=False)
    )
    name = f"Team number {number + 1}"
    return Team(id=team_id, name=name, division=division.id, athletes=athletes)


def figures(*, quick: bool) -> dict[str, float]:
    """Measure 400 cards, a sheet each and two to a sheet, and the pack of 42 teams [s]."""
    state = day_of(16 if quick else 80)
    assert state.event is not None
    speech = speech_of(state.event, {})
    view = cards(state)
    scale = 400 / len(view.cards)

    qr_svg.cache_clear()
    started = time.perf_counter()
    for card in view.cards:
        qr_svg(card.address)
    qr_s = time.perf_counter() - started

    started = time.perf_counter()
    whole = cards_pdf(view, size="a4", at=AT, speech=speech)
    whole_s = time.perf_counter() - started
    started = time.perf_counter()
    cards_pdf(view, size="a4", at=AT, speech=speech, to_a_sheet=2)
    halves_s = time.perf_counter() - started

    qr_svg.cache_clear()
    pack = sheets(day_of(42))
    with tempfile.TemporaryDirectory() as folder:
        started = time.perf_counter()
        print_pack(pack, Path(folder), size="us-letter", speech=speech)
        pack_s = time.perf_counter() - started

    return {
        "cards_400_vs_html_to_pdf": _against_html(cards(day_of(16)), speech),
        "cards_400_s": (qr_s + whole_s) * scale,
        "cards_400_qr_s": qr_s * scale,
        "cards_400_two_to_a_sheet_s": (qr_s + halves_s) * scale,
        "card_kb": len(whole) / len(view.cards) / 1000,
        "pack_42_teams_s": pack_s,
    }


def _against_html(view: Cards, speech: Speech) -> float:
    """Return our time for a pile of cards over that of the library, both with their QR codes."""
    qr_svg.cache_clear()
    started = time.perf_counter()
    cards_pdf(view, size="a4", at=AT, speech=speech)
    ours_s = time.perf_counter() - started
    qr_svg.cache_clear()
    started = time.perf_counter()
    HTML(string=cards_html(view, speech)).write_pdf()
    return ours_s / (time.perf_counter() - started)
