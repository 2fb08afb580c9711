"""Small competitions written down as text, for cases worked by hand.

A case file has `teams` (by division, one division ``d`` if it is a text), `workouts`, and
`scores` by workout and part, one line of text a team. Each ``[[expect]]`` gives switches of
the rules and what they lead to: `places` by workout and part, `overall` as ``"place: points"``
(``-`` for no place), and `reasons`.

A score is written in words apart by blanks: ``5:23.4`` a finish; ``cap 77`` work done at the
cap; ``77`` work done; ``840m`` metres; ``100kg`` a good lift and ``x105kg`` a failed one, with
its task before a colon if there are several; ``dns``, ``wd``, ``?``; and beside these ``@3:10``
the split, ``+5s`` and ``-2`` penalties, ``-5s`` a credit, ``modified``, ``stop`` (medical), ``confirmed``.
``A | B`` are two reports of one lane, ``A | B !2`` with the second chosen, ``A => B`` a
correction, ``A // B`` a second attempt. `void` names workouts that count for nothing.
"""

import re
import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import msgspec

from callroom.model import (
    Amendment,
    Athlete,
    Category,
    CategoryCount,
    Correction,
    Division,
    Event,
    Floor,
    KeptReport,
    Lift,
    Mass,
    Part,
    Penalty,
    Rerun,
    Result,
    Rules,
    ScoreReport,
    ScoreSheet,
    State,
    Team,
    TeamStatus,
    Workout,
    sheet_key,
)

CASES = Path(__file__).parent / "cases"


def case_files() -> list[Path]:
    return sorted(CASES.glob("*.toml"))


def read_case(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        return tomllib.load(file, parse_float=Decimal)


def state_of(case: dict[str, Any], rules: dict[str, Any] | None = None) -> State:
    """The book of a case, with its rules and those of one expectation."""
    teams = case["teams"] if isinstance(case["teams"], dict) else {"d": case["teams"]}
    size = case.get("team_size", 1)
    short = case.get("short_handed", "").split()
    switches = {**case.get("rules", {}), **(rules or {})}
    return State(
        event=event(
            divisions=tuple(
                Division(
                    id=name,
                    name=name,
                    make_up=(CategoryCount(category="any", count=size),),
                )
                for name in teams
            ),
            workouts=tuple(map(_workout, case["workouts"])),
            rules=_rules(switches),
        ),
        teams={
            name: _team(name, division, size - (name in short))
            for division, names in teams.items()
            for name in names.split()
        },
        team_status={
            name: TeamStatus(status=status, since_seq=1)
            for name, status in case.get("left", {}).items()
        },
        sheets={
            sheet_key(sheet.workout, sheet.part, sheet.team, sheet.attempt): sheet
            for workout, parts in case["scores"].items()
            for part, scores in parts.items()
            for team, text in scores.items()
            for sheet in sheets(workout, part, team, text)
        },
        reruns=_reruns(case.get("reruns", [])),
        amendments=_void(case),
    )


def event(**fields: Any) -> Event:
    return Event(
        id="case",
        name="Case",
        day=date(2026, 11, 14),
        zone="UTC",
        start_s=0,
        venue="Hall",
        cause="Cause",
        currency="EUR",
        categories=(Category(id="any", name="any"),),
        floors=(Floor(id="hall", name="Hall", lanes=7),),
        invented=True,
        **fields,
    )


def _team(name: str, division: str, size: int) -> Team:
    line_up = tuple(
        Athlete(place=place, category="any", person=f"{name}{place}") for place in "ABCD"[:size]
    )
    return Team(id=name, name=name, division=division, athletes=line_up)


def _rules(switches: dict[str, Any]) -> Rules:
    points = switches.pop("points", {})
    table = tuple(Decimal(worth) for worth in points.pop("table", ()))
    return msgspec.convert({**switches, "points": {**points, "table": table}}, Rules, strict=False)


def _workout(fields: dict[str, Any]) -> Workout:
    parts = fields.get("parts") or [{**fields, "id": "a"}]
    return Workout(
        id=fields["id"],
        name=fields.get("name", fields["id"]),
        floor="hall",
        parts=tuple(map(_part, parts)),
    )


def _part(fields: dict[str, Any]) -> Part:
    """A part whose work is one task, or as told by `blocks`."""
    kept = {
        name: value
        for name, value in fields.items()
        if name in Part.__struct_fields__ and name != "blocks"
    }
    if "blocks" in fields:
        blocks = fields["blocks"]
    elif fields["kind"] == "load":
        lifts = fields.get("lifts", "lift").split()
        blocks = [
            {"id": "b", "tasks": [{"id": name, "movement": "m", "unit": "lift"} for name in lifts]}
        ]
    elif fields["kind"] == "distance":
        row = {"id": "row", "movement": "row", "unit": "metres"}
        blocks = [{"id": "b", "open_ended": True, "tasks": [row]}]
    elif "work" in fields:
        blocks = [{"id": "b", "tasks": [{"id": "t", "movement": "m", "amounts": [fields["work"]]}]}]
    else:
        round_of = {"id": "t", "movement": "m", "amounts": [10]}
        blocks = [{"id": "b", "open_ended": True, "tasks": [round_of]}]
    return msgspec.convert({"cap_s": 600, **kept, "blocks": blocks}, Part)


def _void(case: dict[str, Any]) -> dict[str, Amendment]:
    before = {fields["id"]: _workout(fields) for fields in case["workouts"]}
    return {
        str(number): Amendment(
            number=number,
            seq=number,
            at_ms=number,
            workout=workout,
            what="void",
            why="a rig came loose",
            decided_by="head_judge",
            from_heat="",
            remedy="void",
            had_run=(),
            common_point="",
            before=before[workout],
        )
        for number, workout in enumerate(case.get("void", "").split(), start=1)
    }


def _reruns(listed: list[dict[str, Any]]) -> dict[str, tuple[Rerun, ...]]:
    granted: dict[str, tuple[Rerun, ...]] = {}
    for seq, fields in enumerate(listed, start=1):
        rerun = Rerun(seq=seq, reason="lane fault", **{"attempt": 2, **fields})
        key = f"{rerun.workout}/{rerun.team}"
        granted[key] = (*granted.get(key, ()), rerun)
    return granted


def sheets(workout: str, part: str, team: str, text: str) -> list[ScoreSheet]:
    """The sheets of all attempts that a line of a case gives."""
    attempts = [attempt.strip() for attempt in text.split("//")]
    return [
        _sheet(workout, part, team, number, attempt)
        for number, attempt in enumerate(attempts, start=1)
        if attempt
    ]


def _sheet(workout: str, part: str, team: str, attempt: int, text: str) -> ScoreSheet:
    reported, _, corrected = text.partition("=>")
    reported, _, chosen = reported.partition("!")
    results = [result(words) for words in reported.split("|")]
    kept = tuple(
        KeptReport(
            seq=seq,
            at_ms=seq,
            actor="judge",
            device="pad",
            report=ScoreReport(
                heat=f"{workout}-1",
                workout=workout,
                part=part,
                team=team,
                lane=1,
                source="pad",
                result=given,
                attempt=attempt,
            ),
        )
        for seq, given in enumerate(results, start=1)
    )
    return ScoreSheet(
        workout=workout,
        part=part,
        team=team,
        attempt=attempt,
        reports=kept,
        chosen_seq=int(chosen.split()[0]) if chosen else None,
        correction=Correction(seq=9, result=result(corrected), reason="card")
        if corrected
        else None,
        penalties=tuple(_penalties(text)),
        confirmed_seq=10 if "confirmed" in text.split() else None,
    )


def _penalties(text: str) -> list[Penalty]:
    found = []
    for word in text.split():
        if match := re.fullmatch(r"([+-]\d+)s", word):
            found.append(Penalty(seq=11, reason="lane", seconds=int(match[1])))
        elif match := re.fullmatch(r"-(\d+)", word):
            found.append(Penalty(seq=11, reason="order", counts=int(match[1])))
    return found


def result(text: str) -> Result:
    """The result that a few words give."""
    fields: dict[str, Any] = {}
    lifts: list[Lift] = []
    for word in text.split():
        if re.fullmatch(r"\d+:\d\d(\.\d+)?", word):
            fields |= {"outcome": "finished", "time_ms": clock_ms(word)}
        elif word == "cap":
            fields |= {"outcome": "capped"}
        elif re.fullmatch(r"\d+", word):
            fields |= {"work": int(word), "outcome": fields.get("outcome", "worked")}
        elif match := re.fullmatch(r"(\d+)m", word):
            fields |= {"outcome": "covered", "distance_m": int(match[1])}
        elif match := re.fullmatch(r"(?:(\w+):)?(x?)([\d.]+)(kg|lb)", word):
            mass = msgspec.convert({"amount": match[3], "unit": match[4]}, Mass)
            lifts.append(Lift(task=match[1] or "lift", mass=mass, good=not match[2]))
            fields["outcome"] = "lifted"
        elif word[0] == "@":
            fields["tiebreak_ms"] = clock_ms(word[1:])
        elif word == "modified":
            fields["modified"] = True
        elif word == "stop":
            fields["medical_stop"] = True
        elif word in WORDS:
            fields["outcome"] = WORDS[word]
        elif not re.fullmatch(r"[+-]\d+s|-\d+|confirmed", word):
            raise ValueError(word)
    return Result(lifts=tuple(lifts), **fields)


WORDS = {
    "dns": "did_not_start",
    "wd": "withdrew",
    "?": "unknown",
    "finished": "finished",
    "lifted": "lifted",
}


def clock_ms(text: str) -> int:
    minutes, seconds = text.split(":")
    return int(minutes) * 60_000 + int(Decimal(seconds) * 1000)
