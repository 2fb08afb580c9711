"""Thanks to a volunteer: what they did, shift by shift, in a short warm letter."""

from collections.abc import Iterator
from gettext import NullTranslations

from callroom.model import Event, wall_time
from callroom.views import rota_wording, wording
from callroom.views.crew_list import CrewLine
from callroom.views.rota_day import DutyLine
from callroom.views.team_letters import LetterText
from callroom.views.wording import ENGLISH


def thanks_text(
    event: Event, line: CrewLine, own_words: str = "", words: NullTranslations = ENGLISH
) -> LetterText:
    """Return the letter of thanks to one volunteer, with their shifts in the rota as it ended.

    `own_words` is a paragraph of the director's; empty: none.
    """
    parts = "\n\n".join(_parts(event, line, own_words, words))
    subject = words.gettext("Thank you for helping at {event}").format(event=event.name)
    return LetterText(subject=wording.one_line(subject, 150), body=f"{parts}\n")


def _parts(event: Event, line: CrewLine, own_words: str, words: NullTranslations) -> Iterator[str]:
    say = words.gettext
    given = line.person.name.split()
    yield say("Hello {name},").format(name=given[0]) if given else say("Hello,")
    day = wording.long_date(event.day, words)
    yield say("thank you for helping at {event} on {day}.").format(event=event.name, day=day)
    if line.duties:
        what = "\n".join(f"- {_shift(event, duty, words)}" for duty in line.duties)
        yield say("This is what you did:") + f"\n{what}"
        yield say("That makes {hours} in all.").format(hours=rota_wording.hours(line.on_duty_s))
    if event.cause:
        yield say("The day was for {cause}, and it needed every pair of hands.").format(
            cause=event.cause
        )
    else:
        yield say("The day needed every pair of hands.")
    if own_words:
        yield own_words
    yield say("With thanks from all of us,") + f"\n{event.name}"


def _shift(event: Event, duty: DutyLine, words: NullTranslations) -> str:
    start, end = (
        f"{wall_time(event.instant(offset_s), event.zone):%H:%M}"
        for offset_s in (duty.start_s, duty.end_s)
    )
    where = rota_wording.where(duty, words)
    post = rota_wording.post(duty.post, words)
    heats = rota_wording.heats(duty, words)
    said = f"{start}–{end} {post}" + (f", {where}" if where else "")
    return f"{said} ({heats})" if heats else said
