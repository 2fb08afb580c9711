"""What a competition is, one noun a file.

Decides: the frozen values that every other package speaks in, their units and bounds, and
the one root of all refusals, ``CallroomError``.
Never does: read a file, a clock or a random number; decide who wins, when a heat starts or
what a page says.
May import: msgspec and the standard library; nothing else of callroom.
"""

from callroom.model.amendment import Amendment, Decider, Remedy, latest_amendment
from callroom.model.clock import BadTime, from_milliseconds, milliseconds, parse_clock, wall_time
from callroom.model.crew import CrewMember
from callroom.model.division import Category, CategoryCount, Division, MovementRule
from callroom.model.errors import BadInput, CallroomError, NotAllowed, NotFound, Refusal, Stale
from callroom.model.event import Event
from callroom.model.finding import Fact, Finding, errors_among
from callroom.model.floor import Floor
from callroom.model.heat_clock import ClockSpan, clock_spans
from callroom.model.heat_stop import HeatStop, StopRuling
from callroom.model.kit import KitItem
from callroom.model.lane_note import KeptNote, LaneNote, LogMark
from callroom.model.loss import Loss, LossKind
from callroom.model.mass import Mass, PublishedHeight, PublishedLoad
from callroom.model.pace import PaceInUse
from callroom.model.plan import Heat, LaneTeam, Plan, PlanRepair, PlanTold
from callroom.model.role import Actor, Device, Role
from callroom.model.rota import Duty, Owing, PostWish, Rota, RotaRules, Shift
from callroom.model.rules import Points, Rules
from callroom.model.ruling import Ruling
from callroom.model.score import (
    Correction,
    KeptReport,
    Lift,
    NoRepCount,
    Penalty,
    Result,
    ScoreReport,
    ScoreSheet,
    SheetRef,
    sheet_key,
)
from callroom.model.screen import SCREEN_PARTS, Screen, ScreenPart
from callroom.model.state import HeatRun, Posting, Rerun, State
from callroom.model.steps import (
    Step,
    as_rounds,
    counted_in_rounds,
    rounds_and_counts,
    steps,
    total_counts,
)
from callroom.model.team import Athlete, LinedUp, LineUp, Team, TeamStatus
from callroom.model.training import Training
from callroom.model.wish_rows import (
    Apart,
    EventDay,
    FloorChoice,
    JudgeSpell,
    KitShare,
    Lock,
    OrderInto,
    RestBetween,
    SharedKit,
    TeamHours,
)
from callroom.model.wishes import Pause, Wishes
from callroom.model.workout import (
    Block,
    Part,
    Switch,
    Task,
    TieBreak,
    VariationRule,
    Who,
    Workout,
)

__all__ = [
    "SCREEN_PARTS",
    "Actor",
    "Amendment",
    "Apart",
    "Athlete",
    "BadInput",
    "BadTime",
    "Block",
    "CallroomError",
    "Category",
    "CategoryCount",
    "ClockSpan",
    "Correction",
    "CrewMember",
    "Decider",
    "Device",
    "Division",
    "Duty",
    "Event",
    "EventDay",
    "Fact",
    "Finding",
    "Floor",
    "FloorChoice",
    "Heat",
    "HeatRun",
    "HeatStop",
    "JudgeSpell",
    "KeptNote",
    "KeptReport",
    "KitItem",
    "KitShare",
    "LaneNote",
    "LaneTeam",
    "Lift",
    "LineUp",
    "LinedUp",
    "Lock",
    "LogMark",
    "Loss",
    "LossKind",
    "Mass",
    "MovementRule",
    "NoRepCount",
    "NotAllowed",
    "NotFound",
    "OrderInto",
    "Owing",
    "PaceInUse",
    "Part",
    "Pause",
    "Penalty",
    "Plan",
    "PlanRepair",
    "PlanTold",
    "Points",
    "PostWish",
    "Posting",
    "PublishedHeight",
    "PublishedLoad",
    "Refusal",
    "Remedy",
    "Rerun",
    "RestBetween",
    "Result",
    "Role",
    "Rota",
    "RotaRules",
    "Rules",
    "Ruling",
    "ScoreReport",
    "ScoreSheet",
    "Screen",
    "ScreenPart",
    "SharedKit",
    "SheetRef",
    "Shift",
    "Stale",
    "State",
    "Step",
    "StopRuling",
    "Switch",
    "Task",
    "Team",
    "TeamHours",
    "TeamStatus",
    "TieBreak",
    "Training",
    "VariationRule",
    "Who",
    "Wishes",
    "Workout",
    "as_rounds",
    "clock_spans",
    "counted_in_rounds",
    "errors_among",
    "from_milliseconds",
    "latest_amendment",
    "milliseconds",
    "parse_clock",
    "rounds_and_counts",
    "sheet_key",
    "steps",
    "total_counts",
    "wall_time",
]
