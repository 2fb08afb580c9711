"""A sheet per person: where to be, and when, from the first duty to the last."""

from collections.abc import Iterable
from typing import Literal

import msgspec

from callroom.model.crew import CrewMember
from callroom.model.plan import Plan
from callroom.model.rota import Rota, Shift


class SheetLine(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One stretch of a person's day: on duty at one station, or competing.

    `heats` are those of the stretch in order; without any it is a post held throughout.
    """

    kind: Literal["duty", "competes"]
    start_s: int
    end_s: int
    post: str = ""
    floor: str = ""
    lane: int | None = None
    seat: int = 1
    heats: tuple[str, ...] = ()


class PersonSheet(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A volunteer's day in order of time, and how long they are on duty in all [s]."""

    person: str
    lines: tuple[SheetLine, ...]
    on_duty_s: int


def sheets(
    rota: Rota, plan: Plan, crew: Iterable[CrewMember], *, break_s: int = 600
) -> tuple[PersonSheet, ...]:
    """Return a sheet for every volunteer, in the order of `crew`.

    Heats judged at one station with less than `break_s` between them are one line.
    """
    return tuple(_sheet(rota, plan, member, break_s) for member in crew)


def _sheet(rota: Rota, plan: Plan, member: CrewMember, break_s: int) -> PersonSheet:
    held = rota.shifts_of(member.person)
    lines = _duties(held, break_s)
    if member.team:
        lines += [
            SheetLine(
                kind="competes",
                start_s=heat.start_s,
                end_s=heat.end_s,
                floor=heat.floor,
                lane=heat.lane_of(member.team),
                heats=(heat.id,),
            )
            for heat in plan.day_of(member.team)
        ]
    return PersonSheet(
        person=member.person,
        lines=tuple(sorted(lines, key=lambda line: (line.start_s, line.end_s))),
        on_duty_s=sum(shift.end_s - shift.start_s for shift in held),
    )


def _duties(held: tuple[Shift, ...], break_s: int) -> list[SheetLine]:
    lines: list[SheetLine] = []
    last: Shift | None = None
    for shift in held:
        heats = (shift.heat,) if shift.heat else ()
        on = last is not None and last.station == shift.station
        if last is not None and on and shift.start_s - last.end_s < break_s:
            lines[-1] = msgspec.structs.replace(
                lines[-1], end_s=shift.end_s, heats=(*lines[-1].heats, *heats)
            )
        else:
            lines.append(
                SheetLine(
                    kind="duty",
                    start_s=shift.start_s,
                    end_s=shift.end_s,
                    post=shift.post,
                    floor=shift.floor,
                    lane=shift.lane,
                    seat=shift.seat,
                    heats=heats,
                )
            )
        last = shift
    return lines
