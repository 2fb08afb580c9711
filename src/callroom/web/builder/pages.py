"""What the builder's templates are given."""

from collections.abc import Mapping
from typing import ClassVar, get_args

import msgspec
from markupsafe import Markup

from callroom.model import Category, Division, Event, Floor
from callroom.model.movement import Family
from callroom.standards import library_with
from callroom.views.timetable import WorkoutTitle
from callroom.web.builder.draft import Node
from callroom.web.pages import Page
from callroom.web.voice import Told


class MovementChoice(msgspec.Struct, frozen=True, kw_only=True):
    """The movements of one family, as ids and names."""

    family: Family
    movements: tuple[tuple[str, str], ...]


class BuilderListPage(Page, frozen=True, kw_only=True):
    """``/director/workouts``: the workouts to build on, and a form to begin one more.

    `drafts` names the workouts that were begun and not saved, by id.
    """

    template: ClassVar[str] = "builder_list.html"
    event: str
    workouts: tuple[WorkoutTitle, ...]
    drafts: Mapping[str, str]
    key: str


class BuilderPage(Page, frozen=True, kw_only=True):
    """``/director/workouts/<id>``: the fields of one workout, and what it would be.

    `faults` are sentences by the name of the field they concern, `at` is the path of the
    part, block or task to go on at; `variations` are those of each movement, as ids, names and
    what is usual; `saved`: nothing differs from the event as it stands.
    """

    template: ClassVar[str] = "builder.html"
    root: Node
    basis: int
    faults: Mapping[str, str]
    preview: Markup
    divisions: tuple[Division, ...]
    categories: tuple[Category, ...]
    floors: tuple[Floor, ...]
    movements: tuple[MovementChoice, ...]
    variations: Mapping[str, tuple[tuple[str, str, str], ...]]
    unit: str
    saved: bool
    stale: bool
    at: str
    told: Told | None
    key: str


def movement_choices(event: Event) -> tuple[MovementChoice, ...]:
    """Return every movement to choose from, family by family."""
    movements = library_with(event.movements).movements.values()
    return tuple(
        MovementChoice(
            family=family,
            movements=tuple(
                sorted(
                    ((one.id, one.name) for one in movements if one.family == family),
                    key=lambda choice: choice[1],
                )
            ),
        )
        for family in get_args(Family)
    )
