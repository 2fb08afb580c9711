"""The results book as PDF: the winners, what was raised, each division's story and standings."""

from datetime import datetime

from callroom.paper.phrases import LONGEST_CAUSE, LONGEST_NAME, frame, team_name, workout_name
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.paper.wall import standing_text, table_columns, table_rows
from callroom.views import wording
from callroom.views.money_wording import money
from callroom.views.results_book import ResultsBook
from callroom.views.standings import Standings
from callroom.views.story import Story
from callroom.views.story_picture import story_svg
from callroom.views.work_wording import Speech

_PODIUM = 3
_PICTURE_MM, _PAGE_MM, _ROW_MM = 122.0, 200.0, 7.2


def results_book_pdf(view: ResultsBook, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the book; the same view gives the same bytes."""
    pictures = {
        one.division: drawn
        for one in view.stories
        if (drawn := story_svg(one, rows_wide=_PICTURE_MM / _row_mm(one)))
    }
    payload = results_book_payload(view, speech)
    return typeset("results_book", payload, size=size, at=at, pictures=pictures)


def _row_mm(one: Story) -> float:
    """Return how high a team's row is [mm], so that all of them fit on a page."""
    return min(_ROW_MM, _PAGE_MM / max(len(one.teams), 1))


def results_book_payload(view: ResultsBook, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    say = words.gettext
    raised = view.raised
    return {
        "frame": frame(view.masthead, say("Results"), words),
        "labels": {"place": say("Place"), "team": say("Team"), "points": say("Points")},
        "state": say("Final results.")
        if view.final
        else say("Provisional: not every division was posted as final."),
        "cause": wording.one_line(view.masthead.cause, LONGEST_CAUSE),
        "raised_label": say("Raised so far") if raised is not None else "",
        "raised": money(raised.amount, raised.currency, words) if raised is not None else "",
        "seal": say("Entry {seq}, seal {seal}").format(seq=view.seq, seal=view.seal),
        "story_title": say("Places after each workout"),
        "table_title": say("Standings"),
        "divisions": [
            _division(table, one, speech)
            for table, one in zip(view.tables, view.stories, strict=True)
        ],
    }


def _division(table: Standings, story: Story, speech: Speech) -> Payload:
    names = {row.team: team_name(row.name, row.team) for row in table.rows}
    places = {
        row.team: "–" if row.place is None else f"{row.place}{'=' if row.shared else ''}"
        for row in table.rows
    }
    return {
        "id": story.division,
        "name": name_text(wording.one_line(table.division.name, LONGEST_NAME), table.division.id),
        "standing": standing_text(table, speech),
        "podium": [
            {
                "place": places[row.team],
                "name": names[row.team],
                "points": speech.words.gettext("{points} points").format(points=row.points),
            }
            for row in table.rows
            if row.place is not None and row.place <= _PODIUM
        ],
        "steps": [
            workout_name(step.workout, speech.words)
            + (f": {wording.one_line(step.part_name, LONGEST_NAME)}" if step.part_name else "")
            for step in story.steps
        ],
        "teams": [{"name": names[team], "place": places[team]} for team in story.teams],
        "row_mm": _row_mm(story),
        "picture_mm": _PICTURE_MM,
        "picture_says": speech.words.gettext(
            "Lines from each team's first place to its last; the table below says the same."
        ),
        "columns": table_columns(table, speech),
        "rows": table_rows(table, speech),
    }
