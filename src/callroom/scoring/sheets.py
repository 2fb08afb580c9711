"""The score sheets of a book, sorted once for all standings."""

from collections.abc import Mapping, Sequence

from callroom.model import Rerun, ScoreSheet, State


class Sheets:
    """All sheets by part and division, in the order they came, and all re-runs by workout."""

    def __init__(self, state: State) -> None:
        """Sort the sheets and re-runs of `state`; a sheet of an unknown team is left out."""
        divisions = {team.id: team.division for team in state.teams.values()}
        self._sheets: dict[tuple[str, str, str], list[ScoreSheet]] = {}
        for sheet in state.sheets.values():
            division = divisions.get(sheet.team, "")
            key = (sheet.workout, sheet.part, division)
            known = self._sheets.get(key)
            if known is None:
                self._sheets[key] = [sheet]
            else:
                known.append(sheet)
        self._reruns: dict[str, dict[str, tuple[Rerun, ...]]] = {}
        for granted in state.reruns.values():
            for rerun in granted:
                by_team = self._reruns.setdefault(rerun.workout, {})
                by_team[rerun.team] = (*by_team.get(rerun.team, ()), rerun)

    def of(self, workout: str, part: str, division: str) -> Sequence[ScoreSheet]:
        """Return every sheet of one part in one division."""
        return self._sheets.get((workout, part, division), ())

    def reruns(self, workout: str) -> Mapping[str, Sequence[Rerun]]:
        """Return the re-runs granted in a workout, by team."""
        return self._reruns.get(workout, {})
