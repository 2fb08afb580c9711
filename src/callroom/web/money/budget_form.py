"""The form of the budget: its fields as texts, from a budget or as posted, and read back."""

import re
from collections.abc import Iterator, Mapping
from typing import Any, get_args

import msgspec

from callroom.model import CallroomError, Event, Fact, Finding
from callroom.model.currency import exact_amount, read_amount
from callroom.model.money import (
    Budget,
    BudgetLine,
    Country,
    LineSort,
    Place,
    PlaceSort,
    Scenario,
    TeamsOf,
)
from callroom.web.forms.posted import Posted

SPARE = 3
"""Empty rows at the end of each list, to add to it."""

MOST_ROWS = 200
_AMOUNTS = ("fixed", "per_team", "per_head", "benefit")
_NOT_IN_IDS = re.compile(r"[^a-z0-9]+")


class Row(msgspec.Struct, frozen=True):
    """One row of a list: its number in the form, and its texts by field."""

    number: int
    texts: Mapping[str, str]

    def text(self, field: str) -> str:
        """Return a field, empty if it was not given."""
        return self.texts.get(field, "")


class BudgetForm(msgspec.Struct, frozen=True, kw_only=True):
    """The fields of a budget as texts; `texts` are those that stand alone."""

    texts: Mapping[str, str]
    lines: tuple[Row, ...]
    places: tuple[Row, ...]
    scenarios: tuple[Row, ...]

    def text(self, field: str) -> str:
        """Return a field that stands alone, empty if it was not given."""
        return self.texts.get(field, "")


class Read(msgspec.Struct, frozen=True, kw_only=True):
    """The budget as read, and every fault of what was typed; with one it is not to be used."""

    budget: Budget
    faults: tuple[Finding, ...]


def budget_form(budget: Budget, event: Event) -> BudgetForm:
    """Return the form of a budget, with spare rows."""

    def said(minor: int) -> str:
        return str(exact_amount(minor, event.currency)) if minor else ""

    lines = [
        {
            **{
                name: str(getattr(line, name))
                for name in ("id", "name", "side", "sort", "division")
            },
            **{name: said(getattr(line, name)) for name in _AMOUNTS},
        }
        for line in budget.lines
    ]
    places = [{"id": one.id, "name": one.name, "sort": one.sort} for one in budget.places]
    scenarios = [
        {
            "id": one.id,
            "name": one.name,
            "income": str(one.income_percent),
            "cost": str(one.cost_percent),
            **{f"teams_{two.division}": str(two.count) for two in one.teams},
        }
        for one in budget.scenarios
    ]
    return BudgetForm(
        texts={
            "goal": said(budget.goal),
            "figure": budget.figure,
            "on_screen": "yes" if budget.on_screen else "",
            "country": budget.country,
            "charity": budget.charity,
        },
        lines=_rows([*lines, *({} for _ in range(SPARE))]),
        places=_rows([*places, {}]),
        scenarios=_rows(scenarios),
    )


def posted_budget(form: Posted) -> BudgetForm:
    """Return the form as it was posted, to be read or shown again."""
    lone = ("goal", "figure", "on_screen", "country", "charity")
    return BudgetForm(
        texts={name: form.text(name) for name in lone},
        lines=_posted_rows(form, "line"),
        places=_posted_rows(form, "place"),
        scenarios=_posted_rows(form, "scenario"),
    )


def read_budget(form: BudgetForm, event: Event) -> Read:
    """Return the budget that a form means; a row without a name is left out."""
    reading = _Reading(event)
    lines = tuple(reading.line(row) for row in form.lines if row.text("name"))
    places = tuple(reading.place(row) for row in form.places if row.text("name"))
    scenarios = tuple(reading.scenario(row) for row in form.scenarios if row.text("name"))
    countries: tuple[Country, ...] = get_args(Country)
    budget = Budget(
        lines=lines,
        places=places,
        scenarios=scenarios,
        goal=reading.amount(form.text("goal")),
        figure="after_costs" if form.text("figure") == "after_costs" else "in",
        on_screen=bool(form.text("on_screen")),
        country=next((one for one in countries if one == form.text("country")), ""),
        charity=form.text("charity")[:200],
    )
    return Read(budget=budget, faults=tuple(reading.faults))


class _Reading:
    """Reads rows, giving new ones an id of their own and keeping every fault."""

    def __init__(self, event: Event) -> None:
        self._event = event
        self._ids: set[str] = set()
        self.faults: list[Finding] = []

    def line(self, row: Row) -> BudgetLine:
        sorts: tuple[LineSort, ...] = get_args(LineSort)
        amounts: dict[str, Any] = {name: self.amount(row.text(name)) for name in _AMOUNTS}
        return BudgetLine(
            id=self._id(row),
            name=row.text("name")[:80],
            side="cost" if row.text("side") == "cost" else "income",
            sort=next((one for one in sorts if one == row.text("sort")), "other"),
            division=row.text("division"),
            **amounts,
        )

    def place(self, row: Row) -> Place:
        sorts: tuple[PlaceSort, ...] = get_args(PlaceSort)
        return Place(
            id=self._id(row),
            name=row.text("name")[:80],
            sort=next((one for one in sorts if one == row.text("sort")), "cash"),
        )

    def scenario(self, row: Row) -> Scenario:
        return Scenario(
            id=self._id(row),
            name=row.text("name")[:80],
            teams=tuple(
                TeamsOf(division=one.id, count=self._whole(row.text(f"teams_{one.id}"), 100_000))
                for one in self._event.divisions
            ),
            income_percent=self._whole(row.text("income"), 1000, 100),
            cost_percent=self._whole(row.text("cost"), 1000, 100),
        )

    def amount(self, text: str) -> int:
        """Return an amount; nothing typed is nought."""
        if not text:
            return 0
        try:
            return read_amount(text, self._event.currency)
        except CallroomError as fault:
            self.faults.append(fault.finding())
            return 0

    def _whole(self, text: str, most: int, usual: int = 0) -> int:
        if not text:
            return usual
        if text.isascii() and text.isdigit() and len(text) < 8 and int(text) <= most:
            return int(text)
        facts: dict[str, Fact] = {"given": text[:40], "most": most}
        self.faults.append(
            Finding(rule="money.no_whole", severity="error", subject="budget", facts=facts)
        )
        return usual

    def _id(self, row: Row) -> str:
        """Return the row's id, or a new one made of its name."""
        given = row.text("id")
        plain = given or _NOT_IN_IDS.sub("_", row.text("name").casefold()).strip("_")[:30] or "line"
        found, number = plain, 1
        while found in self._ids and not given:
            number += 1
            found = f"{plain}_{number}"
        self._ids.add(found)
        return found


def _rows(texts: list[dict[str, str]]) -> tuple[Row, ...]:
    return tuple(Row(number, one) for number, one in enumerate(texts))


def _posted_rows(form: Posted, name: str) -> tuple[Row, ...]:
    return tuple(
        Row(number, {field: form.text(f"{name}-{number}-{field}") for field in fields})
        for number, fields in _fields_by_row(form, name)
    )


def _fields_by_row(form: Posted, name: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Find the rows of a list among the names of the posted fields, in order."""
    rows: dict[int, list[str]] = {}
    for key in form.texts:
        first, _, rest = key.partition("-")
        number, _, field = rest.partition("-")
        if first == name and field and number.isascii() and number.isdigit() and len(number) < 4:
            rows.setdefault(int(number), []).append(field)
    for row in sorted(rows)[:MOST_ROWS]:
        yield row, tuple(rows[row])
