"""What a template calls to say the values of a forecast."""

from callroom.model.forecast import MovementVolume, Quantiles
from callroom.model.workout import PartKind
from callroom.views import forecast_wording, wording
from callroom.views.forecast import FloorOutlook, PartOutlook
from callroom.views.spread import Hill
from callroom.views.work_wording import Speech


class OutlookVoice:
    """Says forecasts in an event's language, unit and names."""

    def __init__(self, speech: Speech) -> None:
        """Speak with what the writing of work rests on."""
        self._speech = speech
        self._words = speech.words

    def value(self, number: int, kind: PartKind) -> str:
        """Return a result of a part of a kind."""
        return forecast_wording.value(number, kind, self._speech.first, self._words)

    def middle(self, part: PartOutlook) -> str:
        """Return what half of the teams reach; a dash where fewer do."""
        number = forecast_wording.results(part).p50
        return "–" if number is None else self.value(number, part.forecast.kind)

    def span(self, part: PartOutlook) -> str:
        """Return the results of the middle four fifths."""
        told: Quantiles = forecast_wording.results(part)
        kind = part.forecast.kind
        return forecast_wording.span(told, kind, self._speech.first, self._words)

    def pace(self, permille: int) -> str:
        """Return a pace in words: ``"8 % slower"``, ``"as forecast"``."""
        return forecast_wording.pace(permille, self._words)

    def picture(self, hill: Hill) -> str:
        """Return in words what a hill shows, for who does not see it."""
        part = hill.outlook
        return self._words.gettext("{division}: half by {middle}, eight in ten {span}").format(
            division=part.division_name, middle=self.middle(part), span=self.span(part)
        )

    def stall(self, part: PartOutlook) -> str:
        """Return where teams lose most."""
        return forecast_wording.stall(part, self._speech.catalogue, self._words)

    def at_cap(self, part: PartOutlook) -> str:
        """Return the work the slowest tenth has done at the cap, of all there is; empty if all."""
        least = part.forecast.counts.p10
        if least is None or part.total is None or least >= part.total:
            return ""
        return f"{least} / {part.total}"

    def held(self, floor: FloorOutlook) -> str:
        """Return how long nine heats in ten hold the floor at most."""
        held_s = floor.floor_s.p90 if floor.floor_s.p90 is not None else floor.planned_floor_s
        return wording.stopwatch(held_s)

    def spare(self, floor: FloorOutlook) -> str:
        """Return what such a heat leaves of the time planned for it; empty if nothing."""
        held_s = floor.floor_s.p90 if floor.floor_s.p90 is not None else floor.planned_floor_s
        left_s = floor.planned_floor_s - held_s
        return wording.stopwatch(left_s) if left_s > 0 else ""

    def capacity(self, name: str) -> str:
        """Return what a workout tests in plain words."""
        return forecast_wording.capacity(name, self._words)

    def lighter(self, part: PartOutlook) -> str:
        """Return the loads that are advised, each with the one it replaces."""
        names = {category.id: category.name for category in self._speech.categories}
        movements = {step.task: step.movement for step in part.forecast.steps}
        said = []
        for load in part.lighter:
            new, old = (
                forecast_wording.load(grams, self._speech.first, self._words)
                for grams in (load.advised_g, load.published_g)
            )
            name = wording.movement(movements.get(load.task, load.task), self._speech.catalogue)
            of = f"{name}, {names[load.category]}" if load.category in names else name
            said.append(
                self._words.gettext("{of}: {new} instead of {old}").format(of=of, new=new, old=old)
            )
        return "; ".join(said)

    def volume(self, volume: MovementVolume) -> str:
        """Return how much of a movement one athlete does: ``"142 m shuttle runs"``."""
        much = wording.amount(volume.each, volume.unit, self._words)
        name = wording.movement(volume.movement, self._speech.catalogue, 2)
        return f"{much} {name}"
