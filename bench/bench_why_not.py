"""Why a day cannot be done: how long the whole menu takes.

``why_not_48_s`` and ``why_not_120_s`` are the worst of ten days of 48 teams and four of 120,
from the event to the last line, plain reasons included; each try has half a second, or two. Every line that says a change does
is solved again here with that change, and its timetable judged. ``why_not_undecided`` counts
the lines with a "?".
"""

import time

from callroom.model import Event, Team
from callroom.planner import Limits, check_timetable, compose, pose
from callroom.planner.solve import decide
from callroom.planner.what_if import knobs
from callroom.planner.why_not import Line, menu, plain_reasons
from tight_days import tight_day

EACH = {48: Limits(work=1, wall_s=0.5), 120: Limits(work=1, wall_s=2)}


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, three days of 48 teams and one of 120."""
    worst_s, undecided, lines = {48: 0.0, 120: 0.0}, 0, 0
    for teams, days in ((48, 3 if quick else 10), (120, 1 if quick else 4)):
        for seed in range(days):
            event, entered = tight_day(teams, seed)
            started = time.perf_counter()
            plain_reasons(event, entered)
            found = menu(event, entered, decide, limits=EACH[teams])
            worst_s[teams] = max(worst_s[teams], time.perf_counter() - started)
            undecided += sum(line.status == "undecided" for line in found)
            does = [line for line in found if line.status == "does"]
            assert does, f"nothing helps day {seed} of {teams} teams"
            lines += len(does)
            for line in does:
                assert _holds(event, entered, line)
    return {
        "why_not_48_s": worst_s[48],
        "why_not_120_s": worst_s[120],
        "why_not_lines": lines,
        "why_not_undecided": undecided,
    }


def _holds(event: Event, entered: tuple[Team, ...], line: Line) -> bool:
    changed = event
    for kind, subject, level in zip(line.kinds, line.subjects, line.levels, strict=True):
        knob = next(k for k in knobs(changed) if (k.kind, k.subject) == (kind, subject))
        changed = knob.apply(changed, level)
    problem = pose(changed, compose(changed, entered))
    answer = decide(problem, Limits(work=6, seed=2))
    return answer.status == "solved" and check_timetable(problem, answer) == ()
