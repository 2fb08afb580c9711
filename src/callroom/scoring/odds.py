"""Chances of the podium: what is to come, played many times from the results and the forecast.

A guess, and no part of any result: abilities are told from places so far
(:mod:`callroom.scoring.latent`), and results of a part are spread as its forecast says. It loads
numpy, so it is imported where chances are asked for and nowhere else.
"""

from collections.abc import Mapping, Sequence
from math import lcm

import msgspec
import numpy as np
from numpy.typing import NDArray

from callroom.model.forecast import PartForecast
from callroom.scoring.division import DivisionScores, DivisionStandings
from callroom.scoring.latent import ability, common_share, normal_scores
from callroom.scoring.overall import parts_named
from callroom.scoring.points import Award
from callroom.scoring.rank import NO_PLACE
from callroom.scoring.resolve import Terms
from callroom.scoring.score import Score
from callroom.scoring.standings import standings_of

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

DRAWS = 4000
_PLACES = 3
_LEFT_AT_CAP = 1.0
"""How far a capped team that did nothing is behind one just at the cap, in standard deviations
of the results. Our own assumption: it only orders those who have finished against others."""


class TeamOdds(msgspec.Struct, frozen=True, kw_only=True):
    """In how many of 1000 plays a team ended in place 1, 2 and 3, shared places included."""

    team: str
    places: tuple[int, int, int]

    @property
    def podium(self) -> int:
        """In how many of 1000 plays it was among the first three."""
        return sum(self.places)


class PodiumOdds(msgspec.Struct, frozen=True, kw_only=True):
    """The chances of every team, the best first, by `draws` plays.

    `to_come` are the parts that were played; `in_common_percent` is how much of a team's
    standing in one part it is taken to bring to the next.
    """

    draws: int
    to_come: tuple[tuple[str, str], ...]
    in_common_percent: int
    teams: tuple[TeamOdds, ...]


def podium_odds(
    scored: DivisionScores,
    forecasts: Mapping[tuple[str, str], PartForecast],
    generator: np.random.Generator,
    *,
    draws: int = DRAWS,
) -> PodiumOdds | None:
    """Return the chances of the podium; None where points hang on the result itself.

    Parameters
    ----------
    forecasts
        By (workout, part); a part without one is ordered by ability and chance alone.
    generator
        Draws ability and luck; the same one gives the same chances.

    Notes
    -----
    Every team that is still in takes a place in all that is to come. Results already reported
    in a part that does not count yet are kept where its forecast lets them be compared.
    """
    standings = standings_of(scored)
    award = Award(scored.rules.points, standings.starters)
    if not award.by_place:
        return None
    done = [part for part in standings.parts if part.complete and not part.void]
    scores = [normal_scores(part) for part in done]
    rho = common_share(scores)
    known = [ability(scores, entrant.team, rho) for entrant in scored.field]
    racing = np.array([one.takes_places and one.status == "in" for one in scored.field])
    abilities = np.array([one.mean for one in known]) + generator.standard_normal(
        (draws, len(known))
    ) * np.sqrt([one.variance for one in known])
    columns: list[Whole] = []
    to_come: list[tuple[str, str]] = []
    for part, ranked in zip(scored.parts, standings.parts, strict=True):
        if part.void:
            continue
        if ranked.complete:
            placed = {row.team: row.place or NO_PLACE for row in ranked.rows}
            column = np.array([placed[one.team] for one in scored.field], np.int64)
            columns.append(np.broadcast_to(column, abilities.shape))
            continue
        name = (part.terms.workout, part.terms.part.id)
        to_come.append(name)
        luck = generator.standard_normal(abilities.shape) * np.sqrt(1 - rho)
        marks = _marks(part.terms, part.scores, abilities + luck, forecasts.get(name))
        columns.append(_places(np.where(racing, marks, -np.inf), racing))
    names = [(part.terms.workout, part.terms.part.id) for part in scored.parts if not part.void]
    places = np.stack(columns, axis=2) if columns else np.empty((*abilities.shape, 0), np.int64)
    worth = _worth(scored, award, len(known))
    found = _overall(scored, places, worth, names, fewest_best=award.fewest_best)
    return PodiumOdds(
        draws=draws,
        to_come=tuple(to_come),
        in_common_percent=round(100 * rho),
        teams=_told(standings, scored, found),
    )


def _marks(
    terms: Terms, scores: Sequence[Score], drawn: Floats, forecast: PartForecast | None
) -> Floats:
    """Return results that can be compared, higher is better, equal where a clock shows the same.

    `drawn` are standard normal numbers, (draws, teams); a known result stands in its column.
    """
    if forecast is None or not forecast.sd_log:
        return drawn
    mean, spread = forecast.mean_log / 1000, forecast.sd_log / 1000
    timed = terms.part.kind == "time"
    marks = drawn.copy()
    for at, score in enumerate(scores):
        mark = _mark(terms, score, mean, spread)
        if mark is not None:
            marks[:, at] = mark
    if not timed:
        return np.floor(np.exp(np.clip(mean + spread * marks, -50, 50)))
    step = terms.resolution_ms / 1000
    seconds = np.floor(np.exp(np.clip(mean - spread * marks, -50, 50)) / step) * step
    capped = seconds > terms.part.cap_s
    return np.where(capped, marks - 1e6, -seconds)


def _mark(terms: Terms, score: Score, mean: float, spread: float) -> float | None:
    """Return where a known result stands among those that the forecast expects; None: unknown."""
    if score.kind == "finished" and score.time_ms:
        # A hair better than its second, so that cutting off gives that second again.
        return (mean - float(np.log((score.time_ms + 1) / 1000))) / spread
    if score.kind == "capped":
        left = 1 - (score.work or 0) / max(terms.total, score.work or 0, 1)
        at_cap = (mean - float(np.log(terms.part.cap_s + 1))) / spread
        return at_cap - _LEFT_AT_CAP * left
    number = score.work if score.kind == "worked" else score.distance_m
    if score.kind == "lifted":
        number = int(score.load_g)
    if number:
        return (float(np.log(number + 0.5)) - mean) / spread
    return None


def _places(marks: Floats, racing: NDArray[np.bool_]) -> Whole:
    """Return the place of each mark in its row, equal ones sharing the better; else no place."""
    order = np.argsort(-marks, axis=1, kind="stable")
    sorted_marks = np.take_along_axis(marks, order, axis=1)
    found = np.empty(marks.shape, np.int64)
    np.put_along_axis(found, order, _shared(sorted_marks[:, 1:] != sorted_marks[:, :-1]), axis=1)
    return np.where(racing, found, NO_PLACE)


def _shared(differs: NDArray[np.bool_]) -> Whole:
    """Return places by position, from whether each differs from the one before it."""
    rows, teams = differs.shape[0], differs.shape[1] + 1
    first = np.concatenate((np.ones((rows, 1), bool), differs), axis=1)
    return np.maximum.accumulate(np.where(first, np.arange(1, teams + 1), 0), axis=1)


def _worth(scored: DivisionScores, award: Award, teams: int) -> list[Whole]:
    """Return for each part what every place earns, before them what none does, in whole units."""
    tables = [
        [award.worth(part.terms.part, place or None, part.scores[0]) for place in range(teams + 1)]
        for part in scored.parts
        if not part.void and part.scores
    ]
    # Formulas may earn fractions without end; a millionth of a point decides no chance.
    scale = min(lcm(*(earned.denominator for table in tables for earned in table), 1), 10**6)
    return [np.array([int(earned * scale) for earned in table], np.int64) for table in tables]


def _overall(
    scored: DivisionScores,
    places: Whole,
    worth: Sequence[Whole],
    names: Sequence[tuple[str, str]],
    *,
    fewest_best: bool,
) -> Whole:
    """Return the overall place in every play, (draws, teams); no place: `NO_PLACE`."""
    sign = 1 if fewest_best else -1
    missing = places == NO_PLACE
    earned = [
        table[np.where(missing[:, :, at], 0, places[:, :, at])] for at, table in enumerate(worth)
    ]
    total = sign * sum(earned, np.zeros(places.shape[:2], np.int64))
    gap = missing.any(axis=2)
    out = np.array([one.status in {"disqualified", "out_of_competition"} for one in scored.field])
    unranked = out | (gap if scored.rules.absent_overall == "unranked" else False)
    keys = [np.where(unranked, 2, gap.astype(np.int64)), total]
    for item in scored.rules.tie_chain:
        if item == "shared":
            break
        if item == "most_firsts":
            best_first = np.sort(places, axis=2)
            keys += [best_first[:, :, at] for at in range(places.shape[2])]
            continue
        named = parts_named(item, names)
        if len(named) == 1:
            keys.append(places[:, :, named[0]])
        elif named:
            keys.append(sign * sum((earned[at] for at in named), np.zeros_like(total)))
    order = np.lexsort(tuple(keys[::-1]), axis=-1)
    differs = np.zeros((places.shape[0], max(places.shape[1] - 1, 0)), bool)
    for key in keys:
        ordered = np.take_along_axis(key, order, axis=1)
        differs |= ordered[:, 1:] != ordered[:, :-1]
    found = np.empty(total.shape, np.int64)
    np.put_along_axis(found, order, _shared(differs), axis=1)
    return np.where(unranked, NO_PLACE, found)


def _told(
    standings: DivisionStandings, scored: DivisionScores, found: Whole
) -> tuple[TeamOdds, ...]:
    draws = found.shape[0]
    shares = [
        [round(1000 * int(count) / draws) for count in (found == place).sum(axis=0)]
        for place in range(1, _PLACES + 1)
    ]
    index = {entrant.team: at for at, entrant in enumerate(scored.field)}
    rows = [
        TeamOdds(
            team=row.team,
            places=(
                shares[0][index[row.team]],
                shares[1][index[row.team]],
                shares[2][index[row.team]],
            ),
        )
        for row in standings.rows
    ]
    return tuple(sorted(rows, key=lambda odds: (-odds.podium, *(-share for share in odds.places))))
