"""The kinds of entry this version knows, and whether each is a report or a decision."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.journal.entries import bodies
from callroom.journal.entries.registry import Kind
from callroom.model import ScoreReport

KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        "event.set": Kind(1, bodies.EventSet),
        "team.set": Kind(1, bodies.TeamSet),
        "team.left": Kind(1, bodies.TeamLeft),
        "team.back": Kind(1, bodies.TeamBack),
        "crew.set": Kind(1, bodies.CrewSet),
        "crew.left": Kind(1, bodies.CrewLeft),
        "kit.set": Kind(1, bodies.KitSet),
        "plan.published": Kind(1, bodies.PlanPublished),
        "plan.changed": Kind(1, bodies.PlanChanged),
        "heat.called": Kind(1, bodies.HeatCalled),
        "heat.started": Kind(1, bodies.HeatStarted),
        "heat.restarted": Kind(1, bodies.HeatRestarted),
        "heat.finished": Kind(1, bodies.HeatFinished),
        "heat.confirmed": Kind(1, bodies.HeatConfirmed),
        "heat.reopened": Kind(1, bodies.HeatReopened),
        "team.arrived": Kind(1, bodies.TeamArrived, is_report=True),
        "score.reported": Kind(1, ScoreReport, is_report=True),
        "report.chosen": Kind(1, bodies.ReportChosen),
        "report.taken": Kind(1, bodies.ReportTaken),
        "report.dismissed": Kind(1, bodies.ReportDismissed),
        "score.corrected": Kind(1, bodies.ScoreCorrected),
        "penalty.given": Kind(1, bodies.PenaltyGiven),
        "penalty.lifted": Kind(1, bodies.PenaltyLifted),
        "rerun.granted": Kind(1, bodies.RerunGranted),
        "standings.posted": Kind(1, bodies.StandingsPosted),
        "ruling.made": Kind(1, bodies.RulingMade),
        "ruling.withdrawn": Kind(1, bodies.RulingWithdrawn),
        "ruling.acknowledged": Kind(1, bodies.RulingAcknowledged, is_report=True),
        "amendment.made": Kind(1, bodies.AmendmentMade),
        "device.joined": Kind(1, bodies.DeviceJoined),
        "device.revoked": Kind(1, bodies.DeviceRevoked),
        "training.taken": Kind(1, bodies.TrainingTaken, is_report=True),
        "screen.set": Kind(1, bodies.ScreenSet),
        "rehearsal.marked": Kind(1, bodies.RehearsalMarked),
    }
)
