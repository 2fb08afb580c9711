"""Every rule about files has a sentence, and every sentence a rule."""

import pytest

from callroom.exchange.catalogue import RULES
from callroom.model.catalogue import CatalogueRule
from callroom.views.sentences import exchange as sentences
from tests.views.test_sentences import SOURCE, called_with_rule, placeholders


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.rule)
def test_a_rule_about_files_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = sentences.SENTENCES[rule.rule]
    assert placeholders(template) <= set(rule.facts)
    assert template[-1] in ".?"


def test_no_sentence_is_without_a_rule() -> None:
    assert set(sentences.SENTENCES) == {rule.rule for rule in RULES}


def test_every_rule_that_is_used_is_listed() -> None:
    used = called_with_rule(SOURCE / "exchange", {"fault", "add", "found", "Unsound", "Unreadable"})
    used = {rule for rule in used if "." in rule}  # not the properties of a calendar entry
    listed = {rule.rule for rule in RULES}
    assert used - listed == set()
    assert len(used) > 60
