"""Every rule of the rota and its check is said, with facts it really carries."""

import ast
import string
from pathlib import Path

import pytest

import callroom.planner
from callroom.model.catalogue import CatalogueRule
from callroom.planner.check.rota_rules import RULES as CHECKED
from callroom.planner.rota import RULES as SAID
from callroom.views.sentences import rota as told

ALL_RULES = {rule.rule: rule for rule in (*SAID, *CHECKED)}
SOURCE = Path(callroom.planner.__file__).parent


@pytest.mark.parametrize("rule", ALL_RULES.values(), ids=lambda rule: rule.rule)
def test_a_rule_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = told.SENTENCES[rule.rule]
    used = {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}
    assert used <= set(rule.facts)
    assert template.endswith(".")


def test_rules_sentences_and_source_are_the_same_set() -> None:
    named = {
        node.value
        for path in SOURCE.rglob("*.py")
        if not path.name.endswith("rules.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert told.SENTENCES.keys() == ALL_RULES.keys() == named & ALL_RULES.keys()
