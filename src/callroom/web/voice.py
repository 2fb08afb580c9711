"""What a template calls to say a value of a view: in the event's language, zone and names."""

from collections.abc import Iterable, Mapping
from datetime import date

import msgspec
from markupsafe import Markup

from callroom.bootstrap.language import Language
from callroom.model import (
    Division,
    Fact,
    KeptNote,
    LogMark,
    Mass,
    Penalty,
    PublishedLoad,
    Result,
    ScoreReport,
    State,
    Task,
    from_milliseconds,
    milliseconds,
    wall_time,
)
from callroom.model.side_programme import SideKind
from callroom.model.words import N_
from callroom.standards import library_with
from callroom.views import (
    amendment_wording,
    chances,
    guide_rules,
    movement_words,
    result_wording,
    wording,
    work_wording,
)
from callroom.views.amendment_text import AmendmentText
from callroom.views.clock_wording import face_spans
from callroom.views.day_wording import DaySpan, day_name, day_spans
from callroom.views.heat_clock import ClockFace
from callroom.views.history import HistoryLine
from callroom.views.kit_day import load_text, plates_text
from callroom.views.lane_log import LogLine, log_lines, note_says
from callroom.views.page_head import PageHead
from callroom.views.sentences import Said, sentence
from callroom.views.side_wording import KIND_NAMES
from callroom.views.standings import StandingsCell
from callroom.views.timetable import CREW, FloorDay, WorkoutTitle, workout_title
from callroom.views.work import PartWork, WorkBlock, WorkRow
from callroom.web.checks_voice import ChecksVoice
from callroom.web.ground_voice import GroundVoice
from callroom.web.money_voice import MoneyVoice
from callroom.web.outlook_voice import OutlookVoice
from callroom.web.rota_voice import RotaVoice
from callroom.web.safety_voice import SafetyVoice

_ROLES = {
    "director": N_("director"),
    "head_judge": N_("head judge"),
    "desk": N_("desk"),
    "judge": N_("judge"),
    "crew": N_("crew"),
    "first_aid": N_("first aid"),
    "public": N_("public"),
}


_FAMILIES = {
    "barbell": N_("Barbell"),
    "dumbbell": N_("Dumbbell"),
    "kettlebell": N_("Kettlebell"),
    "ball": N_("Ball"),
    "hanging": N_("Hanging, rings and rope"),
    "floor": N_("On the floor"),
    "jump": N_("Jumping and boxes"),
    "object": N_("Carrying, sleds and odd objects"),
    "engine": N_("Running and machines"),
}
_UNPLACED = {
    "lane_moved": N_("the plan has another team in that lane"),
    "heat_confirmed": N_("it differs, and came after the heat was confirmed"),
    "workout_amended": N_("its pad or card had the workout as it was before an amendment"),
    "device_revoked": N_("the device had lost its role"),
    "no_such_attempt": N_("no such attempt was granted"),
    "unknown": N_("no such team or workout"),
}
_DEEDS = {
    "reported": N_("Lane pad: {result}"),
    "chosen": N_("One of the reports chosen"),
    "taken": N_("A report without a place taken"),
    "corrected": N_("Corrected to {result}"),
    "penalty": N_("Penalty {penalty}"),
    "penalty_lifted": N_("Penalty taken back"),
    "confirmed": N_("Heat confirmed"),
    "reopened": N_("Heat opened again"),
    "amended": N_("Workout amended"),
    "credited": N_("Time credited {penalty}"),
    "stopped": N_("The clock of the heat was stopped"),
    "stop_ruled": N_("Ruled what counts after the stop"),
    "appealed": N_("Appeal {number}: what the team says"),
    "appeal_upheld": N_("Appeal {number} upheld"),
    "appeal_rejected": N_("Appeal {number} rejected"),
    "appeal_withdrawn": N_("Appeal {number} taken back"),
}


class Voice:
    """Says the values of one State's views."""

    def __init__(self, state: State, head: PageHead, language: Language) -> None:
        """Speak about `state` in `language`, with the day and zone of `head`."""
        self._state = state
        self._head = head
        self._words = language.words
        event = state.event
        self._work = work_wording.Speech(
            catalogue=library_with(event.movements if event is not None else ()).movements,
            categories=event.categories if event is not None else (),
            words=language.words,
            first=head.mass_unit,
        )

    @property
    def money(self) -> MoneyVoice:
        """What says money."""
        return MoneyVoice(self._state.event, self._state.budget, self._words)

    def side_kind(self, kind: SideKind) -> str:
        """Return what a kind of the side programme is called."""
        return self._words.gettext(KIND_NAMES[kind])

    @property
    def checks(self) -> ChecksVoice:
        """What says the points of the checklists."""
        return ChecksVoice(self._words)

    @property
    def ground(self) -> GroundVoice:
        """What says sizes and things of the floor plan."""
        return GroundVoice(self._head.mass_unit, self._words)

    @property
    def safety(self) -> SafetyVoice:
        """What says the values of the safety pages."""
        return SafetyVoice(self._words)

    def plates(self, plates: Iterable[Mass]) -> str:
        """Return the plates of one side of a bar."""
        return plates_text(plates, self._words)

    def load(self, wanted: Iterable[Mass]) -> str:
        """Return a load in each unit it is published in; empty for an empty bar."""
        return load_text(wanted, self._words)

    @property
    def rota(self) -> RotaVoice:
        """What says the values of a rota."""
        return RotaVoice(self._words)

    @property
    def outlook(self) -> OutlookVoice:
        """What says the values of a forecast."""
        return OutlookVoice(self._work)

    @property
    def speech(self) -> work_wording.Speech:
        """What the writing of work rests on."""
        return self._work

    def touches(self, log: tuple[LogMark, ...]) -> tuple[LogLine, ...]:
        """Return every touch of a pad in words."""
        return log_lines(log, self._words)

    def noted(self, kept: KeptNote) -> str:
        """Return what a judge noted in a lane."""
        return note_says(kept, self._words)

    def clock_face(self, face: ClockFace) -> str:
        """Return a heat's clock as JSON, for the script that runs it."""
        said = {
            "zero_ms": face.zero_ms,
            "held_ms": face.held_ms,
            "spans": face_spans(face.spans, self._words),
        }
        return msgspec.json.encode(said).decode()

    def clock(self, offset_s: int) -> Markup:
        """Return a time of the event [s from its start] on the venue's wall, marked up.

        Where the event has several days it is told with the day.
        """
        name, at = day_name(self._head.days, offset_s), self.time(offset_s)
        return Markup('<span class="day-name">{}</span> {}').format(name, at) if name else at

    def time(self, offset_s: int) -> Markup:
        """Return a time as :meth:`clock` does, without a day: for what stands beside one with it."""
        return self._time(milliseconds(self._head.instant(offset_s)))

    def day_spans(self, floors: Iterable[FloorDay]) -> tuple[DaySpan, ...]:
        """Return the days on which something is on these floors, to draw each by itself."""
        rows = tuple(floors)
        spans = [(heat.start_s, heat.end_s) for floor in rows for heat in floor.heats]
        spans += [(pause.start_s, pause.end_s) for floor in rows for pause in floor.pauses]
        return day_spans(self._head.days, spans)

    def wall(self, at_ms: int) -> Markup:
        """Return the minute of an instant [ms since 1970, UTC] on the venue's wall, marked up."""
        return self._time(at_ms - at_ms % 60_000)

    def exactly(self, at_ms: int) -> Markup:
        """Return an instant [ms since 1970, UTC] to the second, marked up."""
        return self._time(at_ms)

    def _time(self, at_ms: int) -> Markup:
        instant = from_milliseconds(at_ms)
        shown = wall_time(instant, self._head.zone)
        return Markup('<time datetime="{}">{}</time>').format(
            shown.isoformat(timespec="seconds"), wording.clock(instant, self._head.zone)
        )

    def moment(self, at_ms: int) -> str:
        """Return the day and the time at the venue of an instant [ms, UTC]."""
        at = from_milliseconds(at_ms)
        day = wording.long_date(wall_time(at, self._head.zone).date(), self._words)
        return f"{day}, {wording.clock(at, self._head.zone)}"

    def day(self, value: date) -> str:
        """Return a date in full."""
        return wording.long_date(value, self._words)

    def stopwatch(self, time_s: int) -> str:
        """Return a length of time as a clock shows it."""
        return wording.stopwatch(time_s)

    def minutes(self, time_s: int) -> int:
        """Return a length of time in whole minutes, cut off."""
        return time_s // 60

    def workout(self, title: WorkoutTitle) -> str:
        """Return a workout by name, or by number while the name is not released."""
        if title.name:
            return title.name
        return self._words.gettext("Workout {number}").format(number=title.number)

    def heat(self, number: int) -> str:
        """Return ``"Heat 3"``."""
        return self._words.gettext("Heat {number}").format(number=number)

    def place(self, number: int) -> str:
        """Return a place as an ordinal."""
        return wording.place(number, self._words)

    def in_hundred(self, permille: int) -> str:
        """Return a share in a hundred."""
        return chances.in_hundred(permille)

    def role(self, role: str) -> str:
        """Return a role by its name."""
        return self._words.gettext(_ROLES.get(role, role))

    def goal(self, work: PartWork) -> str:
        """Return what a part is about."""
        return wording.goal(work.part, self._words)

    def row(self, row: WorkRow) -> str:
        """Return one row of work: ``"21-15-9 thrusters"``."""
        asked = [work_wording.amount(row, index, self._work) for index in range(len(row.amounts))]
        told = "-".join(dict.fromkeys(asked)) if len(set(asked)) <= 1 else "-".join(asked)
        return f"{told} {work_wording.movement_name(row.task, self._work)}".strip()

    def even(self, block: WorkBlock) -> bool:
        """Whether every round of a block is the same, so that it is enough to say how many."""
        return all(len(set(row.amounts)) <= 1 for row in block.rows)

    def settings(self, row: WorkRow) -> str:
        """Return the loads and heights of a row of work."""
        return ", ".join(work_wording.settings(row, self._work))

    def reminders(self, row: WorkRow) -> str:
        """Return what must be minded about a row of work."""
        return ", ".join(work_wording.reminders(row, self._work))

    def whom(self, load: PublishedLoad) -> str:
        """Return whose load it is: a division, a category, both; empty for everyone's."""
        event = self._state.event
        names: dict[str, str] = {}
        if event is not None:
            names = {division.id: division.name for division in event.divisions}
            names |= {category.id: category.name for category in event.categories}
        given = (load.division, load.category)
        return ", ".join(names.get(one, one) for one in given if one)

    def movement(self, name: str) -> str:
        """Return a movement's name by its id."""
        return wording.movement(name, self._work.catalogue)

    def since(self, amendment: AmendmentText) -> str:
        """Return from which heat an amendment holds."""
        return amendment_wording.since(amendment, self._words)

    def remedy(self, amendment: AmendmentText) -> str:
        """Return what an amendment makes of the heats that had run."""
        return amendment_wording.remedy(amendment, self._words)

    def family(self, name: str) -> str:
        """Return a family of movements by its name."""
        return self._words.gettext(_FAMILIES.get(name, name))

    def families(self) -> tuple[tuple[str, str], ...]:
        """Return the families of movements with their names."""
        return tuple((name, self.family(name)) for name in _FAMILIES)

    def word(self, group: str, value: str) -> str:
        """Return the word for a value of a standard: ``("landmark", "hip_crease")``."""
        return movement_words.word(group, value, self._words)

    def words_for(self, group: str) -> tuple[tuple[str, str], ...]:
        """Return the values to choose from, with their words."""
        return movement_words.choices(group, self._words)

    def stages(self, known: Iterable[str]) -> tuple[tuple[str, str], ...]:
        """Return stages that a point can be at, with their names."""
        return tuple((one, guide_rules.stage(one, self._words)) for one in known)

    def beside(self, said: Said) -> str:
        """Return a sentence that stands beside the field it concerns."""
        text = self.sentence(said)
        return text[:1].upper() + text[1:]

    def lift(self, task: Task) -> str:
        """Return whose lift it is, and of what: ``"clean and jerk, women"``."""
        name = work_wording.movement_name(task, self._work)
        if task.who.kind == "anyone":
            return name
        return f"{name}, {wording.who(task.who, self._work.categories, self._words)}"

    def unplaced(self, why: str) -> str:
        """Return why a report has no place."""
        return self._words.gettext(_UNPLACED.get(why, why))

    def deed(self, line: HistoryLine, team_id: str, work: PartWork) -> str:
        """Return one line of a score's history, without its reason."""
        told = self.result(line.result, team_id, work) if line.result is not None else ""
        penalty = Penalty(seq=line.seq, reason="", seconds=line.seconds, counts=line.counts)
        if line.deed == "reported" and line.source == "paper":
            said = self._words.gettext("Paper card: {result}")
        else:
            said = self._words.gettext(_DEEDS[line.deed])
        return said.format(result=told, penalty=self.penalty(penalty), number=line.number)

    def result(self, result: Result, team_id: str, work: PartWork) -> str:
        """Return a raw result of a team in one short line."""
        event = self._state.event
        if event is None:
            return result.outcome
        division = event.division(self._state.teams[team_id].division)
        return result_wording.result_text(result, work.part, division, self._words)

    def report(self, report: ScoreReport) -> str:
        """Return the result of a report in one short line, also of one that fits nowhere."""
        event, team = self._state.event, self._state.teams.get(report.team)
        workouts = event.workouts if event is not None else ()
        parts = [
            part
            for workout in workouts
            for part in workout.parts
            if (workout.id, part.id) == (report.workout, report.part)
        ]
        if event is None or team is None or not parts:
            return self._words.gettext("a result nobody can place")
        division = event.division(team.division)
        return result_wording.result_text(report.result, parts[0], division, self._words)

    def team(self, team_id: str) -> str:
        """Return a team's name."""
        team = self._state.teams.get(team_id)
        return team.name if team is not None else team_id

    def penalty(self, penalty: Penalty) -> str:
        """Return what a penalty adds or takes."""
        return result_wording.penalty_text(penalty, self._words)

    def score(self, cell: StandingsCell, division: Division) -> str:
        """Return the score of a cell of the standings."""
        return result_wording.score_text(cell.score, cell.part, division, self._words)

    def sentence(self, said: Said) -> str:
        """Return what a finding, a refusal or a reason means, with names for ids."""
        named = Reason(rule=said.rule, facts=self._named(said.facts))
        return sentence(named, self._words.gettext, event=self._state.event)

    def _named(self, facts: Mapping[str, Fact]) -> dict[str, Fact]:
        return {key: self._name(key, value) for key, value in facts.items()} | self._work_named(
            facts
        )

    def _work_named(self, facts: Mapping[str, Fact]) -> dict[str, Fact]:
        """Return the names of a part and of a task in it; ids mean nothing without a workout."""
        workouts = self._state.event.workouts if self._state.event is not None else ()
        found = [
            part
            for workout in workouts
            for part in workout.parts
            if (workout.id, part.id) == (facts.get("workout"), facts.get("part"))
        ]
        named: dict[str, Fact] = {}
        for part in found:
            named["part"] = part.name or part.id
            for task in (task for block in part.blocks for task in block.tasks):
                if task.id == facts.get("task"):
                    named["task"] = self.lift(task)
        return named

    def _name(self, key: str, value: Fact) -> Fact:
        event, plan = self._state.event, self._state.plan
        if not isinstance(value, str) or event is None:
            return value
        if key in {"team", "other_team"} and value in self._state.teams:
            return self._state.teams[value].name
        if key == "division":
            return next((one.name for one in event.divisions if one.id == value), value)
        if key == "floor":
            return next((one.name for one in event.floors if one.id == value), value)
        if key == "pause":
            return next((one.name for one in event.wishes.pauses if one.id == value), value)
        if key == "workout" or (key == "other" and not self._is_heat(value)):
            return next((one.name for one in event.workouts if one.id == value), value)
        if key in {"heat", "was", "before", "other", "other_heat", "by"} and plan is not None:
            heat = next((one for one in plan.heats if one.id == value), None)
            if heat is not None:
                title = workout_title(event, event.workout(heat.workout), CREW)
                # As sentences say it: "heat 3 of Long haul".
                return self._words.gettext("{number} of {workout}").format(
                    number=heat.number, workout=self.workout(title)
                )
        if key == "capacity":
            return self.outlook.capacity(value)
        if key == "role":
            return self.role(value)
        return value

    def _is_heat(self, value: str) -> bool:
        plan = self._state.plan
        return plan is not None and any(heat.id == value for heat in plan.heats)


class Reason(msgspec.Struct, frozen=True, kw_only=True):
    """A rule with the facts its sentence uses."""

    rule: str
    facts: Mapping[str, Fact]


class Told(msgspec.Struct, frozen=True, kw_only=True):
    """A sentence shown above a page: what was done, or what went wrong."""

    text: str
    good: bool = True
