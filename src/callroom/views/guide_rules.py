"""What decides a part's result, said to athletes and to judges; and what a fault costs."""

from decimal import Decimal
from gettext import NullTranslations

from callroom.model import Part
from callroom.model.movement import Cost, Stage
from callroom.model.words import N_
from callroom.views import wording, work_wording
from callroom.views.work import PartWork
from callroom.views.work_wording import Speech

COSTS: dict[Cost, str] = {
    "repetition": N_("That repetition does not count."),
    "stretch": N_("The stretch since the last mark does not count and is done again."),
    "stand_still": N_("Nothing counts until the position is taken up again."),
    "attempt": N_("The whole attempt is lost."),
}

_STAGES = {
    "start": N_("Start"),
    "finish": N_("Finish"),
    "throughout": N_("All the time"),
    "bottom": N_("Bottom"),
    "catch": N_("Catch"),
    "top": N_("Top"),
    "down": N_("Down"),
    "shoulders": N_("At the shoulders"),
    "shoulder": N_("At the shoulder"),
    "walk": N_("On the way"),
    "run": N_("On the way"),
    "swim": N_("On the way"),
    "drag": N_("On the way"),
    "push": N_("Push"),
    "over": N_("Going over"),
    "dip": N_("Dip"),
    "swing": N_("Swing"),
    "land": N_("Landing"),
    "step": N_("Step"),
    "flight": N_("In the air"),
    "turn": N_("Turn"),
    "key": N_("On the way up"),
    "climb": N_("Climbing"),
    "lap": N_("On the lap"),
}


def cost(value: Cost, words: NullTranslations, *, lifted: bool = False) -> str:
    """Return what a fault costs, as a sentence; where it is `lifted` for load, each is a try."""
    if lifted and value == "repetition":
        return words.gettext("That try does not count.")
    return words.gettext(COSTS[value])


def stage(value: Stage, words: NullTranslations) -> str:
    """Return when a point must be true: ``"Start"``, ``"Bottom"``, ``"All the time"``."""
    known = _STAGES.get(value)
    return words.gettext(known) if known else value.replace("_", " ").capitalize()


def for_athletes(part: Part, work: PartWork, speech: Speech) -> tuple[str, ...]:
    """Return how the result of a part comes about and what breaks a tie."""
    words = speech.words
    return (*_result(part, words), *_tie(part, work, speech), *_worth(part, words))


def for_judges(part: Part, work: PartWork, speech: Speech) -> tuple[str, ...]:
    """Return what a judge does at the finish, at the cap or buzzer, and at the split."""
    words, time = speech.words, wording.stopwatch(part.cap_s)
    said = {
        "time": (
            words.gettext("Finish: write the time on the clock when the last task is complete."),
            words.gettext("Not finished at {time}: stop, and write the running total.").format(
                time=time
            ),
        ),
        "work": (
            words.gettext(
                "At {time}: what is finished at the buzzer counts; write the total."
            ).format(time=time),
        ),
        "distance": (
            words.gettext("At {time}: write the whole metres at the buzzer.").format(time=time),
        ),
        "load": (
            words.gettext("Write every load before the lift, and good or no lift after it."),
            _buzzer(part, words),
        ),
    }[part.kind]
    return (*said, *_split_to_note(part, work, speech), *_parallel(work, words))


def _result(part: Part, words: NullTranslations) -> tuple[str, ...]:
    if part.kind == "time":
        return _time_result(part, words)
    if part.kind == "work":
        return (words.gettext("All that is finished at the buzzer counts; more is better."),)
    if part.kind == "distance":
        return (words.gettext("The whole metres at the buzzer count; more is better."),)
    lifts = sum(task.unit == "lift" for block in part.blocks for task in block.tasks)
    several = words.gettext("The best good lift of each kind counts; they are added up.")
    single = words.gettext("The best good lift counts.")
    needed = words.gettext("Without a good lift of every kind the result is nought.")
    return (
        several if lifts > 1 else single,
        *((needed,) if lifts > 1 and part.all_lifts_needed else ()),
        _buzzer(part, words),
    )


def _time_result(part: Part, words: NullTranslations) -> tuple[str, ...]:
    time = wording.stopwatch(part.cap_s)
    cut = (
        words.gettext("Times are cut off to whole seconds.")
        if part.resolution_ms == 1000
        else words.gettext("Times are cut off to {step} s.").format(
            step=wording.decimal(_seconds(part.resolution_ms), words)
        )
    )
    capped = {
        "work_done": words.gettext(
            "Whoever is not done at {time} ranks below all who finish, by the work done."
        ),
        "second_per_missing": words.gettext(
            "Whoever is not done at {time} gets that time and one second for every count missing."
        ),
    }[part.cap_rule].format(time=time)
    exactly = words.gettext("A finish exactly on {time} counts.").format(time=time)
    return capped, exactly, cut


def _seconds(time_ms: int) -> Decimal:
    return Decimal(time_ms) / 1000


def _buzzer(part: Part, words: NullTranslations) -> str:
    if part.buzzer_lift == "off_floor":
        return words.gettext("A lift counts if it was off the floor at the buzzer.")
    return words.gettext("A lift counts if it was complete at the buzzer.")


def _tie(part: Part, work: PartWork, speech: Speech) -> tuple[str, ...]:
    words = speech.words
    if part.tiebreak is None:
        return (words.gettext("Equal results share the place."),)
    if part.tiebreak.after == "round":
        split = words.gettext("Equal results: the earlier end of the last full round is better.")
    else:
        split = words.gettext(
            "Equal results: the earlier time at the end of “{work}” is better."
        ).format(work=split_name(work, speech))
    on_one_time = words.gettext("Two who finish at the same time share the place.")
    shared = part.kind == "time" and not part.tiebreak.splits_finishers
    return (split, on_one_time) if shared else (split,)


def _worth(part: Part, words: NullTranslations) -> tuple[str, ...]:
    if part.share_percent == 100:
        return ()
    text = words.gettext("This part is worth {percent} % of the points of a whole workout.")
    return (text.format(percent=part.share_percent),)


def _split_to_note(part: Part, work: PartWork, speech: Speech) -> tuple[str, ...]:
    words = speech.words
    if part.tiebreak is None:
        return ()
    if part.tiebreak.after == "round":
        return (words.gettext("Split: write the time at the end of every full round."),)
    text = words.gettext("Split: write the time at the end of “{work}”.")
    return (text.format(work=split_name(work, speech)),)


def _parallel(work: PartWork, words: NullTranslations) -> tuple[str, ...]:
    if not any(block.parallel for block in work.blocks):
        return ()
    return (words.gettext("Two sides work at once: count each by itself and add both at the end."),)


def split_name(work: PartWork, speech: Speech) -> str:
    """Return the work at whose end the tie-break time is taken."""
    after = work.part.tiebreak.after if work.part.tiebreak is not None else ""
    for block in work.blocks:
        for row in block.rows:
            if row.split:
                named = block.id == after and block.name
                return (
                    wording.one_line(block.name)
                    if named
                    else work_wording.movement_name(row.task, speech)
                )
    return after
