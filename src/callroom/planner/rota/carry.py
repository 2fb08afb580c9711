"""A rota carried over to another revision of its plan, with the fewest changes."""

from callroom.model.rota import Rota
from callroom.planner.rota.diary import Diary
from callroom.planner.rota.fill import fill
from callroom.planner.rota.problem import RotaProblem
from callroom.planner.rota.repair import RotaRepair, moves_between


def carry_over(problem: RotaProblem, rota: Rota, from_s: int = 0) -> RotaRepair:
    """Return a rota for the day that `problem` asks about, as near to `rota` as can be.

    Everybody keeps the shifts they had, at whatever time they now are, as long as they can
    hold them: shifts that run into each other are kept in order of time. What is left open is
    filled by the shortest chains of changes. What starts before `from_s` [s] stays as it was.
    """
    before = {duty.shift: duty.person for duty in rota.duties}
    diary = Diary(problem)
    for shift in sorted(problem.shifts, key=lambda one: (one.start_s, one.id)):
        person = before.get(shift.id)
        if person not in diary.hands:
            continue
        over = shift.start_s < from_s
        if over or (diary.may(person, shift) and diary.room(person, shift)):
            diary.give(shift.id, person)
    fill(diary, from_s)
    carried = diary.rota()
    return RotaRepair(rota=carried, moves=moves_between(rota, carried))
