"""The athletes' guide and the judges' briefing as PDF: one set of texts, two readers."""

import re
from datetime import datetime
from typing import Any

import msgspec

from callroom.paper.phrases import frame
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views.guide_text import GuideText, StandardText, WorkoutText
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech

# Blanks at which a load or height must not be broken: "43 kg / 95 lb".
_GLUED = re.compile(r"(?<=\d) (?=[^\W\d])|(?<=\w) (?=/)|(?<=/) ")
_VIEW_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')


def guide_pdf(
    text: GuideText, head: Masthead, *, size: PaperSize, at: datetime, speech: Speech
) -> bytes:
    """Return the athletes' guide: every workout, its loads, and each standard with figures."""
    words = speech.words
    labels = {
        **_labels(speech),
        "title": words.gettext("Athletes' guide"),
        "intro": words.gettext(
            "Every workout of the day, what it is done with, and what counts as a repetition. "
            "What is not written here is asked at the briefing."
        ),
    }
    return _set("guide", text, head, labels, size=size, at=at, speech=speech)


def briefing_pdf(
    text: GuideText, head: Masthead, *, size: PaperSize, at: datetime, speech: Speech
) -> bytes:
    """Return the judges' briefing: what to watch, from where, the no-reps, the finish."""
    words = speech.words
    labels = {
        **_labels(speech),
        "title": words.gettext("Judges' briefing"),
        "intro": words.gettext(
            "For the crew only. Read your workouts before the day, take the self-check on your "
            "phone, and ask the head judge whatever is not clear."
        ),
        "rules": _judging_rules(speech),
    }
    return _set("briefing", text, head, labels, size=size, at=at, speech=speech)


def standards_payload(
    text: GuideText, head: Masthead, speech: Speech
) -> tuple[Payload, dict[str, str]]:
    """Return what the standards sheet of one division's work draws, and its figures."""
    title = speech.words.gettext("Standards: {division}").format(division=text.divisions[0])
    labels = {**_labels(speech), "title": title}
    return _payload(text, head, labels, speech)


def _set(
    template: str,
    text: GuideText,
    head: Masthead,
    labels: Payload,
    *,
    size: PaperSize,
    at: datetime,
    speech: Speech,
) -> bytes:
    payload, pictures = _payload(text, head, labels, speech)
    return typeset(template, payload, size=size, at=at, pictures=pictures)


def _payload(
    text: GuideText, head: Masthead, labels: Payload, speech: Speech
) -> tuple[Payload, dict[str, str]]:
    payload = {
        "frame": frame(head, str(labels["title"]), speech.words),
        "labels": labels,
        "divisions": list(text.divisions),
        "workouts": [_workout(workout) for workout in text.workouts],
        "standards": [_standard(one, index) for index, one in enumerate(text.standards)],
    }
    pictures = {
        _picture(index, number): figure.svg
        for index, one in enumerate(text.standards)
        for number, figure in enumerate(one.figures)
    }
    return payload, pictures


def _workout(workout: WorkoutText) -> Payload:
    told: dict[str, Any] = msgspec.to_builtins(workout)
    for setting in (setting for part in told["parts"] for setting in part["settings"]):
        setting["cells"] = [
            [_GLUED.sub("\u00a0", line) for line in cell] for cell in setting["cells"]
        ]
    return {**told, "name": name_text(workout.name, workout.id)}


def _standard(one: StandardText, index: int) -> Payload:
    told: dict[str, Any] = msgspec.to_builtins(one)
    figures = [
        {"when": figure.when, "caption": figure.caption, **_drawn(figure.svg, index, number)}
        for number, figure in enumerate(one.figures)
    ]
    return {**told, "figures": figures, "one_cost": _one_cost(one)}


def _one_cost(one: StandardText) -> str:
    """Return what every fault costs, if all cost the same."""
    costs = {reason.cost for reason in one.no_reps}
    return costs.pop() if len(costs) == 1 else ""


def _drawn(svg: str, index: int, number: int) -> Payload:
    found = _VIEW_BOX.search(svg)
    wide, tall = (float(side) for side in found.groups()) if found is not None else (1.0, 1.0)
    return {"picture": _picture(index, number), "wide": wide, "tall": tall}


def _picture(index: int, number: int) -> str:
    return f"{index}-{number}"


def _labels(speech: Speech) -> dict[str, object]:
    words = speech.words
    return {
        "do": words.gettext("Do"),
        "round": words.gettext("Round"),
        "total": words.gettext("Running total"),
        "amount_and_total": words.gettext("How many, and the running total"),
        "with": words.gettext("Loads and heights"),
        "all": words.gettext("All divisions"),
        "result": words.gettext("What counts"),
        "standards": words.gettext("Standards"),
        "workouts": words.gettext("Workouts"),
        "split": words.gettext("split"),
        "page": words.gettext("page {page}"),
        "start": words.gettext("Start"),
        "finish": words.gettext("Finish"),
        "points": words.gettext("What a judge must see"),
        "no_reps": words.gettext("No-rep"),
        "cost": words.gettext("What it costs"),
        "counting": words.gettext("Counting"),
        "variations": words.gettext("Other ways"),
        "allowed": words.gettext("allowed"),
        "barred": words.gettext("not allowed"),
        "together": words.gettext("In step"),
        "cautions": words.gettext("Take care"),
        "used_in": words.gettext("In {workouts}"),
        "here": words.gettext("At this event"),
        "unwritten": words.gettext("Told at the briefing, not written here:"),
        "stand": words.gettext("Stand"),
        "watch": words.gettext("Watch"),
        "at_the_end": words.gettext("Finish, cap and split"),
        "duty": words.gettext(
            "A standard says what counts in a competition. It does not make a movement safe for "
            "anybody: local codes, the insurer and licensed practitioners decide."
        ),
    }


def _judging_rules(speech: Speech) -> list[Payload]:
    """Return how to judge, whatever the workout. Common practice, no source."""
    words = speech.words
    rules = (
        (
            words.gettext("Count aloud"),
            words.gettext(
                "Say the number of each repetition that counts, eyes on the athlete, not on the "
                "phone or the card."
            ),
        ),
        (
            words.gettext("Say no-rep at once"),
            words.gettext(
                "Raise a flat hand, say “no-rep” and the reason, then repeat the last number "
                "that counted. A no-rep is never added, and nothing is taken off for it."
            ),
        ),
        (
            words.gettext("Judge what you see"),
            words.gettext(
                "Call what is plainly short of the standard, the same for the first team and "
                "the last. In doubt it counts; talk to the head judge between heats."
            ),
        ),
        (
            words.gettext("Stay with your lane"),
            words.gettext(
                "Stand where this sheet says, move when the work moves, and keep other people "
                "and their kit out of the lane."
            ),
        ),
        (
            words.gettext("Write before you talk"),
            words.gettext(
                "Time, total and split go on the card or the phone first. The captain signs for "
                "the count, not for the place."
            ),
        ),
        (
            words.gettext("Stop for safety"),
            words.gettext(
                "Whoever is hurt, dizzy or cannot hold the position stops. Call first aid and "
                "the head judge; the work done so far stands."
            ),
        ),
    )
    return [{"name": name, "says": says} for name, says in rules]
