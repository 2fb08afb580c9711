"""From a kind to the function that folds it, and from entries to a State."""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any

from callroom.journal.entries.envelope import Entry
from callroom.journal.fold import (
    changes,
    check_in,
    entering,
    ground,
    heat_clock,
    helping,
    lanes,
    line_ups,
    money,
    movements,
    paces,
    planned,
    running,
    safety,
    scores,
    setup,
    training,
    verdicts,
)
from callroom.journal.fold.builder import Builder
from callroom.model import State

# Bodies differ by kind; the codec has made sure that each kind comes with its own.
Step = Callable[[Builder, Entry, Any], None]

STEPS: Mapping[str, Step] = MappingProxyType(
    {
        "event.set": setup.event_set,
        "team.set": setup.team_set,
        "team.left": setup.team_left,
        "team.back": setup.team_back,
        "entering.set": entering.entering_set,
        "team.enrolled": entering.team_enrolled,
        "team.revised": entering.team_revised,
        "team.accepted": entering.team_accepted,
        "enrolment.ended": entering.enrolment_ended,
        "helping.set": helping.helping_set,
        "help.offered": helping.help_offered,
        "offer.ended": helping.offer_ended,
        "crew.set": setup.crew_set,
        "crew.left": setup.crew_left,
        "kit.set": setup.kit_set,
        "plan.published": setup.plan_published,
        "plan.changed": setup.plan_changed,
        "plan.repaired": planned.plan_repaired,
        "plan.frozen": planned.plan_frozen,
        "plan.thawed": planned.plan_thawed,
        "loss.noted": planned.loss_noted,
        "loss.over": planned.loss_over,
        "rota.published": planned.rota_published,
        "rota.changed": planned.rota_changed,
        "heat.called": running.heat_called,
        "heat.started": running.heat_started,
        "heat.restarted": running.heat_restarted,
        "heat.finished": running.heat_finished,
        "heat.stopped": heat_clock.heat_stopped,
        "stop.ruled": heat_clock.stop_ruled,
        "rerun.started": heat_clock.rerun_started,
        "credit.given": heat_clock.credit_given,
        "heat.confirmed": running.heat_confirmed,
        "heat.reopened": running.heat_reopened,
        "team.arrived": running.team_arrived,
        "line_up.set": line_ups.line_up_set,
        "athlete.stood_down": line_ups.athlete_stood_down,
        "athlete.cleared": line_ups.athlete_cleared,
        "pace.taken": paces.pace_taken,
        "pace.dropped": paces.pace_dropped,
        "team.no_show": running.team_no_show,
        "team.awaited": running.team_awaited,
        "heat.on_floor": running.heat_on_floor,
        "heat.stepped_back": running.heat_stepped_back,
        "score.reported": scores.score_reported,
        "lane.noted": lanes.lane_noted,
        "lane.ready": running.lane_ready,
        "report.chosen": scores.report_chosen,
        "report.taken": scores.report_taken,
        "report.dismissed": scores.report_dismissed,
        "score.corrected": scores.score_corrected,
        "penalty.given": scores.penalty_given,
        "penalty.lifted": scores.penalty_lifted,
        "rerun.granted": scores.rerun_granted,
        "standings.posted": running.standings_posted,
        "ruling.made": changes.ruling_made,
        "ruling.withdrawn": changes.ruling_withdrawn,
        "ruling.acknowledged": changes.ruling_acknowledged,
        "amendment.made": changes.amendment_made,
        "appeal.made": verdicts.appeal_made,
        "appeal.decided": verdicts.appeal_decided,
        "appeal.withdrawn": verdicts.appeal_withdrawn,
        "podium.released": verdicts.podium_released,
        "embargo.set": verdicts.embargo_set,
        "plan.reseeded": verdicts.plan_reseeded,
        "device.joined": running.device_joined,
        "device.revoked": running.device_revoked,
        "training.taken": training.training_taken,
        "book.carried": running.book_carried,
        "desk.set": running.desk_set,
        "screen.set": running.screen_set,
        "budget.set": money.budget_set,
        "money.booked": money.money_booked,
        "money.reversed": money.money_reversed,
        "money.promised": money.money_promised,
        "promise.ended": money.promise_ended,
        "receipt.kept": money.receipt_kept,
        "movement.set": movements.movement_set,
        "movement.dropped": movements.movement_dropped,
        "movement.permitted": movements.movement_permitted,
        "safety.set": safety.safety_set,
        "weather.read": safety.weather_read,
        "incident.noted": safety.incident_noted,
        "incident.followed": safety.incident_followed,
        "ground.set": ground.ground_set,
        "side.set": ground.side_set,
        "side.dropped": ground.side_dropped,
        "check.ticked": ground.check_ticked,
        "check.added": ground.check_added,
        "check.dropped": ground.check_dropped,
        "athletes.here": check_in.athletes_here,
        "pack.given": check_in.pack_given,
        "paper.signed": check_in.paper_signed,
        "go.decided": check_in.go_decided,
        "book.taken": check_in.book_taken,
        "book.stayed": check_in.book_stayed,
        "person.erased": running.person_erased,
        "everyone.erased": running.everyone_erased,
        "rehearsal.marked": running.rehearsal_marked,
    }
)


class EventFolder:
    """Folds entries of all known kinds into a State, one batch at a time."""

    def begin(self, state: State) -> "Batch":
        """Open a batch on a frozen State."""
        return Batch(state)


class Batch:
    """One batch being folded."""

    def __init__(self, state: State) -> None:
        """Begin from a frozen `state`."""
        self._builder = Builder(state)

    @property
    def state(self) -> State:
        """The State as it stands within the batch; valid until the next entry."""
        return self._builder.state

    def apply(self, entry: Entry, body: Any) -> None:  # noqa: ANN401 - see Step
        """Fold one entry with its decoded body."""
        self._builder.seq = entry.seq
        self._builder.at_ms = entry.at_ms
        STEPS[entry.kind](self._builder, entry, body)

    def freeze(self) -> State:
        """Return the State after the batch; the batch is not used any more."""
        return self._builder.state


def fold_all(entries: Iterable[tuple[Entry, Any]], state: State | None = None) -> State:
    """Fold decoded entries, in order of `seq`, onto `state` (default: an empty one)."""
    batch = Batch(state or State())
    for entry, body in entries:
        batch.apply(entry, body)
    return batch.freeze()
