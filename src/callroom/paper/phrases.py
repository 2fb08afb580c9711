"""What every sheet says alike: the event, the revision, the times, the marks."""

from gettext import NullTranslations

from callroom.model import wall_time
from callroom.paper.typesetting import Payload, name_text
from callroom.views import wording
from callroom.views.day_wording import day_name
from callroom.views.masthead import Masthead
from callroom.views.timetable import HeatSlot, Timetable, WorkoutTitle

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
    at = day_and_clock(head, title.release_s, words)
    return words.gettext("released at {time}").format(time=at)


def clock(head: Masthead, offset_s: int) -> str:
    """Return a time of the plan on the venue's clock."""
    return wording.clock(head.instant(offset_s), head.zone)


def day_and_clock(head: Masthead, offset_s: int, words: NullTranslations) -> str:
    """Return a time of the plan with its day: by name, or its weekday if it is past the only one."""
    return f"{_day(head, offset_s, words)} {clock(head, offset_s)}".strip()


def clock_after(
    head: Masthead, offset_s: int, before_s: int | None, words: NullTranslations
) -> str:
    """Return a time in a list, with its day if that is another than the one of the time before."""
    same = before_s is not None and _day(head, before_s, words) == _day(head, offset_s, words)
    return clock(head, offset_s) if same else day_and_clock(head, offset_s, words)


def _day(head: Masthead, offset_s: int, words: NullTranslations) -> str:
    if name := day_name(head.days, offset_s):
        return wording.one_line(name, LONGEST_NAME)
    day = wall_time(head.instant(offset_s), head.zone).date()
    return "" if day == head.day else wording.weekday(day, words)


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


def times_of_all(heat: HeatSlot, head: Masthead, words: NullTranslations) -> list[Payload]:
    """Return a heat's times with those of its warm-up and briefing, where there are any."""
    report, *others = heat_times(heat, head, words)
    ahead = (
        (words.gettext("Warm-up"), heat.warm_up_s),
        (words.gettext("Briefing"), heat.briefing_s),
    )
    told = [
        {"label": label, "text": clock(head, at_s)} for label, at_s in ahead if at_s is not None
    ]
    return [report, *told, *others]


def said_ahead(view: Timetable, words: NullTranslations) -> str:
    """Return what comes before every heat, in a sentence; empty if nothing does."""
    warm_up = wording.stopwatch(view.warm_up_s + view.briefing_s)
    briefing = wording.stopwatch(view.briefing_s)
    if view.warm_up_s and view.briefing_s:
        template = words.gettext(
            "Before every heat: warm-up from {warm_up} before its start, briefing from {briefing}."
        )
    elif view.warm_up_s:
        template = words.gettext("Before every heat: warm-up from {warm_up} before its start.")
    elif view.briefing_s:
        template = words.gettext("Before every heat: briefing from {briefing} before its start.")
    else:
        return ""
    return template.format(warm_up=warm_up, briefing=briefing)


def team_name(name: str, team_id: str) -> str:
    """Return a team's name in one line, or its id if the font can draw nothing of the name."""
    return name_text(wording.one_line(name, LONGEST_NAME), team_id)
