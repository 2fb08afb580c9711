"""How many judges there are at which time of the day, counted from the crew list."""

from collections.abc import Iterable
from itertools import pairwise

from msgspec.structs import replace

from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.wish_rows import JudgeSpell
from callroom.planner.pools import WEEK_S


def with_crew_judges(event: Event, crew: Iterable[CrewMember]) -> Event:
    """Return the event with the judges its crew list has, hour by hour, if it wishes so.

    Counted is who can judge and does not compete: those who do are wanted on both sides of the
    tape at once. Spells that the event names itself hold before what is counted.
    """
    wishes = event.wishes
    judges = [one for one in crew if "judge" in one.posts and not one.team]
    if not wishes.judges_from_crew or not judges:
        return event
    hours = [(one.free_from_s or 0, _until_s(one)) for one in judges]
    cuts = {0, WEEK_S} | {moment_s for span in hours for moment_s in span}
    counted = []
    for start_s, end_s in pairwise(sorted(cut for cut in cuts if 0 <= cut <= WEEK_S)):
        there = sum(from_s <= start_s < until_s for from_s, until_s in hours)
        most = there if wishes.judges_at_once is None else min(there, wishes.judges_at_once)
        counted.append(JudgeSpell(from_s=start_s, until_s=end_s, judges=most))
    spells = (*counted, *wishes.judge_spells)
    return replace(event, wishes=replace(wishes, judge_spells=spells))


def _until_s(member: CrewMember) -> int:
    return WEEK_S if member.free_until_s is None else member.free_until_s
