"""Every rule about movement files has a sentence that uses only its own facts."""

import ast
import string
from pathlib import Path

import pytest

import callroom.standards
from callroom.model.catalogue import CatalogueRule
from callroom.standards import PLACE_FACTS, RULES, read_movements
from callroom.views.sentences import sentence
from callroom.views.sentences.standards import SENTENCES

SOURCE = Path(callroom.standards.__file__).parent


def test_every_rule_used_is_in_the_catalogue_and_the_other_way_round() -> None:
    used = {
        node.args[0].value
        for path in SOURCE.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and str(node.args[0].value).startswith("standards.")
    }
    assert used == {rule.rule for rule in RULES}


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.rule)
def test_a_rule_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = SENTENCES[rule.rule]
    named = {name for _, name, _, _ in string.Formatter().parse(template) if name}
    assert named <= {*rule.facts, *PLACE_FACTS}
    assert template.endswith(".")


def test_no_sentence_is_without_a_rule() -> None:
    assert set(SENTENCES) == {rule.rule for rule in RULES}


def test_a_sentence_names_file_and_key_quotes_what_was_given_and_gives_the_mend() -> None:
    loaded = read_movements({"gala.toml": '[[change]]\nmovement = "deadlif"\n'})
    (finding,) = loaded.findings
    assert sentence(finding) == (
        'gala.toml, change "deadlif", movement: there is no movement "deadlif" to change.'
        ' The nearest is "deadlift".'
    )
