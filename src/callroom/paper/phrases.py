"""What every sheet says alike: the event, the revision, the times, the marks."""

from gettext import NullTranslations

from callroom.model import wall_time
from callroom.paper.typesetting import Payload, name_text
from callroom.views import wording
from callroom.views.masthead import Masthead
from callroom.views.timetable import HeatSlot, WorkoutTitle

LONGEST_NAME = 60
LONGEST_CAUSE = 140


def frame(head: Masthead, title: str, words: NullTranslations) -> dict[str, object]:
    """Return what stands at the head and foot of every page."""
    revision = words.gettext("Revision {number}").format(number=head.revision)
    if not head.revision:
        revision = words.gettext("No plan yet")
    return {
        "title": title,
        "language": head.language,
        "event": name_text(wording.one_line(head.event, LONGEST_NAME), ""),
        "venue": name_text(wording.one_line(head.venue, LONGEST_NAME), ""),
        "day": wording.long_date(head.day, words),
        "revision": revision,
        "rehearsal": words.gettext("REHEARSAL") if head.rehearsal else "",
        "rehearsal_note": words.gettext("Practice run. Nothing on this sheet counts.")
        if head.rehearsal
        else "",
        "invented": words.gettext("Demo: every team and person is invented.")
        if head.invented
        else "",
        "page_of": words.gettext("{page} of {pages}"),
    }


def workout_name(title: WorkoutTitle, words: NullTranslations) -> str:
    """Return ``"Long haul"``; ``"Workout 3"`` while its name is not released."""
    if title.name:
        return name_text(wording.one_line(title.name, LONGEST_NAME), title.id)
    return words.gettext("Workout {number}").format(number=title.number)


def released_at(title: WorkoutTitle, head: Masthead, words: NullTranslations) -> str:
    """Return when a hidden workout is released; empty if it may be seen."""
    if title.release_s is None:
        return ""
    at = clock(head, title.release_s)
    return words.gettext("released at {time}").format(time=at)


def clock(head: Masthead, offset_s: int) -> str:
    """Return a time of the plan on the venue's clock."""
    return wording.clock(head.instant(offset_s), head.zone)


def day_and_clock(head: Masthead, offset_s: int, words: NullTranslations) -> str:
    """Return a time of the plan, with its weekday if that is not the event's first."""
    day = wall_time(head.instant(offset_s), head.zone).date()
    at = clock(head, offset_s)
    return at if day == head.day else f"{wording.weekday(day, words)} {at}"


def heat_times(heat: HeatSlot, head: Masthead, words: NullTranslations) -> list[Payload]:
    """Return a heat's times with their names: report, walk on, clock."""
    return [
        {
            "label": words.gettext("Report"),
            "text": day_and_clock(head, heat.report_s, words),
        },
        {"label": words.gettext("Walk on"), "text": clock(head, heat.start_s)},
        {"label": words.gettext("Clock"), "text": clock(head, heat.clock_s)},
    ]


def team_name(name: str, team_id: str) -> str:
    """Return a team's name in one line, or its id if the font can draw nothing of the name."""
    return name_text(wording.one_line(name, LONGEST_NAME), team_id)
