"""Results to standings, exactly.

Decides: which report counts, how scores rank, how places become points, how ties break, the
reason for every place, and what is odd about a score; later the odds.
Never does: store, round or hide a score; know where a score came from; refuse one.
May import: ``model``; numpy for the odds alone.
"""

from callroom.scoring.catalogue import RULES
from callroom.scoring.division import DivisionScores, DivisionStandings, Scored
from callroom.scoring.entrants import Entrant, EntrantStatus, short_handed
from callroom.scoring.formula import FormulaError
from callroom.scoring.odd import Lane, odd_result, odd_scores
from callroom.scoring.overall import OverallRow, OverallStanding
from callroom.scoring.part_reasons import load_text, part_reasons
from callroom.scoring.parts import PartRow, PartStandings
from callroom.scoring.podium import OnPodium, OpenScore, PodiumGate, gate_of, podium_gate
from callroom.scoring.points import check_points, points_text
from callroom.scoring.rank import places
from callroom.scoring.reasons import Called, Reason, called, overall_reasons
from callroom.scoring.score import Score, ScoreKind
from callroom.scoring.standings import (
    all_standings,
    division_scores,
    division_standings,
    part_standings,
    standings_of,
)

__all__ = [
    "RULES",
    "Called",
    "DivisionScores",
    "DivisionStandings",
    "Entrant",
    "EntrantStatus",
    "FormulaError",
    "Lane",
    "OnPodium",
    "OpenScore",
    "OverallRow",
    "OverallStanding",
    "PartRow",
    "PartStandings",
    "PodiumGate",
    "Reason",
    "Score",
    "ScoreKind",
    "Scored",
    "all_standings",
    "called",
    "check_points",
    "division_scores",
    "division_standings",
    "gate_of",
    "load_text",
    "odd_result",
    "odd_scores",
    "overall_reasons",
    "part_reasons",
    "part_standings",
    "places",
    "podium_gate",
    "points_text",
    "short_handed",
    "standings_of",
]
