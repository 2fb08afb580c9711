"""The guide as texts ready to be read, the same for a page and for paper."""

from gettext import NullTranslations

import msgspec

from callroom.model import Task
from callroom.model.movement import THROUGHOUT, Movement, Stage
from callroom.views import guide_rules, wording, work_wording
from callroom.views.day_wording import day_name
from callroom.views.guide import Guide, GuidePart, GuideWorkout, Scheme, SettingRow, Standard
from callroom.views.page_head import PageHead
from callroom.views.work import WorkBlock, WorkRow
from callroom.views.work_wording import Speech

# Rounds that are listed side by side; of more, the first ones and the last.
_MOST_ROUNDS, _FIRST_OPEN = 8, 3
_LONGEST_NAME, _LONGEST_TEXT = 60, 600


def _name(name: str) -> str:
    return wording.one_line(name, _LONGEST_NAME)


class RowText(msgspec.Struct, frozen=True, kw_only=True):
    """A task: what to do in each listed round, and the running total after it.

    `same` is the amount of every round, or empty where rounds differ and `amounts` has one
    for each. `movement_id` is empty where no standard is written.
    """

    movement: str
    movement_id: str
    same: str
    amounts: tuple[str, ...]
    totals: tuple[str, ...]
    reminders: tuple[str, ...]
    split: bool


class BlockText(msgspec.Struct, frozen=True, kw_only=True):
    """A block: its rounds as heads of columns, with an ellipsis where some are left out."""

    name: str
    remarks: tuple[str, ...]
    rounds: tuple[str, ...]
    rows: tuple[RowText, ...]
    further: str


class SchemeText(msgspec.Struct, frozen=True, kw_only=True):
    """The work of some divisions; `divisions` is empty where all do the same."""

    divisions: str
    total: str
    blocks: tuple[BlockText, ...]


class SettingText(msgspec.Struct, frozen=True, kw_only=True):
    """A task's loads and heights, a cell for each division, each line one category's."""

    movement: str
    movement_id: str
    cells: tuple[tuple[str, ...], ...]


class PartText(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part; `name` is empty where it is the only one."""

    name: str
    goal: str
    schemes: tuple[SchemeText, ...]
    settings: tuple[SettingText, ...]
    rules: tuple[str, ...]
    judging: tuple[str, ...]


class WorkoutText(msgspec.Struct, frozen=True, kw_only=True):
    """A workout; before its release only its number, and when it is `released`.

    `standards` names, by their places in the guide, those it needs.
    """

    id: str
    number: int
    name: str
    released: str
    text: str
    floor: str
    judges: str
    parts: tuple[PartText, ...]
    standards: tuple[int, ...]
    unwritten: tuple[str, ...]


class PointText(msgspec.Struct, frozen=True, kw_only=True):
    """What must be true, and when; start and finish begin with the position as a whole."""

    when: str
    says: str


class NoRepText(msgspec.Struct, frozen=True, kw_only=True):
    """A no-rep: the button's label, the sentence, and what it costs."""

    label: str
    says: str
    cost: str


class VariationText(msgspec.Struct, frozen=True, kw_only=True):
    """Another way of doing it, and whether it may be used here."""

    name: str
    says: str
    allowed: bool


class FigureText(msgspec.Struct, frozen=True, kw_only=True):
    """A drawn position; `svg` is a picture of our own making."""

    when: str
    caption: str
    svg: str


class UseText(msgspec.Struct, frozen=True, kw_only=True):
    """Where the movement is asked for, and what is asked beyond its standard."""

    workout: str
    name: str
    asks: tuple[str, ...]


class StandardText(msgspec.Struct, frozen=True, kw_only=True):
    """A movement standard, in the order in which it is read.

    `variation` tells it from others of the same movement: by what it allows, and for whom.
    """

    id: str
    name: str
    variation: str
    points: tuple[PointText, ...]
    no_reps: tuple[NoRepText, ...]
    variations: tuple[VariationText, ...]
    figures: tuple[FigureText, ...]
    stands: str
    watches: str
    counts: tuple[str, ...]
    together: tuple[str, ...]
    cautions: tuple[str, ...]
    uses: tuple[UseText, ...]


class GuideText(msgspec.Struct, frozen=True, kw_only=True):
    """The whole guide; `divisions` are the heads of the columns of loads."""

    divisions: tuple[str, ...]
    workouts: tuple[WorkoutText, ...]
    standards: tuple[StandardText, ...]


def guide_text(view: Guide, speech: Speech) -> GuideText:
    """Return the guide in words."""
    return GuideText(
        divisions=tuple(_name(name) for name in view.divisions),
        workouts=tuple(workout_text(view, one, speech) for one in view.workouts),
        standards=tuple(standard_text(one, speech) for one in view.standards),
    )


def workout_text(view: Guide, workout: GuideWorkout, speech: Speech) -> WorkoutText:
    """Return one workout of `view` in words."""
    words, title = speech.words, workout.title
    judges = words.ngettext("{count} judge to a lane", "{count} judges to a lane",
                            workout.judges_per_lane)  # fmt: skip
    unnamed = words.gettext("Workout {number}").format(number=title.number)
    several = len(workout.parts) > 1
    return WorkoutText(
        id=title.id,
        number=title.number,
        name=_name(title.name) or unnamed,
        released=_released(title.release_s, view.head, words) if not title.name else "",
        text=wording.one_line(workout.text, _LONGEST_TEXT),
        floor=_name(workout.floor),
        judges=judges.format(count=workout.judges_per_lane) if workout.parts else "",
        parts=tuple(_part(part, view, speech, several=several) for part in workout.parts),
        standards=workout.standards,
        unwritten=tuple(wording.movement(one, speech.catalogue) for one in workout.unwritten),
    )


def _released(release_s: int | None, head: PageHead, words: NullTranslations) -> str:
    if release_s is None:
        return ""
    time = wording.clock(head.instant(release_s), head.zone)
    at = f"{day_name(head.days, release_s)} {time}".strip()
    return words.gettext("The work is told at {time}.").format(time=at)


def _part(part: GuidePart, view: Guide, speech: Speech, *, several: bool) -> PartText:
    name = speech.words.gettext("Part {name}").format(
        name=_name(part.part.name) or part.part.id.upper()
    )
    fullest = max(part.schemes, key=lambda one: sum(len(block.rows) for block in one.work.blocks))
    return PartText(
        name=name if several else "",
        goal=wording.goal(part.part, speech.words),
        schemes=tuple(_scheme(one, view, speech) for one in part.schemes if one.work.blocks),
        settings=tuple(_setting(row, speech) for row in part.settings),
        rules=guide_rules.for_athletes(part.part, fullest.work, speech),
        judging=guide_rules.for_judges(part.part, fullest.work, speech),
    )


def _scheme(scheme: Scheme, view: Guide, speech: Speech) -> SchemeText:
    words, total = speech.words, scheme.work.total
    for_all = set(scheme.divisions) == set(view.divisions)
    return SchemeText(
        divisions="" if for_all else wording.joined(map(_name, scheme.divisions), words),
        total=words.gettext("{count} counts in all").format(count=total) if total else "",
        blocks=tuple(_block(block, speech) for block in scheme.work.blocks if block.rows),
    )


def _block(block: WorkBlock, speech: Speech) -> BlockText:
    words = speech.words
    listed = _listed(block)
    heads = [str(index + 1) if index is not None else "…" for index in listed]
    further = words.gettext("Every further round adds {counts}.").format(counts=block.round_counts)
    return BlockText(
        name=_name(block.name),
        remarks=_block_remarks(block, words),
        rounds=tuple(heads) if len(heads) > 1 else (),
        rows=tuple(_row(row, listed, speech) for row in block.rows),
        further=further if block.open_ended and block.round_counts else "",
    )


def _listed(block: WorkBlock) -> tuple[int | None, ...]:
    """Return which rounds are shown, None for those left out."""
    if block.open_ended:
        return tuple(range(_FIRST_OPEN)) if block.round_counts else (0,)
    if block.rounds <= _MOST_ROUNDS:
        return tuple(range(block.rounds))
    return (*range(_MOST_ROUNDS - 2), None, block.rounds - 1)


def _block_remarks(block: WorkBlock, words: NullTranslations) -> tuple[str, ...]:
    said = []
    if block.open_ended and block.round_counts:
        said.append(words.gettext("Round after round until time is up."))
    elif block.rounds > 1:
        rounds = words.ngettext("{count} round.", "{count} rounds.", block.rounds)
        said.append(rounds.format(count=block.rounds))
    if block.every_s:
        every = words.gettext("A round starts every {time}.")
        said.append(every.format(time=wording.stopwatch(block.every_s)))
    if block.parallel:
        said.append(words.gettext("Side by side: each line counts its own side only."))
    return tuple(said)


def _row(row: WorkRow, listed: tuple[int | None, ...], speech: Speech) -> RowText:
    amounts = tuple(
        work_wording.amount(row, index, speech) if index is not None else "…" for index in listed
    )
    said = {amount for amount in amounts if amount != "…"}
    same = len(said) == 1
    return RowText(
        movement=work_wording.movement_name(row.task, speech),
        movement_id=_written(row.task, speech),
        same=amounts[0] if same else "",
        amounts=() if same else amounts,
        totals=tuple(str(row.totals[index]) if index is not None else "…" for index in listed)
        if any(row.counts)
        else (),
        reminders=work_wording.reminders(row, speech),
        split=row.split,
    )


def _written(task: Task, speech: Speech) -> str:
    return task.movement if task.movement in speech.catalogue else ""


def _setting(row: SettingRow, speech: Speech) -> SettingText:
    return SettingText(
        movement=work_wording.movement_name(row.task, speech),
        movement_id=_written(row.task, speech),
        cells=tuple(
            (
                *work_wording.published(cell.loads, cell.heights, speech),
                *work_wording.variations(row.task, cell.variations, speech),
            )
            for cell in row.cells
        ),
    )


def standard_text(view: Standard, speech: Speech) -> StandardText:
    """Return one standard in words."""
    words, movement = speech.words, view.movement
    lifted = bool(view.uses) and all(use.task.unit == "lift" for use in view.uses)
    return StandardText(
        id=movement.id,
        name=movement.name,
        variation=_told_apart(view, words),
        points=tuple(
            PointText(when=guide_rules.stage(at, words), says=says) for at, says in _points(view)
        ),
        no_reps=tuple(
            NoRepText(
                label=one.label,
                says=one.says,
                cost=guide_rules.cost(one.cost, words, lifted=lifted),
            )
            for one in view.no_reps
        ),
        variations=tuple(
            VariationText(name=one.name, says=one.says, allowed=one.id in view.allowed)
            for one in movement.variations
        ),
        figures=tuple(
            FigureText(when=guide_rules.stage(one.stage, words), caption=one.caption, svg=svg)
            for one, svg in zip(movement.figures, view.svgs, strict=True)
        ),
        stands=movement.judge.stands,
        watches=movement.judge.watches,
        counts=_counts(movement, view),
        together=movement.together if _in_step(view) else (),
        cautions=movement.cautions,
        uses=_uses(view, words),
    )


def _told_apart(view: Standard, words: NullTranslations) -> str:
    allowed = wording.joined((one.name for one in view.chosen), words)
    return wording.joined_by_dots((allowed, wording.joined(map(_name, view.divisions), words)))


def _points(view: Standard) -> list[tuple[Stage, str]]:
    """Return what must be true in the order in which it happens."""
    movement = view.movement
    told = [
        ("start", movement.start),
        ("finish", movement.finish),
        *((point.at, point.says) for point in view.points),
    ]
    stages = ["start", *(figure.stage for figure in movement.figures), "finish", THROUGHOUT]
    order = {at: place for place, at in enumerate(stages)}
    return sorted(told, key=lambda one: order[one[0]])


def _counts(movement: Movement, view: Standard) -> tuple[str, ...]:
    """Return how it is counted in the units it is asked for in; in all units if in none."""
    asked = {"reps" if use.task.unit == "lift" else use.task.unit for use in view.uses}
    fitting = [one.counts for one in movement.counting if one.unit in asked]
    return tuple(fitting or [one.counts for one in movement.counting])


def _in_step(view: Standard) -> bool:
    return not view.uses or any(use.task.sharing == "together" for use in view.uses)


def _uses(view: Standard, words: NullTranslations) -> tuple[UseText, ...]:
    asks: dict[str, list[str]] = {}
    names: dict[str, str] = {}
    for use in view.uses:
        names[use.workout.id] = _name(use.workout.name)
        listed = asks.setdefault(use.workout.id, [])
        own = use.task.movement == view.movement.id
        said = (
            wording.one_line(use.task.tighten, _LONGEST_TEXT)
            if own
            else words.gettext("Held while a partner works.")
        )
        label = use.task.tighten_no_rep if own else ""
        if label:
            said = words.gettext("{asks} No-rep: “{label}”.").format(asks=said, label=label)
        if said and said not in listed:
            listed.append(said.strip())
    return tuple(
        UseText(workout=name, name=names[name], asks=tuple(said)) for name, said in asks.items()
    )
