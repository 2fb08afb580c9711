"""The rules of the event in an event file: points, ties, and what happens in special cases."""

from typing import Any, get_args, get_type_hints

from callroom.exchange.faults import shown
from callroom.exchange.toml_section import Section
from callroom.model import Points, Rules
from callroom.model.rules import PointsKind

LONGEST_FORMULA = 200
MOST_KEEP_DAYS = 3650
UNTIL_ERASED = "until erased"
MOST_POINTS = 1000
"""Places of a points table."""

_USUAL = Rules()
_KINDS = get_type_hints(Rules)


def read_rules(section: Section) -> Rules:
    """Return the switches of the event, with the usual ones where the file is silent."""
    chain = section.texts("tie_chain")
    rules = Rules(
        points=_points(section.section("points")),
        tie_chain=_USUAL.tie_chain if chain is None else chain,
        absent_overall=_switch(section, "absent_overall"),
        after_withdrawal=_switch(section, "after_withdrawal"),
        after_disqualification=_switch(section, "after_disqualification"),
        modified_work=_switch(section, "modified_work"),
        short_handed=_switch(section, "short_handed"),
        rerun_counts=_switch(section, "rerun_counts"),
        appeal_window_s=section.duration_s("appeal_window", _USUAL.appeal_window_s),
        late_appeals=_switch(section, "late_appeals"),
        embargo=section.texts("embargo") or (),
        substitution_deadline_s=section.duration_s(
            "substitution_deadline", _USUAL.substitution_deadline_s
        ),
        substitutions=section.whole("substitutions", 0) if "substitutions" in section else None,
        keep_people_days=_keep_days(section),
    )
    section.close()
    return rules


def _keep_days(section: Section) -> int | None:
    given = section.given("keep_people_days")
    if given is None:
        return _USUAL.keep_people_days
    if given == UNTIL_ERASED:
        return None
    return section.checked_whole(("keep_people_days",), given, 0, MOST_KEEP_DAYS)


def _switch(section: Section, key: str) -> Any:  # noqa: ANN401 - each field has its own words
    return section.choice(key, get_args(_KINDS[key]), getattr(_USUAL, key))


def _points(section: Section) -> Points:
    kind: PointsKind = section.choice("kind", get_args(PointsKind), "places")
    table = section.given("table")
    if table is not None and (not isinstance(table, list) or len(table) > MOST_POINTS):
        section.fault("toml.no_numbers", "table", given=shown(table), most=MOST_POINTS)
        table = None
    usual = Points()
    points = Points(
        kind=kind,
        first=section.number("first", usual.first),
        step=section.number("step", usual.step),
        table=tuple(
            section.checked_number(("table", number), value)
            for number, value in enumerate(table or ())
        ),
        formula=section.text("formula", longest=LONGEST_FORMULA),
    )
    if kind == "table" and table is None:
        section.missing("table")
    if kind == "formula":
        section.needs("formula")
    section.close()
    return points
