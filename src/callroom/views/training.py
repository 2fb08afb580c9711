"""A judge's self-check: questions made from the standards, the same for the same seed."""

import functools
import random
from collections.abc import Mapping
from typing import Literal

import msgspec
from msgspec.structs import replace

from callroom.model.movement import Figure, Movement
from callroom.standards import Fault, Library, Pose, built_in, faults, figure_svg
from callroom.views import guide_rules
from callroom.views.guide import Guide, Standard, standard
from callroom.views.work_wording import Speech

QuestionKind = Literal["which", "missing", "cost", "place"]

MOST_QUESTIONS = 8
_MOST_CHOICES = 4


class Choice(msgspec.Struct, frozen=True, kw_only=True):
    """Something to choose: a text, and where it is a drawing, its picture."""

    text: str
    svg: str = ""


class Question(msgspec.Struct, frozen=True, kw_only=True):
    """One question about a movement.

    `right` is the place of the right one among the `choices`, `because` what to remember.
    A drawing the question is about is in `svg`.
    """

    kind: QuestionKind
    movement: str
    name: str
    asks: str
    choices: tuple[Choice, ...]
    right: int
    because: str
    svg: str = ""


class SelfCheck(msgspec.Struct, frozen=True, kw_only=True):
    """The questions of a seed; the same seed and standards give the same questions."""

    seed: int
    questions: tuple[Question, ...]

    @property
    def movements(self) -> tuple[str, ...]:
        """The ids of the movements asked about."""
        return tuple(dict.fromkeys(question.movement for question in self.questions))

    def right(self, answers: Mapping[int, int]) -> int:
        """Return how many of the `answers`, choices by the place of their question, are right."""
        marked = (
            answers.get(index) == question.right for index, question in enumerate(self.questions)
        )
        return sum(marked)


def self_check(
    view: Guide | None, seed: int, speech: Speech, library: Library | None = None
) -> SelfCheck:
    """Return the questions of `seed` about the standards of `view`.

    Without any standard in it, all movements of the `library` are asked about.
    """
    library = built_in() if library is None else library
    chance = random.Random(seed)  # noqa: S311 - questions, not secrets
    known = view.standards if view is not None else ()
    standards = list(known or (standard(one, library) for one in library.movements.values()))
    chance.shuffle(standards)
    maker = _Maker(chance, library, speech, tuple(standards))
    return SelfCheck(seed=seed, questions=maker.questions(standards))


class _Maker:
    """Makes questions with one source of chance."""

    def __init__(
        self, chance: random.Random, library: Library, speech: Speech, all_: tuple[Standard, ...]
    ) -> None:
        self._chance = chance
        self._library = library
        self._speech = speech
        self._all = all_

    def questions(self, standards: list[Standard]) -> tuple[Question, ...]:
        """Ask about as many movements as there is room for, then about each once more."""
        made: list[Question] = []
        for turn in range(len(_ORDER)):
            for place, one in enumerate(standards):
                kind = _ORDER[(place + turn) % len(_ORDER)]
                question = self._question(one, kind)
                if question is not None:
                    made.append(question)
                if len(made) == MOST_QUESTIONS:
                    return tuple(made)
        return tuple(made)

    def _question(self, one: Standard, kind: QuestionKind) -> Question | None:
        makers = {
            "which": self._which,
            "missing": self._missing,
            "cost": self._cost,
            "place": self._place,
        }
        return makers[kind](one)

    def _which(self, one: Standard) -> Question | None:
        wrong = self._faults(one)
        if not wrong:
            return None
        first = self._chance.choice(wrong)
        stage = first.figure.stage
        others = [fault for fault in wrong if fault.figure.stage == stage and fault is not first]
        shown = [first, *others[:1]]
        words = self._speech.words
        figure = one.movement.figure(stage)
        drawn = [(self._drawn(figure, self._library.poses), "")]
        drawn += [
            (self._drawn(fault.figure, {fault.pose.id: fault.pose}), fault.point.says)
            for fault in shown
        ]
        self._chance.shuffle(drawn)
        right = next(place for place, (_, lacks) in enumerate(drawn) if not lacks)
        letters = "ABC"
        because = " ".join(
            words.gettext("In {letter} this is missing: {point}").format(
                letter=letters[place], point=lacks
            )
            for place, (_, lacks) in enumerate(drawn)
            if lacks
        )
        asks = words.gettext("{stage}: which drawing meets the standard?")
        return Question(
            kind="which",
            movement=one.movement.id,
            name=one.movement.name,
            asks=asks.format(stage=guide_rules.stage(stage, words)),
            choices=tuple(
                Choice(text=letters[place], svg=svg) for place, (svg, _) in enumerate(drawn)
            ),
            right=right,
            because=because,
        )

    def _missing(self, one: Standard) -> Question | None:
        wrong = self._faults(one)
        if not wrong:
            return None
        fault = self._chance.choice(wrong)
        stage, words = fault.figure.stage, self._speech.words
        # Of the same moment only what is measured, and so known to be met in the drawing.
        other = dict.fromkeys(
            point.says
            for point in one.points
            if point.says != fault.point.says
            and (point.measures if point.at == stage else point.at != "throughout")
        )
        if not other:
            return None
        chosen = self._some(list(other))
        told = words.gettext("{stage}: this does not count. What is missing?")
        return self._asked(
            one,
            "missing",
            asks=told.format(stage=guide_rules.stage(stage, words)),
            right=fault.point.says,
            wrong=chosen,
            because=fault.point.says,
            svg=self._drawn(fault.figure, {fault.pose.id: fault.pose}),
        )

    def _cost(self, one: Standard) -> Question | None:
        reason = self._chance.choice(one.no_reps)
        words = self._speech.words
        costs = {cost: guide_rules.cost(cost, words) for cost in guide_rules.COSTS}
        right = costs.pop(reason.cost)
        return self._asked(
            one,
            "cost",
            asks=words.gettext("{fault} What does it cost?").format(fault=reason.says),
            right=right,
            wrong=list(costs.values()),
            because=right,
        )

    def _place(self, one: Standard) -> Question | None:
        right = _place_of(one.movement)
        others = self._all if len(self._all) > 1 else tuple(
            standard(movement, self._library) for movement in self._library.movements.values()
        )  # fmt: skip
        # Relatives are judged alike; only from another family is a place surely wrong.
        wrong = dict.fromkeys(
            _place_of(other.movement)
            for other in others
            if other.movement.family != one.movement.family
        )
        if not wrong:
            return None
        return self._asked(
            one,
            "place",
            asks=self._speech.words.gettext("Where do you stand, and what do you watch?"),
            right=right,
            wrong=self._some([text for text in wrong if text != right]),
            because=right,
        )

    def _asked(
        self,
        one: Standard,
        kind: QuestionKind,
        *,
        asks: str,
        right: str,
        wrong: list[str],
        because: str,
        svg: str = "",
    ) -> Question:
        texts = [right, *wrong]
        self._chance.shuffle(texts)
        return Question(
            kind=kind,
            movement=one.movement.id,
            name=one.movement.name,
            asks=asks,
            choices=tuple(Choice(text=text) for text in texts),
            right=texts.index(right),
            because=because,
            svg=svg,
        )

    def _some(self, texts: list[str]) -> list[str]:
        return self._chance.sample(texts, min(len(texts), _MOST_CHOICES - 1))

    def _faults(self, one: Standard) -> tuple[Fault, ...]:
        poses = tuple(self._library.poses[figure.pose] for figure in one.movement.figures)
        return _faults(replace(one.movement, points=one.points), poses)

    def _drawn(self, figure: Figure, poses: Mapping[str, Pose]) -> str:
        # Its title must not tell whether it is the right one.
        return figure_svg(figure, poses, title=self._speech.words.gettext("A drawn athlete"))


_ORDER: tuple[QuestionKind, ...] = ("which", "missing", "cost", "place")


def _place_of(movement: Movement) -> str:
    return f"{movement.judge.stands} {movement.judge.watches}"


@functools.lru_cache(maxsize=256)
def _faults(movement: Movement, poses: tuple[Pose, ...]) -> tuple[Fault, ...]:
    return faults(movement, {pose.id: pose for pose in poses})
