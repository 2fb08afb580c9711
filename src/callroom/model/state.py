"""State: everything the journal says, folded."""

from collections.abc import Mapping
from typing import Literal

import msgspec

from callroom.model.amendment import Amendment, latest_amendment
from callroom.model.appeal import Appeal
from callroom.model.away import Away
from callroom.model.check_in import CheckIn, Signed
from callroom.model.checks import OwnCheck, Tick
from callroom.model.crew import CrewMember
from callroom.model.entering import Enrolment, Entering, Terms
from callroom.model.event import Event
from callroom.model.going import GoDecision
from callroom.model.ground import Ground
from callroom.model.heat_stop import HeatStop
from callroom.model.helping import Helping, HelpOffer
from callroom.model.kit import KitItem
from callroom.model.lane_note import KeptNote
from callroom.model.loss import Loss
from callroom.model.money import Booking, Budget, Promise
from callroom.model.pace import PaceInUse
from callroom.model.plan import Plan, PlanRepair, PlanTold
from callroom.model.podium import PodiumRelease
from callroom.model.role import Device
from callroom.model.rota import Rota, RotaRules
from callroom.model.ruling import Ruling
from callroom.model.safety import Incident, SafetyFacts, Weather
from callroom.model.score import KeptReport, ScoreSheet
from callroom.model.screen import Screen
from callroom.model.side_programme import SideItem
from callroom.model.team import LineUp, Team, TeamStatus
from callroom.model.training import Training

HeatStage = Literal["waiting", "called", "started", "finished", "confirmed"]


class HeatRun(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How far a heat has come. Times are server receipt or synchronised stamps [ms, UTC].

    `on_floor_ms` is when its teams walked on. `arrived` were seen at the call board,
    `no_shows` were not there at the check; a team is in one of them at most. `ready` are lanes
    whose judge has said so. `stop`: its clock
    was stopped before its end; the stage is then ``finished``.
    """

    stage: HeatStage = "waiting"
    called_ms: int | None = None
    on_floor_ms: int | None = None
    started_ms: int | None = None
    finished_ms: int | None = None
    confirmed_seq: int | None = None
    arrived: tuple[str, ...] = ()
    no_shows: tuple[str, ...] = ()
    ready: tuple[int, ...] = ()
    stop: HeatStop | None = None


class Rerun(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A further attempt at a workout; whether it replaces or the better counts is fixed first.

    `started_ms` is the zero of its own clock [ms, UTC]; None: it has not started.
    """

    seq: int
    workout: str
    team: str
    attempt: int
    counts: Literal["replaces", "better"]
    reason: str
    started_ms: int | None = None


class Posting(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A posting of a division's standings; the appeal window runs from it."""

    seq: int
    at_ms: int
    division: str
    final: bool

    def appeals_until_ms(self, window_s: int) -> int:
        """Return when the time for appeals is over [ms, UTC]; a final posting ends it at once."""
        return self.at_ms if self.final else self.at_ms + window_s * 1000


class State(msgspec.Struct, frozen=True, kw_only=True):
    """The fold of all entries up to `seq`. Nothing in it is ever changed in place.

    `sheets` and `lane_notes` are keyed by :func:`callroom.model.score.sheet_key`, `unplaced` by the report's
    `seq`, `reruns` and `line_ups` by ``"<workout>/<team>"``, `stood_down` gives for a person who may
    not take the floor until first aid says so the entry that said it, `rulings` and `amendments` by their number; `acknowledged` gives
    for each device which entry about a ruling it saw last, by the ruling's number; `subjects` gives the last
    `seq` that touched a thing (``"heat:w1-3"``, ``"plan"``, ``"sheet:…"``), which is what
    a decision made from a shown page rests on. `appeals` are keyed by their number, `podiums` by
    division; `embargo` says of a workout whether its results are kept from the public, where
    that was decided after the rules of the event. `trainings` are keyed by device, `trained` by volunteer, `repairs` by the
    revision of the plan that each made, `losses` by their number. `plan_told` says when the plan
    in force was told; `rota` may still be for the revision before. `weather` is keyed by the
    entry that told it, `incidents` by their number. `erased` gives for a person, or for
    :data:`callroom.model.person.EVERYONE`, the entry by which they were last erased.
    `enrolments` are the entry forms by the id of their team, `terms` all texts that athletes
    ever agreed to, in order; `offers` are those who offered to help and wait, by person. `side` is the side programme and `own_checks` what the director added
    to the checklists, by id; `ticks` by the point that was ticked. `check_ins` are keyed by team,
    `signed` by person; `away` says that the book was taken to the hall and takes nothing here.
    """

    seq: int = 0
    at_ms: int = 0
    event: Event | None = None
    teams: Mapping[str, Team] = {}
    team_status: Mapping[str, TeamStatus] = {}
    crew: Mapping[str, CrewMember] = {}
    kit: tuple[KitItem, ...] = ()
    plan: Plan | None = None
    plan_told: PlanTold | None = None
    repairs: Mapping[str, PlanRepair] = {}
    losses: Mapping[str, Loss] = {}
    rota: Rota | None = None
    rota_rules: RotaRules = RotaRules()
    heats: Mapping[str, HeatRun] = {}
    sheets: Mapping[str, ScoreSheet] = {}
    reruns: Mapping[str, tuple[Rerun, ...]] = {}
    line_ups: Mapping[str, LineUp] = {}
    stood_down: Mapping[str, int] = {}
    paces: Mapping[str, PaceInUse] = {}
    unplaced: Mapping[str, KeptReport] = {}
    lane_notes: Mapping[str, tuple[KeptNote, ...]] = {}
    postings: Mapping[str, Posting] = {}
    devices: Mapping[str, Device] = {}
    rulings: Mapping[str, Ruling] = {}
    acknowledged: Mapping[str, Mapping[str, int]] = {}
    amendments: Mapping[str, Amendment] = {}
    trainings: Mapping[str, Training] = {}
    trained: Mapping[str, Training] = {}
    appeals: Mapping[str, Appeal] = {}
    podiums: Mapping[str, PodiumRelease] = {}
    embargo: Mapping[str, bool] = {}
    subjects: Mapping[str, int] = {}
    rehearsal: bool = False
    screen: Screen = Screen()
    generation: int = 1
    double_entry: bool = False
    budget: Budget | None = None
    bookings: Mapping[str, Booking] = {}
    promises: Mapping[str, Promise] = {}
    erased: Mapping[str, int] = {}
    safety: SafetyFacts = SafetyFacts()
    weather: Mapping[str, Weather] = {}
    incidents: Mapping[str, Incident] = {}
    entering: Entering = Entering()
    terms: tuple[Terms, ...] = ()
    enrolments: Mapping[str, Enrolment] = {}
    helping: Helping = Helping()
    offers: Mapping[str, HelpOffer] = {}
    ground: Ground = Ground()
    side: Mapping[str, SideItem] = {}
    ticks: Mapping[str, Tick] = {}
    own_checks: Mapping[str, OwnCheck] = {}
    check_ins: Mapping[str, CheckIn] = {}
    signed: Mapping[str, Signed] = {}
    go_decisions: tuple[GoDecision, ...] = ()
    away: Away | None = None

    def heat_run(self, heat_id: str) -> HeatRun:
        """Return how far a heat has come; a heat nobody touched is waiting."""
        return self.heats.get(heat_id, HeatRun())

    def is_trained(self, person: str) -> bool:
        """Whether a volunteer's last self-check of the standards went well enough to judge."""
        taken = self.trained.get(person)
        return taken is not None and taken.passed

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
