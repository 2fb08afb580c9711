"""Heat sheets as PDF: one page for the floor crew of each heat."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.phrases import LONGEST_NAME, clock, frame, team_name, times_of_all, workout_name
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording, work_wording
from callroom.views.heat_sheet import HeatSheet, HeatSheets, Setting, SheetLane
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech

# Characters that a cell of the table holds in two or three lines.
_LONGEST_WORDS = 40


def heat_sheets_pdf(view: HeatSheets, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return all heat sheets of `view` in one PDF, a page each, in the order of time."""
    return typeset("heat_sheets", heat_sheets_payload(view, speech), size=size, at=at)


def heat_sheets_payload(view: HeatSheets, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    return {
        "frame": frame(view.masthead, words.gettext("Heat sheets"), words),
        "labels": {
            "heat": words.gettext("Heat"),
            "lane": words.gettext("Lane"),
            "team": words.gettext("Team"),
            "set_up": words.gettext("Set up"),
            "here": words.gettext("Here"),
            "judge": words.gettext("Judge"),
            "kit": words.gettext("Kit for this heat"),
            "started": words.gettext("Started at"),
            "remarks": words.gettext("Remarks"),
        },
        "sheets": [_sheet(sheet, view.masthead, speech) for sheet in view.sheets],
    }


def _sheet(sheet: HeatSheet, head: Masthead, speech: Speech) -> Payload:
    words = speech.words
    heat = sheet.heat
    judges = words.ngettext("{count} judge", "{count} judges", sheet.judges)
    per_lane = words.gettext("{count} to a lane").format(count=sheet.workout.judges_per_lane)
    return {
        "workout": workout_name(heat.workout, words),
        "workout_number": heat.workout.number,
        "number": str(heat.number),
        "of": words.gettext("of {count}").format(count=sheet.of),
        "floor": name_text(wording.one_line(sheet.floor, LONGEST_NAME), heat.floor),
        "goals": [wording.goal(part, words) for part in sheet.workout.parts],
        "times": [
            *times_of_all(heat, head, words),
            {"label": words.gettext("Floor clear"), "text": clock(head, heat.end_s)},
        ],
        "judges": judges.format(count=sheet.judges),
        "judges_note": per_lane if sheet.workout.judges_per_lane > 1 else "",
        "judge_lines": sheet.workout.judges_per_lane,
        "lanes": [_lane(lane, words, speech) for lane in sheet.lanes],
        "kit": [
            {
                **_setting(line.setting, speech),
                "lanes": words.ngettext("lane {lanes}", "lanes {lanes}", len(line.lanes)).format(
                    lanes=wording.spans(line.lanes)
                ),
            }
            for line in sheet.kit
            if _needs_kit(line.setting, speech)
        ],
    }


def _lane(lane: SheetLane, words: NullTranslations, speech: Speech) -> Payload:
    notes = {
        "team": "",
        "held": words.gettext("held for re-runs"),
        "empty": words.gettext("stays empty"),
    }
    place = lane.place
    team = team_name(place.name, place.team) if place is not None else ""
    gone = words.gettext("{team} has withdrawn").format(team=team)
    return {
        "lane": str(lane.lane),
        "team": team if lane.use == "team" else "",
        "division": wording.one_line(place.division, _LONGEST_WORDS)
        if place is not None and lane.use == "team"
        else "",
        "note": gone if place is not None and place.withdrawn else notes[lane.use],
        "settings": [_setting(one, speech) for one in lane.settings if _needs_kit(one, speech)],
    }


def _needs_kit(setting: Setting, speech: Speech) -> bool:
    """Whether something must stand in the lane: a lift's bar too, though its load is open."""
    known = speech.catalogue.get(setting.movement)
    return bool(setting.loads or setting.heights or (known is not None and known.kit))


def _setting(setting: Setting, speech: Speech) -> Payload:
    return {
        "movement": wording.one_line(
            wording.movement(setting.movement, speech.catalogue), _LONGEST_WORDS
        ),
        "values": list(work_wording.published(setting.loads, setting.heights, speech)),
    }
