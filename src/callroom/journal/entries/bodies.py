"""What each kind of entry carries. A body states facts and ids, never a person's name."""

from typing import Literal

import msgspec

from callroom.model import (
    CrewMember,
    Decider,
    Duty,
    Event,
    Heat,
    KitItem,
    LossKind,
    Plan,
    Remedy,
    Result,
    Role,
    Rota,
    RotaRules,
    Screen,
    Team,
    Workout,
)


class Body(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Root of all bodies."""


class EventSet(Body, frozen=True):
    """The event as it now stands, whole."""

    event: Event


class TeamSet(Body, frozen=True):
    """A team entered or changed."""

    team: Team


class TeamLeft(Body, frozen=True):
    """A team withdrew or was disqualified from the event."""

    team: str
    status: Literal["withdrawn", "disqualified"]
    reason: str = ""


class TeamBack(Body, frozen=True):
    """A team is in the event again; names the entry that took it out."""

    team: str
    left_seq: int
    reason: str = ""


class CrewSet(Body, frozen=True):
    """A volunteer listed or changed."""

    member: CrewMember


class CrewLeft(Body, frozen=True):
    """A volunteer who will not come."""

    person: str


class KitSet(Body, frozen=True):
    """The whole kit list as it now stands."""

    items: tuple[KitItem, ...]


class PlanPublished(Body, frozen=True):
    """A plan everyone is told from now on."""

    plan: Plan


class PlanChanged(Body, frozen=True):
    """A published plan with some heats changed by hand; names the revision it makes."""

    revision: int
    heats: tuple[Heat, ...] = ()
    removed: tuple[str, ...] = ()


class PlanRepaired(Body, frozen=True):
    """A running plan, repaired: these heats changed, those fell away; and what for."""

    revision: int
    why: str
    heats: tuple[Heat, ...] = ()
    removed: tuple[str, ...] = ()


class PlanFrozen(Body, frozen=True):
    """The plan in force is not planned anew any more; only the day may change it."""

    revision: int


class PlanThawed(Body, frozen=True):
    """The plan in force may be planned anew again."""

    revision: int
    reason: str


class LossNoted(Body, frozen=True):
    """Something the day has to do without; see `Loss` for the fields."""

    kind: LossKind
    why: str
    floor: str = ""
    lane: int | None = None
    workout: str = ""
    left: int | None = None
    ready_s: int | None = None


class LossOver(Body, frozen=True):
    """What was lost is there again; names the number of the loss."""

    number: int


class RotaPublished(Body, frozen=True):
    """Who does what on the day, and the rules it was made by."""

    rota: Rota
    rules: RotaRules = RotaRules()


class RotaChanged(Body, frozen=True):
    """Shifts that change hands (nobody: an empty person), and what for."""

    duties: tuple[Duty, ...]
    why: str


class HeatCalled(Body, frozen=True):
    """The teams of a heat were called to the floor."""

    heat: str


class HeatStarted(Body, frozen=True):
    """The clock of a heat started; `at_ms` is the synchronised stamp of zero [ms, UTC]."""

    heat: str
    at_ms: int


class HeatRestarted(Body, frozen=True):
    """A start that did not count: the heat waits to be started again."""

    heat: str
    reason: str


class HeatFinished(Body, frozen=True):
    """The clock of a heat has ended."""

    heat: str


class HeatConfirmed(Body, frozen=True):
    """The head judge confirmed every score of a heat."""

    heat: str


class HeatReopened(Body, frozen=True):
    """A confirmed heat is open again, for a reason."""

    heat: str
    reason: str


class TeamArrived(Body, frozen=True):
    """A report: somebody saw a whole team at the call board for a heat."""

    heat: str
    team: str


class TeamNoShow(Body, frozen=True):
    """A report: a team was not there when the lanes of a heat were checked."""

    heat: str
    team: str


class TeamAwaited(Body, frozen=True):
    """A report: neither an arrival nor a no-show holds; the team is still waited for."""

    heat: str
    team: str


class HeatOnFloor(Body, frozen=True):
    """The teams of a heat walked on."""

    heat: str


class HeatSteppedBack(Body, frozen=True):
    """The last step of a heat that has not started does not hold: its walk-on, else its call."""

    heat: str


class LaneReady(Body, frozen=True):
    """A report: a judge says that a lane is ready for its heat, or takes that back."""

    heat: str
    lane: int
    ready: bool = True


class ReportChosen(Body, frozen=True):
    """Of two differing reports the head judge took this one."""

    workout: str
    part: str
    team: str
    attempt: int
    report_seq: int


class ReportTaken(Body, frozen=True):
    """An unplaced report was given a place and counts."""

    report_seq: int
    workout: str
    part: str
    team: str
    attempt: int
    reason: str


class ReportDismissed(Body, frozen=True):
    """An unplaced report was looked at and counts for nothing."""

    report_seq: int
    reason: str


class ScoreCorrected(Body, frozen=True):
    """The head judge set a result in place of what was reported."""

    workout: str
    part: str
    team: str
    attempt: int
    result: Result
    reason: str


class PenaltyGiven(Body, frozen=True):
    """Seconds added to, or counts taken off, a result."""

    workout: str
    part: str
    team: str
    attempt: int
    reason: str
    seconds: int = 0
    counts: int = 0


class PenaltyLifted(Body, frozen=True):
    """A penalty that no longer stands; names the entry that gave it."""

    workout: str
    part: str
    team: str
    attempt: int
    penalty_seq: int
    reason: str


class RerunGranted(Body, frozen=True):
    """A team may do a workout once more; what counts is fixed before it starts."""

    workout: str
    team: str
    counts: Literal["replaces", "better"]
    reason: str


class StandingsPosted(Body, frozen=True):
    """The standings of a division were posted; the appeal window runs from here."""

    division: str
    final: bool = False


class RulingMade(Body, frozen=True):
    """A question was answered for everyone; its number is given when it is folded."""

    question: str
    answer: str
    workout: str = ""
    movement: str = ""


class RulingWithdrawn(Body, frozen=True):
    """A ruling that no longer holds."""

    number: int
    reason: str


class RulingAcknowledged(Body, frozen=True):
    """A report: on this device a judge has read what entry `seen_seq` said about a ruling."""

    number: int
    seen_seq: int


class AmendmentMade(Body, frozen=True):
    """A workout changed after it was told; its number is given when it is folded.

    `from_heat` is the first heat it holds for (empty: none is still to come), `remedy` what
    becomes of the heats that had run, `common_point` where all are compared if that is it.
    """

    workout: Workout
    what: str
    why: str
    decided_by: Decider
    from_heat: str
    remedy: Remedy = "none"
    common_point: str = ""


class DeviceJoined(Body, frozen=True):
    """A device took up a role."""

    device: str
    role: Role


class DeviceRevoked(Body, frozen=True):
    """A device lost its role; what it still sends is kept unplaced."""

    device: str


class TrainingTaken(Body, frozen=True):
    """A report: the holder of the sending device checked what they know of the standards.

    `movements` are the ids asked about; of `asked` answers `right` were right. `person` is the
    number of the volunteer, if they typed it.
    """

    movements: tuple[str, ...]
    right: int
    asked: int
    person: str = ""

    def __post_init__(self) -> None:
        """Hold the numbers against each other."""
        if not 0 <= self.right <= self.asked:
            raise ValueError(f"right is {self.right}, of {self.asked} asked")


class BookCarried(Body, frozen=True):
    """Another laptop carries on from a copy, whose last entry was `after_seq`."""

    generation: int
    after_seq: int


class DeskSet(Body, frozen=True):
    """How cards are typed from now on; `double_entry`: two people type each."""

    double_entry: bool


class ScreenSet(Body, frozen=True):
    """What the screen in the hall shows from now on, whole."""

    screen: Screen


class PersonErased(Body, frozen=True):
    """Everything personal of somebody is erased; what they did stays, under no name."""

    person: str


class EveryoneErased(Body, frozen=True):
    """Everything personal is erased, but of those who gave money or are owed it, and the budget's.

    `due`: because the day for it had come.
    """

    due: bool = False


class RehearsalMarked(Body, frozen=True):
    """The whole book is a practice run; every page and sheet says so."""

    seed: int
