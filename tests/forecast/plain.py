"""The plain-Python race that stands beside the benchmark."""

import importlib.util
import sys
from pathlib import Path
from typing import Any

from callroom.forecast.course import Course

HOME = Path(__file__).parents[2] / "bench" / "plain_race.py"


def plain_race(course: Course, *, cap_s: float, horizon_s: float, teams: int) -> list[Any]:
    """Return what becomes of the first `teams` teams of `course`."""
    if "plain_race" not in sys.modules:
        spec = importlib.util.spec_from_file_location("plain_race", HOME)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules["plain_race"] = module
        spec.loader.exec_module(module)
    ran: list[Any] = sys.modules["plain_race"].plain_race(
        course, cap_s=cap_s, horizon_s=horizon_s, teams=teams
    )
    return ran
