"""A private builder for one batch: copies a part on its first change, then changes the copy."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Generic, TypeVar

from callroom.model import (
    Amendment,
    CrewMember,
    Device,
    Event,
    Heat,
    HeatRun,
    KeptNote,
    KeptReport,
    KitItem,
    LineUp,
    Loss,
    PaceInUse,
    Plan,
    PlanRepair,
    PlanTold,
    Posting,
    Rerun,
    Rota,
    RotaRules,
    Ruling,
    ScoreSheet,
    Screen,
    State,
    Team,
    TeamStatus,
    Training,
)

if TYPE_CHECKING:
    from callroom.model.appeal import Appeal
    from callroom.model.away import Away
    from callroom.model.check_in import CheckIn, Signed
    from callroom.model.checks import OwnCheck, Tick
    from callroom.model.entering import Enrolment, Entering, Terms
    from callroom.model.going import GoDecision
    from callroom.model.ground import Ground
    from callroom.model.helping import Helping, HelpOffer
    from callroom.model.money import Booking, Budget, Promise
    from callroom.model.podium import PodiumRelease
    from callroom.model.safety import Incident, SafetyFacts, Weather
    from callroom.model.side_programme import SideItem

Value = TypeVar("Value")


class Shelf(Generic[Value]):
    """One map of the State: read freely; the first change of a batch copies it once."""

    def __init__(self, shared: Mapping[str, Value]) -> None:
        """Start from a map that other States share."""
        self._shared = shared
        self._own: dict[str, Value] | None = None

    @property
    def view(self) -> Mapping[str, Value]:
        """The map as it stands."""
        return self._shared if self._own is None else self._own

    def get(self, key: str) -> Value | None:
        """Return one value, or None."""
        return self.view.get(key)

    def put(self, key: str, value: Value) -> None:
        """Set one value in this batch's own copy."""
        if self._own is None:
            self._own = dict(self._shared)
        self._own[key] = value

    def drop(self, key: str) -> None:
        """Take one value out, if it is there."""
        if key in self.view:
            if self._own is None:
                self._own = dict(self._shared)
            del self._own[key]


class Builder:
    """State under construction; the State it began from is never changed.

    Folding n entries in one batch costs n small steps and one copy of each part touched,
    so ten times the entries cost about ten times the time.
    """

    def __init__(self, state: State) -> None:  # noqa: PLR0915 - a line for each part of State
        """Begin from a frozen `state`."""
        self.seq: int = state.seq
        self.at_ms: int = state.at_ms
        self.event: Event | None = state.event
        self.kit: tuple[KitItem, ...] = state.kit
        self._plan: Plan | None = state.plan
        self._heats_by_id: Mapping[str, Heat] | None = None
        self.plan_told: PlanTold | None = state.plan_told
        self.rota: Rota | None = state.rota
        self.rota_rules: RotaRules = state.rota_rules
        self.repairs: Shelf[PlanRepair] = Shelf(state.repairs)
        self.losses: Shelf[Loss] = Shelf(state.losses)
        self.rehearsal: bool = state.rehearsal
        self.screen: Screen = state.screen
        self.generation: int = state.generation
        self.double_entry: bool = state.double_entry
        self.budget: Budget | None = state.budget
        self.bookings: Shelf[Booking] = Shelf(state.bookings)
        self.promises: Shelf[Promise] = Shelf(state.promises)
        self.teams: Shelf[Team] = Shelf(state.teams)
        self.team_status: Shelf[TeamStatus] = Shelf(state.team_status)
        self.crew: Shelf[CrewMember] = Shelf(state.crew)
        self.heats: Shelf[HeatRun] = Shelf(state.heats)
        self.sheets: Shelf[ScoreSheet] = Shelf(state.sheets)
        self.reruns: Shelf[tuple[Rerun, ...]] = Shelf(state.reruns)
        self.line_ups: Shelf[LineUp] = Shelf(state.line_ups)
        self.stood_down: Shelf[int] = Shelf(state.stood_down)
        self.paces: Shelf[PaceInUse] = Shelf(state.paces)
        self.unplaced: Shelf[KeptReport] = Shelf(state.unplaced)
        self.lane_notes: Shelf[tuple[KeptNote, ...]] = Shelf(state.lane_notes)
        self.postings: Shelf[Posting] = Shelf(state.postings)
        self.devices: Shelf[Device] = Shelf(state.devices)
        self.rulings: Shelf[Ruling] = Shelf(state.rulings)
        self.acknowledged: Shelf[Mapping[str, int]] = Shelf(state.acknowledged)
        self.amendments: Shelf[Amendment] = Shelf(state.amendments)
        self.trainings: Shelf[Training] = Shelf(state.trainings)
        self.trained: Shelf[Training] = Shelf(state.trained)
        self.appeals: Shelf[Appeal] = Shelf(state.appeals)
        self.podiums: Shelf[PodiumRelease] = Shelf(state.podiums)
        self.embargo: Shelf[bool] = Shelf(state.embargo)
        self.erased: Shelf[int] = Shelf(state.erased)
        self.safety: SafetyFacts = state.safety
        self.weather: Shelf[Weather] = Shelf(state.weather)
        self.incidents: Shelf[Incident] = Shelf(state.incidents)
        self.entering: Entering = state.entering
        self.terms: tuple[Terms, ...] = state.terms
        self.enrolments: Shelf[Enrolment] = Shelf(state.enrolments)
        self.helping: Helping = state.helping
        self.offers: Shelf[HelpOffer] = Shelf(state.offers)
        self.ground: Ground = state.ground
        self.side: Shelf[SideItem] = Shelf(state.side)
        self.ticks: Shelf[Tick] = Shelf(state.ticks)
        self.own_checks: Shelf[OwnCheck] = Shelf(state.own_checks)
        self.check_ins: Shelf[CheckIn] = Shelf(state.check_ins)
        self.signed: Shelf[Signed] = Shelf(state.signed)
        self.go_decisions: tuple[GoDecision, ...] = state.go_decisions
        self.away: Away | None = state.away
        self.subjects: Shelf[int] = Shelf(state.subjects)

    @property
    def plan(self) -> Plan | None:
        """The plan everyone was told."""
        return self._plan

    @plan.setter
    def plan(self, plan: Plan | None) -> None:
        self._plan, self._heats_by_id = plan, None

    def planned_heat(self, heat_id: str) -> Heat | None:
        """Return a heat of the plan; looked up often, so indexed once per plan and batch."""
        if self._heats_by_id is None:
            heats = self._plan.heats if self._plan is not None else ()
            self._heats_by_id = {heat.id: heat for heat in heats}
        return self._heats_by_id.get(heat_id)

    def touch(self, *subjects: str) -> None:
        """Note that the entry being folded changed these subjects."""
        for subject in subjects:
            self.subjects.put(subject, self.seq)

    @property
    def state(self) -> State:
        """The State as it stands within the batch; valid until the next entry is folded."""
        return State(
            seq=self.seq,
            at_ms=self.at_ms,
            event=self.event,
            teams=self.teams.view,
            team_status=self.team_status.view,
            crew=self.crew.view,
            kit=self.kit,
            plan=self._plan,
            plan_told=self.plan_told,
            repairs=self.repairs.view,
            losses=self.losses.view,
            rota=self.rota,
            rota_rules=self.rota_rules,
            heats=self.heats.view,
            sheets=self.sheets.view,
            reruns=self.reruns.view,
            line_ups=self.line_ups.view,
            stood_down=self.stood_down.view,
            paces=self.paces.view,
            unplaced=self.unplaced.view,
            lane_notes=self.lane_notes.view,
            postings=self.postings.view,
            devices=self.devices.view,
            rulings=self.rulings.view,
            acknowledged=self.acknowledged.view,
            amendments=self.amendments.view,
            trainings=self.trainings.view,
            trained=self.trained.view,
            appeals=self.appeals.view,
            podiums=self.podiums.view,
            embargo=self.embargo.view,
            subjects=self.subjects.view,
            rehearsal=self.rehearsal,
            screen=self.screen,
            generation=self.generation,
            double_entry=self.double_entry,
            budget=self.budget,
            bookings=self.bookings.view,
            promises=self.promises.view,
            erased=self.erased.view,
            safety=self.safety,
            weather=self.weather.view,
            incidents=self.incidents.view,
            entering=self.entering,
            terms=self.terms,
            enrolments=self.enrolments.view,
            helping=self.helping,
            offers=self.offers.view,
            ground=self.ground,
            side=self.side.view,
            ticks=self.ticks.view,
            own_checks=self.own_checks.view,
            check_ins=self.check_ins.view,
            signed=self.signed.view,
            go_decisions=self.go_decisions,
            away=self.away,
        )
