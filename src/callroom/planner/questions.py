"""An event and its teams as the questions a solver is asked: one for each day."""

from collections.abc import Iterable
from typing import NamedTuple

from callroom.model.event import Event
from callroom.model.team import Team
from callroom.planner.compose import compose
from callroom.planner.event_days import days_of
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.pose import pose
from callroom.planner.problem import Problem
from callroom.planner.timetable import Status, Timetable


class Questions(NamedTuple):
    """Who is in which heat, and the timetable question of each day."""

    heats: tuple[HeatTeams, ...]
    problems: tuple[Problem, ...]


def questions(event: Event, teams: Iterable[Team]) -> Questions:
    """Return what is asked of a solver; BadProblem if the wishes contradict themselves."""
    heats = compose(event, teams)
    problems = []
    for day in days_of(event):
        names = {workout.id for workout in day.workouts}
        problems.append(pose(day, [heat for heat in heats if heat.workout in names]))
    return Questions(heats, tuple(problems))


def worst(answers: Iterable[Timetable]) -> Status:
    """Return whether all days can be done: one that cannot decides, then one not known."""
    found = {answer.status for answer in answers}
    return (
        "infeasible" if "infeasible" in found else "undecided" if "undecided" in found else "solved"
    )
