"""One scored part on a card: its table of work, its lifts, and where the result is written."""

from callroom.model import Task
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import Payload
from callroom.views import wording, work_wording
from callroom.views.work import PartWork, WorkBlock, WorkRow
from callroom.views.work_wording import Speech

# A lift without a number of tries gets this many lines.
_OPEN_TRIES = 6


def part_payload(work: PartWork, speech: Speech, *, several: bool) -> Payload:
    """Return what the template draws of one part; `several` says whether it has siblings."""
    words = speech.words
    name = words.gettext("Part {name}").format(name=work.name or work.id.upper())
    return {
        "name": name if several else "",
        "goal": wording.goal(work.part, words),
        "remarks": _remarks(work, speech),
        "tables": _tables(work, speech),
        "lifts": [_lift(task, speech) for task in work.lifts],
        "fields": _fields(work, speech),
        "ticks": [
            words.gettext("did not start"),
            words.gettext("some work modified"),
            words.gettext("stopped by first aid"),
        ],
    }


def _counted(block: WorkBlock) -> bool:
    return any(row.task.unit != "lift" for row in block.rows)


def _remarks(work: PartWork, speech: Speech) -> list[str]:
    words, part = speech.words, work.part
    said = []
    if part.share_percent != 100:
        said.append(words.gettext("worth {percent} %").format(percent=part.share_percent))
    if part.starts_s:
        at = wording.stopwatch(part.starts_s)
        said.append(words.gettext("starts at {time} on the clock").format(time=at))
    if part.kind == "time" and part.cap_rule == "second_per_missing":
        said.append(words.gettext("at the cap every missing count adds 1 s"))
    if part.kind == "load":
        said.append(
            words.gettext("a lift counts if it was off the floor at the buzzer")
            if part.buzzer_lift == "off_floor"
            else words.gettext("a lift counts if it was complete at the buzzer")
        )
    return said


def _tables(work: PartWork, speech: Speech) -> list[Payload]:
    """Return one table for each block done in rounds, and one for every run of others."""
    tables: list[Payload] = []
    run: list[Payload] = []
    for block in work.blocks:
        if not _counted(block):
            continue
        table = _table(block, speech)
        if block.rounds > 1:
            tables += [*_together(run), table]
            run = []
        else:
            run.append(table)
    return [*tables, *_together(run)]


def _together(run: list[Payload]) -> list[Payload]:
    return [{"kind": "list", "blocks": run}] if run else []


def _table(block: WorkBlock, speech: Speech) -> Payload:
    words = speech.words
    rows = [row for row in block.rows if row.task.unit != "lift"]
    further = words.gettext("Every further round adds {counts}.").format(counts=block.round_counts)
    return {
        "kind": "rounds",
        "title": wording.one_line(block.name, LONGEST_NAME),
        "remarks": _block_remarks(block, speech),
        "rounds": [str(number) for number in range(1, block.rounds + 1)],
        "rows": [_row(row, speech, _before(block) if block.parallel else ()) for row in rows],
        "further": further if block.open_ended and block.round_counts else "",
    }


def _block_remarks(block: WorkBlock, speech: Speech) -> list[str]:
    words = speech.words
    said = []
    if block.open_ended and block.round_counts:
        said.append(words.gettext("round after round until time is up"))
    elif block.rounds > 1:
        said.append(words.gettext("{count} rounds").format(count=block.rounds))
    if block.every_s:
        every = wording.stopwatch(block.every_s)
        said.append(words.gettext("a round every {time}").format(time=every))
    if block.parallel:
        said.append(
            words.gettext(
                "side by side: each line counts for itself; add them to the {done} before"
            ).format(done=_before(block)[0])
            if block.rounds == 1
            else words.gettext(
                "side by side: each line counts for itself; add them to {counts} a full round"
            ).format(counts=block.round_counts)
        )
    return said


def _before(block: WorkBlock) -> tuple[int, ...]:
    """Return the running total before each round of a block."""
    rounds = range(len(block.rows[0].totals))
    return tuple(min(row.totals[at] - row.counts[at] for row in block.rows) for at in rounds)


def _row(row: WorkRow, speech: Speech, before: tuple[int, ...]) -> Payload:
    """Return one line; beside others (`before` is given) its totals leave those out."""
    totals = (
        [f"+{total - start}" for total, start in zip(row.totals, before, strict=True)]
        if before
        else [str(total) for total in row.totals]
    )
    rounds = range(len(row.totals))
    amounts = [work_wording.amount(row, index, speech) for index in rounds]
    same = len(set(amounts)) == 1
    return {
        "amount": amounts[0] if same else "",
        "amounts": [] if same else amounts,
        "movement": work_wording.movement_name(row.task, speech),
        "settings": list(work_wording.settings(row, speech)),
        "reminders": wording.joined_by_dots(work_wording.reminders(row, speech)),
        "reasons": wording.joined_by_dots(work_wording.no_rep_reasons(row, speech)),
        "totals": totals if any(row.counts) else [],
        "split": row.split,
    }


def _lift(task: Task, speech: Speech) -> Payload:
    name = work_wording.movement_name(task, speech)
    doer = wording.who(task.who, speech.categories, speech.words)
    tries = task.tries or _OPEN_TRIES
    return {
        "name": name,
        "who": doer if task.who.kind != "anyone" else "",
        "tries": [str(number) for number in range(1, tries + 1)],
        "unit": speech.first,
    }


def _fields(work: PartWork, speech: Speech) -> list[Payload]:
    words, part = speech.words, work.part
    fields = {"time": _time_fields, "work": _work_fields}
    if part.kind in fields:
        listed = fields[part.kind](work, speech)
    elif part.kind == "distance":
        listed = [_number(words.gettext("Distance"), words.gettext("m"))]
    else:
        best = words.gettext("Best good lifts, added up")
        single = words.gettext("Best good lift")
        listed = [_number(best if len(work.lifts) > 1 else single, speech.first)]
    return [*listed, *_split_field(work, speech)]


def _time_fields(work: PartWork, speech: Speech) -> list[Payload]:
    words = speech.words
    capped = words.gettext("Not finished: total done at {time}").format(
        time=wording.stopwatch(work.part.cap_s)
    )
    of_all = words.gettext("of {total}").format(total=work.total) if work.total else ""
    return [
        _time(words.gettext("Finish time"), work.part.resolution_ms),
        _number(capped, of_all),
    ]


def _work_fields(work: PartWork, speech: Speech) -> list[Payload]:
    words = speech.words
    total = _number(words.gettext("Total done"), "")
    in_rounds: Payload = {"kind": "rounds", "label": words.gettext("The same in rounds")}
    return [total, in_rounds] if work.in_rounds else [total]


def _split_field(work: PartWork, speech: Speech) -> list[Payload]:
    words = speech.words
    if work.split_each_round:
        label = words.gettext("Split: end of the last full round")
        return [_time(label, work.part.resolution_ms)]
    after = work.part.tiebreak.after if work.part.tiebreak is not None else ""
    for block in work.blocks:
        for row in block.rows:
            if row.split:
                movement = work_wording.movement_name(row.task, speech)
                named = (
                    wording.one_line(block.name, LONGEST_NAME)
                    if block.id == after and block.name
                    else movement
                )
                label = words.gettext("Split: end of {work}").format(work=named)
                return [_time(label, work.part.resolution_ms)]
    return []


def _time(label: str, resolution_ms: int) -> Payload:
    after_point = next(digits for digits in (0, 1, 2, 3) if resolution_ms * 10**digits % 1000 == 0)
    return {"kind": "time", "label": label, "digits": after_point}


def _number(label: str, after: str) -> Payload:
    return {"kind": "number", "label": label, "after": after}
