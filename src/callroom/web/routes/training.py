"""The self-check: questions from the standards, the result kept for the device that took it."""

import secrets
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromQuery

from callroom.actions import day
from callroom.model import Training
from callroom.standards import library_with
from callroom.views.guide import guide
from callroom.views.training import Question, SelfCheck, self_check
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, new_key
from callroom.web.pages import Page
from callroom.web.routes.guide import audience_of
from callroom.web.visitor import Visitor

MOST_SEED = 999_999


class Marked(msgspec.Struct, frozen=True, kw_only=True):
    """A question with the place of the choice that was taken; None: not answered."""

    question: Question
    taken: int | None


class TrainingPage(Page, frozen=True, kw_only=True):
    """``/training``: how it works (no `check`), the questions, or how they were answered.

    `marked` is empty until they are; `last` is what this device did before. `person` is the
    number of the volunteer who takes it (empty: not said), `wrong` one that nobody has.
    """

    template: ClassVar[str] = "training.html"
    seed: int
    check: SelfCheck | None
    marked: tuple[Marked, ...]
    right: int
    last: Training | None
    kept: bool
    person: str
    wrong: str
    key: str


@get("/training")
async def show_training(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    seed: FromQuery[str] = "",
    person: FromQuery[str] = "",
) -> Response[str]:
    """Say what the self-check is; with a `seed`, ask its questions of `person`."""
    kept = visitor.may("training.taken")
    known = _volunteer(house, person) if kept else ""
    wrong = person.strip()[:40] if kept and not known else ""
    number = _seed(seed) if seed and not wrong else None
    page = TrainingPage(
        seed=secrets.randbelow(MOST_SEED) + 1 if number is None else number,
        check=None if number is None else _check(house, visitor, number),
        marked=(),
        right=0,
        last=_last(house, visitor),
        kept=kept,
        person=known,
        wrong=wrong,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/training", status_code=200)
async def take_training(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Mark the answers, and keep the result of a device that holds a role."""
    seed = _seed(form.text("seed"))
    check = _check(house, visitor, seed)
    answers = _answers(form, len(check.questions))
    right, asked = check.right(answers), len(check.questions)
    kept = visitor.may("training.taken")
    person = _volunteer(house, form.text("person")) if kept else ""
    if visitor.actor is not None and kept:
        report = day.report_training(check.movements, right, asked, person)
        await house.book.ask(visitor.actor, report, key=form.text("key") or new_key())
    page = TrainingPage(
        seed=secrets.randbelow(MOST_SEED) + 1,
        check=check,
        marked=tuple(
            Marked(question=question, taken=answers.get(index))
            for index, question in enumerate(check.questions)
        ),
        right=right,
        last=_last(house, visitor),
        kept=kept,
        person=person,
        wrong="",
        key=new_key(),
    )
    return house.show(request, visitor, page)


def _volunteer(house: House, number: str) -> str:
    """Return whose number it is, as the crew list has it; empty if it is nobody's."""
    wanted = number.strip().upper()
    return next((one for one in house.state.crew if one.upper() == wanted), "")


def _check(house: House, visitor: Visitor, seed: int) -> SelfCheck:
    state = house.state
    view = guide(state, audience_of(house, visitor)) if state.event is not None else None
    library = library_with(state.event.movements if state.event is not None else ())
    return self_check(view, seed, house.voice(state).speech, library)


def _seed(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 0 < int(text[:9]) <= MOST_SEED):
        raise Unreadable("web.unreadable", given=text[:80])
    return int(text)


def _answers(form: Posted, count: int) -> dict[int, int]:
    found = ((index, form.whole(f"q{index}")) for index in range(count))
    return {index: choice for index, choice in found if choice is not None}


def _last(house: House, visitor: Visitor) -> Training | None:
    return house.state.trainings.get(visitor.actor.device) if visitor.actor is not None else None


HANDLERS = (show_training, take_training)
