"""How a result is written: ``7:32``, ``cap + 23 done``, ``4 + 17 (107)``, ``60 kg + 95 kg``."""

from gettext import NullTranslations

from callroom.model import Division, Lift, Part, Penalty, Result
from callroom.model.steps import as_rounds, counted_in_rounds
from callroom.model.words import N_
from callroom.scoring import Score, load_text
from callroom.views.wording import ENGLISH, marked, mass, result_time

_OUTCOMES = {
    "did_not_start": N_("did not start"),
    "withdrew": N_("withdrew"),
    "unknown": N_("not known"),
}


def result_text(
    result: Result, part: Part, division: Division, words: NullTranslations = ENGLISH
) -> str:
    """Return a raw result in one short line, as it was seen.

    Penalties are not in it (:func:`penalty_text`); a tie-break split and a remark on the
    work (modified, medical stop) follow the result.
    """
    said = [_main(result, part, division, words)]
    if result.tiebreak_ms is not None:
        split = result_time(result.tiebreak_ms, part.resolution_ms)
        said.append(words.gettext("split {time}").format(time=split))
    if result.modified:
        said.append(words.gettext("modified"))
    if result.medical_stop:
        said.append(words.gettext("medical stop"))
    return ", ".join(said)


def score_text(
    score: Score, part: Part, division: Division, words: NullTranslations = ENGLISH
) -> str:
    """Return a score as it is ranked, at its resolution and with its penalties taken in."""
    texts = {
        "did_not_start": words.gettext("did not start"),
        "withdrew": words.gettext("withdrew"),
        "awaited": "",
    }
    if score.kind in texts:
        return texts[score.kind]
    if score.kind == "lifted":
        return marked(load_text(score.masses), words) or words.gettext("no good lift")
    if score.kind == "covered":
        return words.gettext("{metres} m").format(metres=score.distance_m)
    if score.kind == "finished" and score.time_ms is not None:
        return result_time(score.time_ms, part.resolution_ms)
    done = work_text(score.work or 0, part, division, words)
    return words.gettext("cap + {work} done").format(work=done) if score.kind == "capped" else done


def penalty_text(penalty: Penalty, words: NullTranslations = ENGLISH) -> str:
    """Return ``"+10 s"``, ``"−5"``, or both; seconds credited are ``"−10 s"``."""
    said = []
    if penalty.seconds > 0:
        said.append(words.gettext("+{count} s").format(count=penalty.seconds))
    if penalty.seconds < 0:
        said.append(words.gettext("−{count} s").format(count=-penalty.seconds))
    if penalty.counts:
        said.append(words.gettext("−{count}").format(count=penalty.counts))
    return ", ".join(said)


def best_lifts(part: Part, lifts: tuple[Lift, ...]) -> tuple[Lift, ...]:
    """Return the heaviest good lift of each task, in the order of the tasks."""
    tasks = [task.id for block in part.blocks for task in block.tasks if task.unit == "lift"]
    best: dict[str, Lift] = {}
    for lift in lifts:
        held = best.get(lift.task)
        if lift.good and (held is None or lift.mass.grams() > held.mass.grams()):
            best[lift.task] = lift
    return tuple(best[task] for task in tasks if task in best)


def work_text(work: int, part: Part, division: Division, words: NullTranslations = ENGLISH) -> str:
    """Return work done: ``"107"``, or ``"4 + 17 (107)"`` where rounds are counted."""
    if not counted_in_rounds(part):
        return str(work)
    rounds, counts = as_rounds(part, division, work)
    return words.gettext("{rounds} + {counts} ({work})").format(
        rounds=rounds, counts=counts, work=work
    )


def _main(result: Result, part: Part, division: Division, words: NullTranslations) -> str:
    if result.outcome in _OUTCOMES:
        return words.gettext(_OUTCOMES[result.outcome])
    if result.outcome == "finished" and result.time_ms is not None:
        return result_time(result.time_ms, part.resolution_ms)
    if result.outcome == "capped":
        if result.work is None:
            return words.gettext("cap")
        done = work_text(result.work, part, division, words)
        return words.gettext("cap + {work} done").format(work=done)
    if result.outcome == "worked" and result.work is not None:
        return work_text(result.work, part, division, words)
    if result.outcome == "lifted":
        best = best_lifts(part, result.lifts)
        return " + ".join(mass(lift.mass, words) for lift in best) or words.gettext("no good lift")
    if result.outcome == "covered" and result.distance_m is not None:
        return words.gettext("{metres} m").format(metres=result.distance_m)
    return words.gettext("incomplete")
