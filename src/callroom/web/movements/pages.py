"""What the templates of the movement pages are given."""

from typing import ClassVar

import msgspec

from callroom.model import Division, Finding
from callroom.model.movement import Family
from callroom.views.guide_text import StandardText
from callroom.web.movements.form import MovementForm
from callroom.web.pages import Page
from callroom.web.voice import Told


class MovementLine(msgspec.Struct, frozen=True, kw_only=True):
    """A movement in the list: whose it is, which workouts need it, and a figure of it."""

    id: str
    name: str
    own: bool
    changed: bool
    used: tuple[str, ...]
    svg: str


class MovementFamily(msgspec.Struct, frozen=True, kw_only=True):
    """The movements of one family."""

    family: Family
    movements: tuple[MovementLine, ...]


class MovementListPage(Page, frozen=True, kw_only=True):
    """``/director/movements``: the library with the director's own movements in it."""

    template: ClassVar[str] = "movement_list.html"
    event: str
    families: tuple[MovementFamily, ...]


class VariationRow(msgspec.Struct, frozen=True, kw_only=True):
    """What each division says of a variation; of the movement as a whole without an id.

    `cells` are pairs of a field's name and what stands in it: nothing, ``allow`` or ``bar``.
    """

    id: str
    name: str
    usual: str
    cells: tuple[tuple[str, str], ...]


class MovementFormPage(Page, frozen=True, kw_only=True):
    """``/director/movements/<id>``: the form of one movement, and what divisions allow of it.

    Attributes
    ----------
    movement_id
        Empty for one that is not kept yet.
    base
        The id of the movement it was begun from, whose drawn things its figures keep.
    own, known
        Whether it is the director's own, and whether the library has one of that id.
    standards
        How it reads as it is kept, for each way in which the event asks for it.
    doubts
        What is worth knowing about it, by the name of a field.
    """

    template: ClassVar[str] = "movement_form.html"
    movement_id: str
    name: str
    base: str
    form: MovementForm
    own: bool
    known: bool
    used: tuple[str, ...]
    poses: tuple[str, ...]
    standards: tuple[StandardText, ...]
    doubts: tuple[Finding, ...]
    divisions: tuple[Division, ...]
    permitted: tuple[VariationRow, ...]
    basis: int
    told: Told | None
    key: str
