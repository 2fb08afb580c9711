"""State: everything the journal says, folded."""

from collections.abc import Mapping
from typing import Literal

import msgspec

from callroom.model.amendment import Amendment, latest_amendment
from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.kit import KitItem
from callroom.model.plan import Plan
from callroom.model.role import Device
from callroom.model.ruling import Ruling
from callroom.model.score import KeptReport, ScoreSheet
from callroom.model.screen import Screen
from callroom.model.team import Team, TeamStatus
from callroom.model.training import Training

HeatStage = Literal["waiting", "called", "started", "finished", "confirmed"]


class HeatRun(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How far a heat has come. Times are server receipt or synchronised stamps [ms, UTC]."""

    stage: HeatStage = "waiting"
    called_ms: int | None = None
    started_ms: int | None = None
    finished_ms: int | None = None
    confirmed_seq: int | None = None
    arrived: tuple[str, ...] = ()


class Rerun(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A further attempt at a workout; whether it replaces or the better counts is fixed first."""

    seq: int
    workout: str
    team: str
    attempt: int
    counts: Literal["replaces", "better"]
    reason: str


class Posting(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A posting of a division's standings; the appeal window runs from it."""

    seq: int
    at_ms: int
    division: str
    final: bool


class State(msgspec.Struct, frozen=True, kw_only=True):
    """The fold of all entries up to `seq`. Nothing in it is ever changed in place.

    `sheets` is keyed by :func:`callroom.model.score.sheet_key`, `unplaced` by the report's
    `seq`, `reruns` by ``"<workout>/<team>"``, `rulings` and `amendments` by their number; `acknowledged` gives
    for each device which entry about a ruling it saw last, by the ruling's number; `subjects` gives the last
    `seq` that touched a thing (``"heat:w1-3"``, ``"plan"``, ``"sheet:…"``), which is what
    a decision made from a shown page rests on. `trainings` are keyed by device.
    """

    seq: int = 0
    at_ms: int = 0
    event: Event | None = None
    teams: Mapping[str, Team] = {}
    team_status: Mapping[str, TeamStatus] = {}
    crew: Mapping[str, CrewMember] = {}
    kit: tuple[KitItem, ...] = ()
    plan: Plan | None = None
    heats: Mapping[str, HeatRun] = {}
    sheets: Mapping[str, ScoreSheet] = {}
    reruns: Mapping[str, tuple[Rerun, ...]] = {}
    unplaced: Mapping[str, KeptReport] = {}
    postings: Mapping[str, Posting] = {}
    devices: Mapping[str, Device] = {}
    rulings: Mapping[str, Ruling] = {}
    acknowledged: Mapping[str, Mapping[str, int]] = {}
    amendments: Mapping[str, Amendment] = {}
    trainings: Mapping[str, Training] = {}
    subjects: Mapping[str, int] = {}
    rehearsal: bool = False
    screen: Screen = Screen()

    def heat_run(self, heat_id: str) -> HeatRun:
        """Return how far a heat has come; a heat nobody touched is waiting."""
        return self.heats.get(heat_id, HeatRun())

    def amendment_of(self, workout_id: str) -> Amendment | None:
        """Return the amendment by which a workout now stands; None: it was never amended."""
        return latest_amendment(self.amendments.values(), workout_id)

    def amendment_number(self, workout_id: str) -> int:
        """Return the number of that amendment; 0: it was never amended."""
        amendment = self.amendment_of(workout_id)
        return 0 if amendment is None else amendment.number

    def is_void(self, workout_id: str) -> bool:
        """Whether a workout counts for nothing."""
        amendment = self.amendment_of(workout_id)
        return amendment is not None and amendment.remedy == "void"
