"""The presenter's sheet: the first three of a division, third place first, to be read aloud."""

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby

from callroom.model import from_milliseconds
from callroom.paper.phrases import frame, team_name, workout_name
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording
from callroom.views.podium import Podium, PodiumTeam
from callroom.views.podium_sheet import PodiumSheet
from callroom.views.result_wording import score_text
from callroom.views.sentences import reasons_text
from callroom.views.work_wording import Speech

_LONGEST_LINE = 200


def podium_pdf(view: PodiumSheet, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the sheet; the same view gives the same bytes."""
    return typeset("podium", podium_payload(view, speech), size=size, at=at)


def podium_payload(view: PodiumSheet, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words, shown = speech.words, view.podium
    as_of = wording.clock(from_milliseconds(shown.at_ms), view.masthead.zone)
    by_place = [
        (place, list(teams))
        for place, teams in groupby(shown.teams, key=lambda team: team.place.place)
    ]
    return {
        "frame": frame(view.masthead, words.gettext("Podium"), words),
        "division": name_text(wording.one_line(shown.division.name, 60), shown.division.id),
        "as_of": words.gettext("As of {time}").format(time=as_of),
        "read": words.gettext("Read from the top: third place first."),
        "places": [_place(place, teams, shown, speech) for place, teams in reversed(by_place)],
        "standing": _standing(view, speech),
        "by_decision": not shown.certain,
    }


def _place(place: int, teams: Sequence[PodiumTeam], shown: Podium, speech: Speech) -> Payload:
    words = speech.words
    shared = words.gettext("Place shared by {count} teams")
    return {
        "place": str(place),
        "ordinal": wording.place(place, words),
        "shared": shared.format(count=len(teams)) if len(teams) > 1 else "",
        "teams": [_team(team, shown, speech) for team in teams],
    }


def _team(team: PodiumTeam, shown: Podium, speech: Speech) -> Payload:
    words = speech.words
    points = words.gettext("{points} points").format(points=team.points)
    gym = wording.one_line(team.gym, _LONGEST_LINE)
    return {
        "name": team_name(team.name, team.place.team),
        "say_it": wording.one_line(team.say_it, _LONGEST_LINE),
        "facts": wording.joined_by_dots([points, *([gym] if gym else [])]),
        "why": reasons_text(team.reasons, words.gettext),
        "results": [
            {
                "workout": wording.joined_by_dots(
                    [
                        workout_name(result.workout, words),
                        *([result.part_name] if result.part_name else []),
                    ]
                ),
                "result": score_text(result.score, result.part, shown.division, words) or "–",
                "place": wording.place(result.place, words) if result.place else "–",
            }
            for result in team.results
        ],
    }


def _standing(view: PodiumSheet, speech: Speech) -> str:
    words, shown = speech.words, view.podium
    if shown.certain:
        return words.gettext("Certain: nothing that is still open can change these places.")
    if shown.release is None:
        return words.gettext("Not certain, and not to be presented.")
    at = wording.clock(from_milliseconds(shown.release.at_ms), view.masthead.zone)
    said = words.gettext(
        "NOT CERTAIN. Presented by decision of {who} at {time}, although open scores could still "
        "change it: {reason}"
    )
    return said.format(
        who=shown.release.actor.replace("_", " "), time=at, reason=shown.release.reason
    )
