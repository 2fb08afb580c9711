"""What is to be said of a floor's loadings: what is not reached, and what is missing."""

from collections.abc import Iterator
from fractions import Fraction

from callroom.model.finding import Fact, Finding
from callroom.model.mass import GRAMS_PER_POUND, Mass
from callroom.model.plates import Loading
from callroom.planner.plates.lacks import lacks
from callroom.planner.plates.nearest import around
from callroom.planner.plates.pose import BarDay
from callroom.planner.plates.problem import Loaded, Loadings, scale_of, wants_by_spot
from callroom.planner.plates.rules import RULES
from callroom.planner.plates.states import Ways


def loadings_of(day: BarDay, loadings: Loadings) -> tuple[Loading, ...]:
    """Return what is on every bar wanted, by heat and lane, in the order of the day."""
    at, wanted = loadings.at(), wants_by_spot(day.problem)
    found = []
    for step, moment in enumerate(day.moments):
        for place, spot in zip(day.problem.places, day.spots, strict=True):
            want = wanted.get((place, step))
            if want is not None:
                found.append(
                    Loading(
                        heat=moment.heat,
                        rung=moment.rung,
                        lane=spot.lane,
                        station=spot.station,
                        wanted=want.loads,
                        bar=at[place, step].bar,
                        sleeve=at[place, step].sleeve,
                    )
                )
    return tuple(found)


def plate_findings(day: BarDay, loadings: Loadings) -> tuple[Finding, ...]:
    """Return which loads are not reached, the nearest that can be, and what to borrow."""
    problem = day.problem
    ways, scale = Ways(problem.stock, scale_of(problem)), scale_of(problem)
    return (
        *_missed(day, loadings, ways, scale),
        *(
            RULES.found(
                "plates.lack",
                f"floor.{day.floor}",
                kind=lack.kind,
                mass=text(lack.mass),
                pieces=lack.pieces,
                heat=day.moments[lack.step].heat,
            )
            for lack in lacks(problem, loadings)
        ),
    )


def _missed(day: BarDay, loadings: Loadings, ways: Ways, scale: int) -> Iterator[Finding]:
    wanted = wants_by_spot(day.problem)
    spots = dict(zip(day.problem.places, day.spots, strict=True))
    for one in loadings.loaded:
        if one.reached:
            continue
        moment, spot = day.moments[one.step], spots[one.place]
        at, loads = f"heat.{moment.heat}", wanted[one.place, one.step].loads
        facts: dict[str, Fact] = {"heat": moment.heat, "lane": spot.lane, "station": spot.station}
        if not loads or one.bar is None:
            yield RULES.found("plates.bar_missing", at, **facts)
            continue
        want = wanted[one.place, one.step]
        said = " / ".join(text(load) for load in loads)
        if ways.of(want, scale):
            instead = _said(ways, one, loads[0].unit, scale)
            yield RULES.found("plates.not_together", at, **facts, wanted=said, instead=instead)
        else:
            below, above = around(ways, int(loads[0].grams() * scale), want.bar)
            yield RULES.found(
                "plates.unreachable",
                at,
                **facts,
                wanted=said,
                below=_mass_text(below, scale, loads[0].unit),
                above=_mass_text(above, scale, loads[0].unit),
            )


def _said(ways: Ways, one: Loaded, unit: str, scale: int) -> str:
    bars = [mass for mass, _ in ways.stock.bars]
    base = 0 if one.bar is None else ways.bars[bars.index(one.bar)]
    plates = sum(int(plate.grams() * scale) for plate in one.sleeve)
    return _mass_text(base + 2 * plates, scale, unit)


def text(mass: Mass) -> str:
    """Return a mass as written: ``"2.5 kg"``."""
    return f"{mass.amount.normalize():f} {mass.unit}"


def _mass_text(units: int | None, scale: int, unit: str) -> str:
    """Return a mass in a unit, to a hundredth; a dash where there is none."""
    if units is None:
        return "–"
    per_unit = Fraction(1000) if unit == "kg" else GRAMS_PER_POUND
    amount = float(Fraction(units, scale) / per_unit)
    return f"{amount:.2f}".rstrip("0").rstrip(".") + f" {unit}"
