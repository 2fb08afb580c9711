"""What a list means, as the form of its columns says it."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

import msgspec

from callroom.bootstrap.list_loading import (
    Column,
    ListKind,
    Meaning,
    Sent,
    columns_of,
    meant_anew,
    of_each_athlete,
    value_key,
)
from callroom.model import Event
from callroom.model.words import N_
from callroom.web.forms.posted import Posted

MOST_ATHLETES = 9
MOST_VALUES = 200

NAMES: Mapping[str, str] = MappingProxyType(
    {
        "team": N_("Team"),
        "division": N_("Division"),
        "athlete": N_("Name"),
        "first name": N_("First name"),
        "last name": N_("Last name"),
        "category": N_("Category"),
        "place": N_("Place in the line-up"),
        "reserve": N_("Reserve"),
        "entry rank": N_("Seed, 1 is best"),
        "gym": N_("Gym"),
        "say it": N_("How the name is said"),
        "e-mail": N_("E-mail"),
        "phone": N_("Phone"),
        "birth date": N_("Date of birth"),
        "emergency contact": N_("Emergency contact"),
        "guardian": N_("Guardian"),
        "shirt": N_("Shirt size"),
        "ask again": N_("May be asked again next year"),
        "name": N_("Name"),
        "posts": N_("What they can do"),
        "competes in": N_("Team they compete in"),
        "family in": N_("Teams with family in them"),
        "experienced": N_("Experienced"),
        "free from": N_("Free from"),
        "free until": N_("Free until"),
        "id": N_("Id"),
        "kind": N_("Kind"),
        "count": N_("How many"),
        "mass": N_("Mass, with its unit"),
        "floor": N_("Floor"),
        "lender": N_("Borrowed from"),
        "due back": N_("Due back"),
    }
)


class Choice(msgspec.Struct, frozen=True):
    """What a column can be: its value in the form, the label, and the athlete (0: of the row)."""

    value: str
    label: str
    athlete: int


def choices(kind: ListKind, say: Callable[[str], str]) -> Iterator[Choice]:
    """Give what a column of a list may be, in the order in which it is offered."""
    for name in columns_of(kind):
        yield Choice(chosen_value(Column(name)), say(NAMES[name]), 0)
    each = [name for name in columns_of(kind) if kind == "teams" and of_each_athlete(name)]
    for number in range(1, MOST_ATHLETES + 1):
        for name in each:
            label = say(N_("Athlete {number}: {what}")).format(number=number, what=say(NAMES[name]))
            yield Choice(chosen_value(Column(name, number)), label, number)


def chosen_value(column: Column) -> str:
    """Return a column as the form names it."""
    return f"{column.name}:{column.athlete}" if column.name else ""


def read_meaning(form: Posted, sent: Sent, event: Event) -> Meaning:
    """Return what the form says of the list; what it does not speak of stays as it was."""
    before = sent.meaning
    names = set(columns_of(before.kind))
    columns = []
    for at, column in enumerate(before.columns):
        name, _, number = form.text(f"column-{at}").partition(":")
        athlete = int(number) if number.isdigit() and int(number) <= MOST_ATHLETES else 0
        same = (name, athlete) == (column.name, column.athlete)
        known = Column(name, athlete) if name in names else Column()
        columns.append(column if same else known)
    values = dict(before.values)
    ids = {one.id for one in event.divisions} | {one.id for one in event.categories} | {""}
    for at in range(MOST_VALUES):
        of, _, value = form.text(f"value-{at}-of").partition("/")
        meant = form.text(f"value-{at}")
        if of and meant in ids:
            values[value_key(of, value)] = meant
    head = form.whole("head")
    changed = Meaning(
        kind=before.kind,
        sheet=form.text("sheet") if "sheet" in form.texts else before.sheet,
        head=before.head if head is None else head,
        columns=tuple(columns),
        values=values,
    )
    if changed.sheet == before.sheet and changed.head == before.head:
        return changed
    # Another sheet or another row of headings: what its columns are is guessed anew.
    return meant_anew(sent, changed.sheet, changed.head, event)
