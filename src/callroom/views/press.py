"""A text for the press and the noticeboard: the day in a few plain sentences, nobody's name."""

from gettext import NullTranslations

from callroom.views import wording
from callroom.views.money_wording import money
from callroom.views.results_book import ResultsBook
from callroom.views.standings import Standings

_PODIUM = 3


def press_text(view: ResultsBook, words: NullTranslations) -> str:
    """Return the text; teams are named, people are not. It says so while it is provisional."""
    head = view.masthead
    say = words.gettext
    teams = sum(len(table.rows) for table in view.tables)
    lines = [
        say("{event}, {day}, {venue}").format(
            event=wording.one_line(head.event, 120),
            day=wording.long_date(head.day, words),
            venue=wording.one_line(head.venue, 120),
        ),
        "",
    ]
    if head.rehearsal or head.invented:
        lines += [say("NOT FOR PRINT: a rehearsal or an invented event."), ""]
    if not view.final:
        lines += [say("Provisional: not every division was posted as final."), ""]
    lines.append(
        words.ngettext(
            "{teams} team competed in {divisions}.", "{teams} teams competed in {divisions}.", teams
        ).format(
            teams=teams,
            divisions=words.ngettext(
                "{count} division", "{count} divisions", len(view.tables)
            ).format(count=len(view.tables)),
        )
    )
    lines += ["", *(line for table in view.tables for line in _winners(table, words))]
    if view.raised is not None:
        lines += [
            "",
            say("So far {amount} were raised for {cause}.").format(
                amount=money(view.raised.amount, view.raised.currency, words),
                cause=wording.one_line(head.cause, 120) or say("the cause"),
            ),
        ]
    return "\n".join(lines) + "\n"


def _winners(table: Standings, words: NullTranslations) -> list[str]:
    first = [row for row in table.rows if row.place is not None and row.place <= _PODIUM]
    if not first:
        return [words.gettext("{division}: no result yet.").format(division=table.division.name)]
    told = "; ".join(
        words.gettext("{place} {team}").format(
            place=wording.place(row.place or 0, words), team=wording.one_line(row.name, 80)
        )
        for row in first
    )
    return [
        words.gettext("{division}: {places}.").format(
            division=wording.one_line(table.division.name, 80), places=told
        )
    ]
