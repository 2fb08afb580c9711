"""Standings for the wall as PDF: large enough to be read over somebody's shoulder."""

from datetime import datetime
from typing import Literal

from callroom.model import from_milliseconds
from callroom.paper.phrases import LONGEST_NAME, frame, team_name, workout_name
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording
from callroom.views.result_wording import score_text
from callroom.views.standings import Standings, StandingsCell, StandingsColumn, StandingsRow
from callroom.views.wall import WallStandings
from callroom.views.work_wording import Speech

WallSize = Literal[PaperSize, "a3", "us-tabloid"]


def wall_standings_pdf(
    view: WallStandings, *, size: WallSize, at: datetime, speech: Speech
) -> bytes:
    """Return the standings of each division of `view`, each beginning on a page of its own."""
    return typeset("wall", wall_payload(view, speech), size=size, at=at)


def wall_payload(view: WallStandings, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    as_of = wording.clock(_minute(view.at_ms), view.masthead.zone)
    return {
        "frame": frame(view.masthead, words.gettext("Standings"), words),
        "labels": {
            "place": words.gettext("Place"),
            "team": words.gettext("Team"),
            "points": words.gettext("Points"),
        },
        "as_of": words.gettext("As of {time}").format(time=as_of),
        "seal": words.gettext("Entry {seq}, seal {seal}").format(seq=view.seq, seal=view.seal),
        "divisions": [_division(table, view, speech) for table in view.tables],
    }


def _division(table: Standings, view: WallStandings, speech: Speech) -> Payload:
    return {
        "name": name_text(wording.one_line(table.division.name, LONGEST_NAME), table.division.id),
        "standing": standing_text(table, speech),
        "appeals": _appeals(table, view, speech),
        "columns": table_columns(table, speech),
        "rows": table_rows(table, speech),
    }


def table_columns(table: Standings, speech: Speech) -> list[Payload]:
    """Return the heads of the columns of results."""
    return [_column(column, speech) for column in table.columns]


def table_rows(table: Standings, speech: Speech) -> list[Payload]:
    """Return a row for each team, as `table_columns` has it."""
    return [_row(row, table, speech) for row in table.rows]


def standing_text(table: Standings, speech: Speech) -> str:
    """Return how final the standings are and who leads."""
    words = speech.words
    lead = (
        words.gettext("Fewest points lead.")
        if table.fewest_best
        else words.gettext("Most points lead.")
    )
    if table.final:
        return f"{words.gettext('Final.')} {lead}"
    if table.confirmed:
        return f"{words.gettext('All scores are confirmed.')} {lead}"
    counted = words.gettext("Provisional: {counted} of {parts} results count so far.")
    return f"{counted.format(counted=table.counted, parts=table.parts)} {lead}"


def _appeals(table: Standings, view: WallStandings, speech: Speech) -> str:
    """Return until when and how these standings can be appealed, or why not yet."""
    words = speech.words
    if table.posted_ms is None or table.appeals_until_ms is None:
        return words.gettext("Not posted yet: the time for appeals has not begun.")
    zone = view.masthead.zone
    posted = wording.clock(_minute(table.posted_ms), zone)
    if table.final:
        return words.gettext("Posted as final at {posted}.").format(posted=posted)
    until = wording.clock(_minute(table.appeals_until_ms), zone)
    said = words.gettext(
        "Posted at {posted}. Appeals until {until}, by the captain, to the head judge."
    ).format(posted=posted, until=until)
    changed = words.gettext("Changed since then.") if table.changed else ""
    return f"{said} {changed}".strip()


def _minute(at_ms: int) -> datetime:
    return from_milliseconds(at_ms - at_ms % 60_000)


def _column(column: StandingsColumn, speech: Speech) -> Payload:
    name = workout_name(column.workout, speech.words)
    part = wording.one_line(column.part_name, LONGEST_NAME)
    return {
        "name": f"{name}: {part}" if part else name,
        "note": speech.words.gettext("void") if column.void else "",
    }


def _row(row: StandingsRow, table: Standings, speech: Speech) -> Payload:
    return {
        "place": "–" if row.place is None else f"{row.place}{'=' if row.shared else ''}",
        "team": team_name(row.name, row.team),
        "points": "" if row.standing == "waiting" else row.points,
        "gone": row.status != "in",
        "cells": [_cell(cell, table, speech) for cell in row.cells],
    }


def _cell(cell: StandingsCell, table: Standings, speech: Speech) -> Payload:
    said = score_text(cell.score, cell.part, table.division, speech.words)
    modified = speech.words.gettext("modified") if cell.score.modified else ""
    place = wording.place(cell.place, speech.words) if cell.place is not None else ""
    return {"result": said or "–", "note": wording.joined_by_dots((place, modified))}
