"""The form of the floor plan: sizes as typed become whole millimetres."""

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TypeVar

from callroom.actions.ground import Measured
from callroom.model import BadInput, Event, Finding
from callroom.model.ground import (
    MOST_MM,
    SPOT_KINDS,
    WALLS,
    Course,
    Door,
    Ground,
    Heading,
    LaneField,
    Space,
    Spot,
    SpotKind,
    Wall,
)
from callroom.model.mass import MassUnit
from callroom.web.forms.posted import Posted

Row = TypeVar("Row")

MOST_ROWS = 80
_LONGEST_NAME = 80
_FOOT, _INCH = Fraction(3048, 10), Fraction(254, 10)
_METRES = re.compile(r"(\d{1,4}(?:\.\d{1,4})?) ?m?")
_FEET = re.compile(
    r"(\d{1,4}(?:\.\d{1,4})?) ?(?:'|ft)?"
    r"(?: ?(\d{1,2}(?:\.\d)?)(½?) ?(?:\"|in)?| ?(½) ?(?:\"|in)?)?"
)
_PRIMES = {0x2032: "'", 0x2033: '"', 0x2019: "'", 0x201D: '"'}
"""What phones and word processors put in the place of the marks for feet and inches."""


def read_length(text: str, unit: MassUnit) -> int | None:
    """Return a length as typed [mm, to the nearest]; None if it is none.

    Metres (``12.5``, ``12,5 m``), or where pounds are used feet and inches (``41' 6"``,
    ``41 6``, ``41.5``).
    """
    plain = " ".join(text.translate(_PRIMES).replace(",", ".").split())
    if unit != "lb" or plain.endswith("m"):
        found = _METRES.fullmatch(plain)
        return _whole(Fraction(found[1]) * 1000) if found else None
    found = _FEET.fullmatch(plain)
    if found is None:
        return None
    half = Fraction(1, 2) if found[3] or found[4] else Fraction(0)
    inches = Fraction(found[2] or 0) + half
    return _whole(Fraction(found[1]) * _FOOT + inches * _INCH) if inches < 12 else None


def _whole(mm: Fraction) -> int:
    return int(mm + Fraction(1, 2))


def read_measured(form: Posted, unit: MassUnit) -> tuple[Measured | None, Measured | None]:
    """Return the sizes of hall and yard from the first form; None: nothing was typed of it.

    Raises
    ------
    BadInput
        With every size that cannot be read, and if nothing was typed at all.
    """
    reader = _Reader(form, unit)
    hall, yard = reader.measured("hall"), reader.measured("yard")
    if hall is None and yard is None and not reader.faults:
        reader.fault("ground.size_missing", "hall-length")
    reader.end()
    return hall, yard


def read_ground(form: Posted, event: Event) -> Ground:
    """Return the ground as typed; rows whose removal is ticked, and empty rows, are left out.

    Raises
    ------
    BadInput
        With every size that cannot be read, each under the name of its field.
    """
    reader = _Reader(form, event.mass_unit)
    ground = Ground(
        spaces=tuple(reader.rows("space", reader.space)),
        fields=tuple(reader.rows("lanes", reader.lanes)),
        spots=tuple(reader.rows("spot", reader.spot)),
        doors=tuple(reader.rows("door", reader.door)),
        courses=tuple(reader.rows("course", reader.course)),
    )
    reader.end()
    return ground


class _Reader:
    """Reads one field after the other, notes faults and goes on."""

    def __init__(self, form: Posted, unit: MassUnit) -> None:
        self.faults: list[Finding] = []
        self._form = form
        self._unit = unit

    def fault(self, rule: str, subject: str, **facts: str | int) -> None:
        self.faults.append(Finding(rule=rule, severity="error", subject=subject, facts=facts))

    def end(self) -> None:
        if self.faults:
            raise BadInput(tuple(self.faults))

    def size(self, name: str, least_mm: int = 0) -> int:
        """Return a field's length; one that was left empty is the least."""
        text = self._form.text(name)
        if not text:
            if least_mm:
                self.fault("ground.size_missing", name)
            return least_mm
        found = read_length(text, self._unit)
        if found is None:
            self.fault("ground.no_size", name, given=text[:20])
            return max(least_mm, 1)
        if not least_mm <= found <= MOST_MM:
            self.fault(
                "ground.size_range",
                name,
                given=text[:20],
                least="1 mm",
                most=f"{MOST_MM // 1000} m",
            )
            return max(least_mm, 1)
        return found

    def measured(self, what: str) -> Measured | None:
        if not any(self._form.text(f"{what}-{side}") for side in ("length", "width", "height")):
            return None
        return Measured(
            length_mm=self.size(f"{what}-length", 1),
            width_mm=self.size(f"{what}-width", 1),
            height_mm=self.size(f"{what}-height"),
        )

    def rows(self, kind: str, read: Callable[[str, str], Row]) -> Iterator[Row]:
        taken = {self._form.text(f"{kind}-{row}-id") for row in range(MOST_ROWS)}
        for row in range(MOST_ROWS):
            head = f"{kind}-{row}"
            given = self._form.text(f"{head}-id")
            name = self._form.text(f"{head}-name")
            if not given and not name:
                continue
            if self._form.ticked(f"{head}-gone"):
                continue
            id_ = given[:40] or _fresh(kind, taken)
            taken.add(id_)
            yield read(head, id_)

    def name(self, head: str, id_: str) -> str:
        return " ".join(self._form.text(f"{head}-name").split())[:_LONGEST_NAME] or id_

    def space(self, head: str, id_: str) -> Space:
        return Space(
            id=id_,
            name=self.name(head, id_),
            x_mm=self.size(f"{head}-x"),
            y_mm=self.size(f"{head}-y"),
            length_mm=self.size(f"{head}-length", 1),
            width_mm=self.size(f"{head}-width", 1),
            height_mm=self.size(f"{head}-height"),
            outdoor=self._form.ticked(f"{head}-outdoor"),
        )

    def lanes(self, head: str, id_: str) -> LaneField:
        heading: Heading = "across" if self._form.text(f"{head}-heading") == "across" else "down"
        return LaneField(
            floor=id_,
            x_mm=self.size(f"{head}-x"),
            y_mm=self.size(f"{head}-y"),
            lane_length_mm=self.size(f"{head}-length", 1),
            lane_width_mm=self.size(f"{head}-width", 1),
            gap_mm=self.size(f"{head}-gap"),
            heading=heading,
            from_far=self._form.ticked(f"{head}-far"),
        )

    def spot(self, head: str, id_: str) -> Spot:
        given = self._form.text(f"{head}-kind")
        kind: SpotKind = next((one for one in SPOT_KINDS if one == given), "other")
        return Spot(
            id=id_,
            kind=kind,
            name=self.name(head, id_),
            x_mm=self.size(f"{head}-x"),
            y_mm=self.size(f"{head}-y"),
            length_mm=self.size(f"{head}-length", 1),
            width_mm=self.size(f"{head}-width", 1),
        )

    def door(self, head: str, id_: str) -> Door:
        given = self._form.text(f"{head}-wall")
        wall: Wall = next((one for one in WALLS if one == given), "bottom")
        return Door(
            id=id_,
            name=self.name(head, id_),
            space=self._form.text(f"{head}-space")[:40],
            wall=wall,
            along_mm=self.size(f"{head}-along"),
            width_mm=self.size(f"{head}-width", 1),
        )

    def course(self, head: str, id_: str) -> Course:
        return Course(
            id=id_,
            name=self.name(head, id_),
            workout=self._form.text(f"{head}-workout")[:40],
            lap_mm=self.size(f"{head}-lap", 1),
            x_mm=self.size(f"{head}-x"),
            y_mm=self.size(f"{head}-y"),
            to_x_mm=self.size(f"{head}-to-x"),
            to_y_mm=self.size(f"{head}-to-y"),
        )


def _fresh(kind: str, taken: set[str]) -> str:
    number = 1
    while f"{kind}-{number}" in taken:
        number += 1
    return f"{kind}-{number}"
