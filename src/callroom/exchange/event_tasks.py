"""Tasks of an event file: a movement, an amount, who does it, how it is shared, what load."""

import re
from collections.abc import Callable, Iterator
from typing import Any, TypeVar, get_args

from callroom.exchange.faults import nearest, shown
from callroom.exchange.quantities import Unreadable, read_height, read_load
from callroom.exchange.toml_section import Section
from callroom.model import PublishedHeight, PublishedLoad, Switch, Task, VariationRule, Who
from callroom.model.movement import LONGEST_LABEL
from callroom.model.workout import Sharing, SwitchKind, Unit

AMOUNT_KEYS: tuple[Unit, ...] = ("reps", "metres", "calories", "seconds")
"""The keys that give an amount, and with it the unit; a lift is given by ``tries``."""

NO_LIMIT = "any"
"""What ``tries`` says of a lift which may be tried as often as the clock allows."""

AS_MUCH = "max"
"""What an amount says where the team does as much as it can."""

ALL = "all"
MOST_TRIES = 100
_PLACE = re.compile(r"[A-Z]")
_EVERY = re.compile(r"every\s+(\d{1,6})")

Read = TypeVar("Read")


def read_tasks(
    block: Section, categories: frozenset[str], divisions: frozenset[str], taken: set[str]
) -> list[tuple[Task, Section]]:
    """Return the tasks of a block, each with its table; `taken` are the part's ids so far."""
    tasks = []
    for row in block.rows("tasks"):
        task = _task(row, categories, divisions, taken)
        taken.add(task.id)
        tasks.append((task, row))
    return tasks


def usual_task_id(movement: str, taken: set[str]) -> str:
    """Return the id of a task that is given none: its movement, numbered if it is taken."""
    name, number = movement, 1
    while name in taken:
        number += 1
        name = f"{movement}_{number}"
    return name


def _task(
    row: Section, categories: frozenset[str], divisions: frozenset[str], taken: set[str]
) -> Task:
    row.needs("movement")
    movement = row.identifier("movement")
    name = row.identifier("id")
    if name and name in taken:
        row.fault("toml.id_twice", "id", given=shown(name))
    unit, amounts, tries = _amount(row)
    sharing: Sharing = row.choice("sharing", get_args(Sharing), "split")
    task = Task(
        id=name or usual_task_id(movement, taken),
        movement=movement,
        unit=unit,
        amounts=amounts,
        mark=row.whole("mark", 1, 1),
        who=_who(row, categories),
        sharing=sharing,
        working=row.whole("working", 1, 1, 26),
        switch=_switch(row),
        least_each=row.whole("least_each", 0),
        strand=row.whole("strand", 0, 0, 26),
        while_holding=row.identifier("while_holding"),
        loads=tuple(
            PublishedLoad(division=division, category=category, count=count, kg=kg, lb=lb)
            for division, category, (count, kg, lb) in _published(
                row, "loads", categories, divisions, read_load
            )
        ),
        heights=tuple(
            PublishedHeight(division=division, category=category, cm=cm, inch=inch)
            for division, category, (cm, inch) in _published(
                row, "heights", categories, divisions, read_height
            )
        ),
        variation=row.text("variation"),
        variation_rules=tuple(_variation_rules(row, divisions)),
        tighten=row.text("tighten", longest=500),
        tighten_no_rep=row.text("tighten_no_rep", longest=LONGEST_LABEL),
        tries=tries,
    )
    row.close()
    return task


def _variation_rules(row: Section, divisions: frozenset[str]) -> Iterator[VariationRule]:
    """Give the variations allowed and barred, for all or by division."""
    for key, allowed in (("allow", True), ("bar", False)):
        value = row.given(key)
        table = value if isinstance(value, dict) else {} if value is None else {ALL: value}
        for name, said in table.items():
            steps = (key, name) if isinstance(value, dict) else (key,)
            if name != ALL and name not in divisions:
                _is_known(row, (key, name), divisions)
                continue
            listed = [said] if isinstance(said, str) else said
            if not isinstance(listed, list) or not all(isinstance(one, str) for one in listed):
                row.source.fault("toml.no_texts", (*row.path, *steps), given=shown(said))
                continue
            for one in listed:
                division = "" if name == ALL else name
                yield VariationRule(variation=one, allowed=allowed, division=division)


def _amount(row: Section) -> tuple[Unit, tuple[int, ...], int]:
    """Return the unit, the amounts, and for a lift how many tries there are (0: any number)."""
    keys = [key for key in (*AMOUNT_KEYS, "tries") if row.given(key) is not None]
    if len(keys) != 1:
        rule = "toml.amounts_many" if keys else "toml.amount_missing"
        row.fault(rule, *keys[1:2], at_key=True, given=", ".join(keys))
        return "reps", (1,), 0
    if keys == ["tries"]:
        if _is_word(row.given("tries"), NO_LIMIT):
            return "lift", (), 0
        return "lift", (), row.whole("tries", 1, 1, MOST_TRIES)
    unit = next(key for key in AMOUNT_KEYS if key == keys[0])
    return unit, _amounts(row, unit), 0


def _amounts(row: Section, key: str) -> tuple[int, ...]:
    value = row.given(key)
    if _is_word(value, AS_MUCH):
        return ()
    if value == []:
        row.fault("toml.list_empty", key)
    if isinstance(value, list):
        return tuple(row.checked_whole((key, n), one, 1) for n, one in enumerate(value))
    return (row.whole(key, 1, 1),)


def _is_word(value: object, word: str) -> bool:
    return isinstance(value, str) and value.strip().casefold() == word


def _who(row: Section, categories: frozenset[str]) -> Who:
    text = row.text("who", "anyone")
    word = text.casefold()
    if word in {"anyone", ""}:
        return Who()
    if word == "everyone":
        return Who(kind="everyone")
    if word == "pair":
        return Who(kind="pair")
    if word in categories:
        return Who(kind="category", category=word)
    places = tuple(text.replace(",", " ").split())
    if not all(_PLACE.fullmatch(place) for place in places):
        known = ["anyone", "everyone", "pair", *sorted(categories)]
        near = nearest(word, known)
        rule = "toml.who_near" if near else "toml.who"
        row.fault(rule, "who", given=shown(text), near=near, known=", ".join(known))
    return Who(kind="places", places=places)


def _switch(row: Section) -> Switch:
    value = row.given("switch")
    hand_tag = row.flag("hand_tag")
    every = _EVERY.fullmatch(value.strip().casefold()) if isinstance(value, str) else None
    if every is not None and int(every[1]) > 0:
        return Switch(kind="every", every=int(every[1]), hand_tag=hand_tag)
    words: tuple[Any, ...] = tuple(
        "every 5" if kind == "every" else kind for kind in get_args(SwitchKind)
    )
    kind: SwitchKind = row.choice("switch", words, "freely")
    return Switch(kind=kind, hand_tag=hand_tag)


def _published(
    row: Section,
    key: str,
    categories: frozenset[str],
    divisions: frozenset[str],
    read: Callable[[str], Read],
) -> Iterator[tuple[str, str, Read]]:
    """Yield division, category and what is published for them, as the file lists them."""
    value = row.given(key)
    if value is None:
        return
    for steps, division, category, text in _cells(row, key, value, categories, divisions):
        if not isinstance(text, str):
            rule = "toml.no_load" if key == "loads" else "toml.no_height"
            row.source.fault(rule, (*row.path, *steps), given=shown(text))
            continue
        try:
            yield division, category, read(text)
        except Unreadable as fault:
            row.source.fault(fault.rule, (*row.path, *steps), given=shown(text))


def _cells(
    row: Section,
    key: str,
    value: object,
    categories: frozenset[str],
    divisions: frozenset[str],
) -> Iterator[tuple[tuple[str, ...], str, str, object]]:
    if not isinstance(value, dict):
        yield (key,), "", "", value
        return
    for name, below in value.items():
        if name in divisions and isinstance(below, dict):
            for inner, text in below.items():
                if _is_known(row, (key, name, inner), categories):
                    yield (key, name, inner), name, "" if inner == ALL else inner, text
        elif _is_known(row, (key, name), categories | divisions):
            division = name if name in divisions else ""
            category = name if name in categories else ""
            yield (key, name), division, category, below


def _is_known(row: Section, steps: tuple[str, ...], known: frozenset[str]) -> bool:
    name = steps[-1]
    if name == ALL or name in known:
        return True
    near = nearest(name, known)
    rule = "toml.load_for_near" if near else "toml.load_for"
    names = ", ".join([ALL, *sorted(known)])
    row.source.fault(
        rule, (*row.path, *steps), at_key=True, given=shown(name), near=near, known=names
    )
    return False
