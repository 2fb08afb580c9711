"""The score sheets of a book, sorted once for all standings."""

from collections.abc import Mapping, Sequence

from callroom.model import Rerun, ScoreSheet, State


class Sheets:
    """All sheets by part, in the order they came, and all re-runs by workout."""

    def __init__(self, state: State) -> None:
        """Sort the sheets and re-runs of `state`."""
        self._divisions = {team.id: team.division for team in state.teams.values()}
        self._sheets: dict[str, dict[str, list[ScoreSheet]]] = {}
        for sheet in state.sheets.values():
            of_workout = self._sheets.get(sheet.workout)
            if of_workout is None:
                of_workout = self._sheets[sheet.workout] = {}
            of_part = of_workout.get(sheet.part)
            if of_part is None:
                of_part = of_workout[sheet.part] = []
            of_part.append(sheet)
        self._reruns: dict[str, dict[str, tuple[Rerun, ...]]] = {}
        for granted in state.reruns.values():
            for rerun in granted:
                by_team = self._reruns.setdefault(rerun.workout, {})
                by_team[rerun.team] = (*by_team.get(rerun.team, ()), rerun)

    def of(self, workout: str, part: str, division: str) -> list[ScoreSheet]:
        """Return every sheet of one part in one division."""
        divisions = self._divisions
        return [
            sheet
            for sheet in self._sheets.get(workout, {}).get(part, ())
            if divisions.get(sheet.team) == division
        ]

    def reruns(self, workout: str) -> Mapping[str, Sequence[Rerun]]:
        """Return the re-runs granted in a workout, by team."""
        return self._reruns.get(workout, {})
