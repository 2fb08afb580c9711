"""Every reason of the planner and its check is said, with facts it really carries."""

import ast
import string
from pathlib import Path

import pytest

import callroom.planner
from callroom.model import Finding
from callroom.model.catalogue import CatalogueRule
from callroom.planner.check.rules import RULES as CHECK_RULES
from callroom.planner.rules import RULES as PLANNER_RULES
from callroom.views.sentences import planner, sentence
from tests.planner import days

ALL_RULES = {rule.rule: rule for rule in (*PLANNER_RULES, *CHECK_RULES)}
SOURCE = Path(callroom.planner.__file__).parent


@pytest.mark.parametrize("rule", ALL_RULES.values(), ids=lambda rule: rule.rule)
def test_a_rule_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = planner.SENTENCES[rule.rule]
    used = {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}
    assert used <= set(rule.facts)
    assert template.endswith(".")


def test_no_sentence_is_without_a_rule() -> None:
    assert planner.SENTENCES.keys() == ALL_RULES.keys()


def test_every_rule_that_the_source_names_is_listed_with_its_facts() -> None:
    named = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            first = node.args[0]
            if not (isinstance(first, ast.Constant) and str(first.value) in ALL_RULES):
                continue
            named.add(first.value)
            given = {keyword.arg for keyword in node.keywords}
            assert given == set(ALL_RULES[first.value].facts), f"{path}:{node.lineno}"
    # These names are put together where they are given.
    assembled = {rule for rule in ALL_RULES if "thin_heat" in rule or "finish_by_" in rule}
    assert named | assembled == ALL_RULES.keys()


def test_times_of_the_day_are_written_on_the_wall_clock() -> None:
    late = Finding(
        rule="planner.nothing_finishes_before",
        severity="error",
        subject="day",
        facts={"finish_at_s": 35_040, "closes_at_s": 32_400, "over_s": 2_640},
    )
    said = sentence(late, event=days.event())
    assert "over before 17:44; the floors close at 17:00. Finish 44:00 later" in said
    assert "over before 9:44:00" in sentence(late)
