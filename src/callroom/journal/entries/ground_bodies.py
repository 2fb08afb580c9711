"""Bodies of entries about the ground, the side programme and the checklists."""

from callroom.journal.entries.bodies import Body
from callroom.model.checks import OwnCheck
from callroom.model.ground import Ground
from callroom.model.side_programme import SideItem


class GroundSet(Body, frozen=True):
    """The venue as measured, from now on, whole."""

    ground: Ground


class SideSet(Body, frozen=True):
    """One thing of the side programme, new or in the place of the one with its id."""

    item: SideItem


class SideDropped(Body, frozen=True):
    """A thing of the side programme is not to be."""

    item: str


class CheckTicked(Body, frozen=True):
    """A point of the checklists is done, or (`done` false) it is not after all."""

    check: str
    done: bool = True


class CheckAdded(Body, frozen=True):
    """The director adds a point, or puts it in the place of the one with its id."""

    check: OwnCheck


class CheckDropped(Body, frozen=True):
    """A point that the director added is taken out."""

    check: str
