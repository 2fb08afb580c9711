"""The budget: planned, edited, and drawn. The director's only."""

from typing import Any

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions import money as ask_money
from callroom.actions.money_start import starter_budget
from callroom.model import BadInput, Finding, Refusal
from callroom.model.words import N_
from callroom.views.money import money_view
from callroom.views.money_picture import course
from callroom.web.errors import findings_of
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.money.budget_form import BudgetForm, budget_form, posted_budget, read_budget
from callroom.web.money.pages import BudgetPage
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

_SAVED = N_("Saved.")
_STARTED = N_(
    "A start: nothing is saved yet. Fill in what you know, leave out what you do not have."
)


@get("/director/money/budget")
async def show_budget(
    request: Asked, house: InHouse, visitor: ByVisitor, done: FromQuery[str] = ""
) -> Response[str]:
    """The budget, or a start for one."""
    need_director(visitor)
    event = need_event(house.state)
    budget = house.state.budget
    said = house.words.gettext
    if budget is None:
        start = starter_budget(event, said)
        told = Told(text=said(_STARTED))
        return _page(request, house, visitor, budget_form(start, event), told=told)
    told_saved = Told(text=said(_SAVED)) if done else None
    return _page(request, house, visitor, budget_form(budget, event), told=told_saved)


@post("/director/money/budget", status_code=200)
async def save_budget(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Save the budget, or show it again with everything that is wrong with it."""
    need_director(visitor)
    event = need_event(house.state)
    typed = posted_budget(form)
    read = read_budget(typed, event)
    if read.faults:
        return _page(request, house, visitor, typed, faults=read.faults)
    try:
        if visitor.actor is not None:
            asked = ask_money.set_budget(read.budget, seen=form.whole("seen"))
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        return _page(request, house, visitor, typed, faults=findings_of(fault))
    return Redirect("/director/money/budget?done=yes", status_code=303)


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: BudgetForm,
    *,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> Response[str]:
    view = money_view(house.state) if house.state.budget is not None else None
    page = BudgetPage(
        form=form,
        divisions={one.id: one.name for one in need_event(house.state).divisions},
        money=view,
        course=course(view) if view is not None else None,
        seen=house.state.subjects.get("budget", 0),
        faults=faults,
        told=told,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if faults else 200)


HANDLERS = (show_budget, save_budget)
