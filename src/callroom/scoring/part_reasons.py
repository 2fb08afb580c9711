"""Why a team has its place in one part, as facts. Made when somebody asks."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from decimal import Decimal

from callroom.model import Fact, Mass, Part
from callroom.scoring.key import same_result
from callroom.scoring.parts import PartRow, PartStandings
from callroom.scoring.points import points_text
from callroom.scoring.reasons import Called, Reason, told_together
from callroom.scoring.score import Score


def part_reasons(
    standings: PartStandings, part: Part, team: str, names: Called
) -> tuple[Reason, ...]:
    """Return why `team` has its place in `part`; KeyError if it is not in the division."""
    row = standings.row(team)
    if standings.void:
        return (Reason("result.void"), _result(row.score, part))
    return (
        *_place(row),
        _result(row.score, part),
        *_circumstances(row.score, part),
        *_ties(standings, row, names),
    )


def load_text(masses: Sequence[Mass]) -> str:
    """Return loads as they were loaded, added up by unit: ``"315 kg"``, ``"100 kg + 225 lb"``."""
    sums: dict[str, Decimal] = defaultdict(Decimal)
    for mass in masses:
        sums[mass.unit] += mass.amount
    return " + ".join(f"{amount.normalize():f} {unit}" for unit, amount in sums.items())


def _place(row: PartRow) -> Iterator[Reason]:
    points = points_text(row.points)
    if row.place is not None:
        yield Reason("result.place", {"place": row.place, "points": points})
    elif row.score.kind != "awaited":
        yield Reason("result.no_place", {"points": points})
    if row.status == "out_of_competition":
        yield Reason("overall.out_of_competition")


def _result(score: Score, part: Part) -> Reason:
    if score.kind == "capped" and score.time_ms is not None:
        return Reason(
            "result.capped_as_time",
            {"time_ms": score.time_ms, "cap_s": part.cap_s, "missing": score.missing},
        )
    if score.kind == "lifted" and not score.masses:
        return Reason("result.lifted_nothing")
    facts: dict[str, dict[str, Fact]] = {
        "finished": {"time_ms": score.time_ms},
        "capped": {"work": score.work, "missing": score.missing},
        "worked": {"work": score.work},
        "lifted": {"load": load_text(score.masses)},
        "covered": {"distance_m": score.distance_m},
    }
    return Reason(f"result.{score.kind}", facts.get(score.kind, {}))


def _circumstances(score: Score, part: Part) -> Iterator[Reason]:
    if score.past_cap_ms is not None:
        yield Reason("result.past_cap", {"time_ms": score.past_cap_ms, "cap_s": part.cap_s})
    if score.penalty_s > 0:
        yield Reason("result.penalty_seconds", {"seconds": score.penalty_s})
    if score.penalty_s < 0:
        yield Reason("result.credit_seconds", {"seconds": -score.penalty_s})
    if score.penalty_counts:
        yield Reason("result.penalty_counts", {"counts": score.penalty_counts})
    if score.medical_stop:
        yield Reason("result.medical_stop")
    if score.modified:
        yield Reason("result.modified_unranked" if score.key is None else "result.modified_below")
    if score.attempt > 1:
        yield Reason("result.attempt", {"attempt": score.attempt})
    if score.rerun_awaited:
        yield Reason("result.rerun_awaited")
    if score.disputed:
        yield Reason("result.disputed")


def _ties(standings: PartStandings, row: PartRow, names: Called) -> Iterator[Reason]:
    if row.place is None or row.score.key is None:
        return
    compared = [
        (other.team, _between(row, other))
        for other in standings.rows
        if other.team != row.team
        and other.place is not None
        and other.score.key is not None
        and same_result(other.score.key, row.score.key)
    ]
    yield from told_together(compared, names)


def _between(row: PartRow, other: PartRow) -> Reason:
    """Return what parts two teams with the same result: the tie-break split, or nothing."""
    if row.place == other.place:
        return Reason("result.shared")
    mine, theirs = row.score, other.score
    if mine.kind != theirs.kind:
        finisher = mine.kind == "finished"
        return Reason("result.ahead_as_finisher" if finisher else "result.behind_as_capped")
    if mine.tiebreak_ms is None:
        return Reason("result.behind_without_split")
    if theirs.tiebreak_ms is None:
        return Reason("result.ahead_with_split", {"mine_ms": mine.tiebreak_ms})
    ahead = mine.tiebreak_ms < theirs.tiebreak_ms
    return Reason(
        "result.ahead_on_split" if ahead else "result.behind_on_split",
        {"mine_ms": mine.tiebreak_ms, "theirs_ms": theirs.tiebreak_ms},
    )
