"""What the day taught as PDF: pictures first, then the tables they come from."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from callroom.paper.phrases import LONGEST_NAME, clock, day_and_clock, frame, workout_name
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views import rota_wording, wording
from callroom.views.calibration import PacePicture
from callroom.views.kit_day import load_text
from callroom.views.lateness_picture import colour_of, floors_of, lateness_svg, most_late_s
from callroom.views.lessons import AgreementRow, HeatTook, JudgeRate, Lessons, Separated
from callroom.views.lessons_used import KitUsed, PostHeld
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech

_MOST_JUDGES = 40


def lessons_pdf(
    view: Lessons,
    paces: Sequence[PacePicture],
    head: Masthead,
    *,
    net_per_head: str,
    labels: Mapping[str, str],
    size: PaperSize,
    at: datetime,
    speech: Speech,
) -> bytes:
    """Return the report.

    `paces` are what the results show of the forecast, `net_per_head` the money left for each
    athlete in words, empty where no budget was kept; `labels` is what was typed about the
    devices that counted.
    """
    drawn = lateness_svg(view.heats)
    pictures = {"lateness": drawn} if drawn else {}
    payload = lessons_payload(view, paces, head, net_per_head, speech, labels=labels)
    return typeset("lessons", payload, size=size, at=at, pictures=pictures)


def lessons_payload(
    view: Lessons,
    paces: Sequence[PacePicture],
    head: Masthead,
    net_per_head: str,
    speech: Speech,
    *,
    labels: Mapping[str, str],
) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    say = words.gettext
    told = [
        say("{athletes} athletes, {crew} of the crew.").format(
            athletes=view.athletes, crew=view.crew
        ),
        say("{shifts} shifts on the rota.").format(shifts=view.shifts) if view.shifts else "",
        net_per_head,
    ]
    return {
        "frame": frame(head, say("What the day taught"), words),
        "facts": [one for one in told if one],
        "late_title": say("How late the floors ran"),
        "late_says": say("At most {late} behind the plan; the foot is on time.").format(
            late=wording.stopwatch(most_late_s(view.heats))
        )
        if view.heats
        else say("No heat was run by the board, so nothing is known of the times."),
        "floors": [
            {"name": floor, "colour": colour_of(number)}
            for number, floor in enumerate(floors_of(view.heats))
        ],
        "tables": [
            _lost(view.lost, head, speech),
            _separated(view.separated, speech),
            _agreements(view.with_final, speech),
            _between(view.alike, speech),
            _paces(paces, speech),
            _posts(view.posts, speech),
            _kit(view.kit, speech),
            _judges(view.judges, labels, speech),
        ],
    }


def _table(title: str, note: str, columns: list[str], rows: list[list[str]]) -> Payload:
    return {"title": title, "note": note, "columns": columns, "rows": rows}


def _lost(heats: Sequence[HeatTook], head: Masthead, speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("Where minutes were lost"),
        say("On the floor: the heat held it longer than planned. Before it: between two heats."),
        [
            say("Heat"),
            say("Floor"),
            say("Planned"),
            say("Began"),
            say("On the floor"),
            say("Before it"),
        ],
        [
            [
                say("{workout}, heat {number}").format(
                    workout=workout_name(one.workout, speech.words), number=one.number
                ),
                wording.one_line(one.floor, LONGEST_NAME),
                day_and_clock(head, one.planned_s, speech.words),
                clock(head, one.began_s - one.began_s % 60),
                _signed(one.over_s),
                _signed(one.gap_s),
            ]
            for one in heats
        ],
    )


def _separated(rows: Sequence[Separated], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("How well each workout separated the teams"),
        say("Neighbours told apart: 100% means no two teams level."),
        [
            say("Workout"),
            say("Division"),
            say("Teams"),
            say("Told apart"),
            say("Stopped by the cap"),
            say("Largest tie"),
        ],
        [
            [
                _part(one, speech),
                wording.one_line(one.division, LONGEST_NAME),
                str(one.teams),
                f"{one.apart_percent} %",
                str(one.capped),
                str(one.largest_tie) if one.largest_tie > 1 else "–",
            ]
            for one in rows
        ],
    )


def _agreements(rows: Sequence[AgreementRow], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("How far each workout agrees with the final order"),
        say(
            "1: the same order; 0: nothing to do with it. A workout that agrees with all others tests nothing new; one that agrees with none may test luck."
        ),
        [say("Workout"), say("Division"), say("Teams"), "Kendall", "Spearman"],
        [
            [
                _part(one, speech),
                wording.one_line(one.division, LONGEST_NAME),
                str(one.agreement.teams),
                f"{one.agreement.tau:.2f}",
                f"{one.agreement.rho:.2f}",
            ]
            for one in rows
        ],
    )


def _between(rows: Sequence[AgreementRow], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("How far workouts agree with one another"),
        say("The ten pairs that agree most: they test much the same. All pairs are on the page."),
        [say("Workouts"), say("Division"), say("Teams"), "Kendall", "Spearman"],
        [
            [
                say("{one} and {other}").format(one=_part(one, speech), other=_other(one, speech)),
                wording.one_line(one.division, LONGEST_NAME),
                str(one.agreement.teams),
                f"{one.agreement.tau:.2f}",
                f"{one.agreement.rho:.2f}",
            ]
            for one in rows
        ],
    )


def _other(one: AgreementRow, speech: Speech) -> str:
    if one.other_workout is None:
        return ""
    name = workout_name(one.other_workout, speech.words)
    return f"{name}: {wording.one_line(one.other_name, LONGEST_NAME)}" if one.other_name else name


def _paces(paces: Sequence[PacePicture], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("Forecast against results"),
        say(
            "1.00: as forecast; 1.10: a tenth slower. The range holds the true pace in about nine cases of ten."
        ),
        [say("Workout"), say("Division"), say("Teams"), say("Pace"), say("Range")],
        [
            [
                workout_name(one.workout, speech.words) + (f": {one.name}" if one.name else ""),
                wording.one_line(one.division_name, LONGEST_NAME),
                str(one.pace.teams),
                f"{one.pace.permille / 1000:.2f}",
                f"{one.pace.low_permille / 1000:.2f}–{one.pace.high_permille / 1000:.2f}",
            ]
            for one in paces
            if one.pace is not None
        ],
    )


def _posts(posts: Sequence[PostHeld], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("The crew"),
        "",
        [say("Post"), say("On duty each"), say("Shifts"), say("Held"), say("People")],
        [
            [
                wording.one_line(rota_wording.post(one.post, speech.words), LONGEST_NAME),
                rota_wording.hours(one.each_s),
                str(one.shifts),
                str(one.held),
                str(one.people),
            ]
            for one in posts
        ],
    )


def _kit(kit: Sequence[KitUsed], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("The kit"),
        say("As planned at the end of the day. Plates are not counted here."),
        [
            say("Thing"),
            say("Borrowed from"),
            say("There were"),
            say("Most at once"),
            say("Borrowed"),
            say("Not needed of these"),
        ],
        [
            [
                wording.one_line(
                    f"{one.item} {load_text(one.loads, speech.words)}".strip(), LONGEST_NAME
                )
                if one.loads
                else wording.one_line(one.item, LONGEST_NAME),
                wording.one_line(", ".join(one.lenders), LONGEST_NAME),
                str(one.had),
                str(one.most),
                str(one.borrowed or "–"),
                str(one.needless or "–"),
            ]
            for one in kit
        ],
    )


def _judges(rates: Sequence[JudgeRate], labels: Mapping[str, str], speech: Speech) -> Payload:
    say = speech.words.gettext
    return _table(
        say("No-reps by device"),
        say(
            "With exact 95% ranges. A low or a high rate is no accusation: lanes, teams and workouts differ, and small numbers say little."
        ),
        [say("Device"), say("No-reps"), say("Of"), say("Rate"), say("Range")],
        [
            [
                wording.one_line(labels.get(one.device) or one.device, LONGEST_NAME),
                str(one.rate.no_reps),
                str(one.rate.tries),
                _percent(one.rate.share),
                f"{_percent(one.rate.low)}–{_percent(one.rate.high)}",
            ]
            for one in rates[:_MOST_JUDGES]
        ],
    )


def _part(one: Separated | AgreementRow, speech: Speech) -> str:
    name = workout_name(one.workout, speech.words)
    return f"{name}: {wording.one_line(one.part_name, LONGEST_NAME)}" if one.part_name else name


def _signed(seconds: int) -> str:
    sign = "+" if seconds > 0 else "−" if seconds < 0 else ""
    return f"{sign}{wording.stopwatch(abs(seconds))}"


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"
