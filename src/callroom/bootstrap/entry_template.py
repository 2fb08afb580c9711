"""The entry sheet as a workbook, for directors whose teams enter by mail."""

from gettext import NullTranslations

from callroom.exchange.entry_sheet_out import entry_xlsx
from callroom.model import Event, NotFound
from callroom.model.entering import Entering
from callroom.views.entry_form import make_up_text


def entry_template(
    event: Event, division_id: str, entering: Entering, words: NullTranslations
) -> bytes:
    """Return the workbook that a team of a division fills in; NotFound without that division."""
    division = next((one for one in event.divisions if one.id == division_id), None)
    if division is None:
        raise NotFound("division.unknown", division=division_id[:80])
    say = words.gettext
    notes = (
        f"{event.name}: {division.name} ({make_up_text(event, division, words)})",
        say("One row for each athlete. The team's name stands in every row; the captain's e-mail"
            " and phone in the captain's. Do not change the headings below."),
        say("A guardian is named only for somebody under {age} on the day.").format(
            age=entering.adult_age
        ),
    )  # fmt: skip
    return entry_xlsx(event, division, entering, notes)
