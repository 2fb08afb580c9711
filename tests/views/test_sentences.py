"""Every rule has a sentence, and every sentence uses only the facts its rule promises."""

import ast
import string
from collections.abc import Iterable
from pathlib import Path

import pytest

import callroom
from callroom.model import CallroomError, Finding
from callroom.model.catalogue import CatalogueRule
from callroom.model.checking import RULES as CHECKING
from callroom.scoring import RULES as SCORING
from callroom.scoring import Reason
from callroom.views.sentences import SENTENCES, reasons_text, sentence
from callroom.views.sentences import model as model_sentences
from callroom.views.sentences import scoring as scoring_sentences

SOURCE = Path(callroom.__file__).parent


def placeholders(template: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}


def called_with_rule(folder: Path, names: Iterable[str]) -> set[str]:
    """The rules that source below `folder` gives, as texts, to a call of one of `names`."""
    rules = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            called = (
                node.func.attr
                if isinstance(node.func, ast.Attribute)
                else getattr(node.func, "id", "")
            )
            first = node.args[0]
            if called in names and isinstance(first, ast.Constant) and isinstance(first.value, str):
                rules.add(first.value)
    return rules


def test_every_rule_used_in_the_model_is_in_the_catalogue() -> None:
    used = called_with_rule(SOURCE / "model", {"found", "CallroomError", "BadTime"})
    listed = {rule.rule for rule in CHECKING}
    assert used - listed == set()
    assert len(used) > 60


@pytest.mark.parametrize("rule", list(CHECKING), ids=lambda rule: rule.rule)
def test_a_rule_of_the_model_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = model_sentences.SENTENCES[rule.rule]
    assert placeholders(template) <= set(rule.facts)
    assert template[-1] == "."


def test_every_rule_used_in_scoring_is_in_its_catalogue() -> None:
    used = called_with_rule(SOURCE / "scoring", {"found", "Reason", "FormulaError"})
    assert used - {rule.rule for rule in SCORING} == set()
    assert len(used) > 50


@pytest.mark.parametrize("rule", list(SCORING), ids=lambda rule: rule.rule)
def test_a_rule_of_scoring_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = scoring_sentences.SENTENCES[rule.rule]
    assert placeholders(template) <= set(rule.facts)
    is_reason = rule.rule.startswith(("result.", "overall."))
    assert (template[-1] == ".") != is_reason, "reasons are parts of one sentence"


def test_no_sentence_is_without_a_rule() -> None:
    assert set(model_sentences.SENTENCES) == {rule.rule for rule in CHECKING}
    assert set(scoring_sentences.SENTENCES) == {rule.rule for rule in SCORING}


def test_reasons_are_told_in_one_sentence() -> None:
    reasons = (
        Reason("overall.place", {"place": 3, "points": "9"}),
        Reason("overall.shared", {"teams": "Tidal Four"}),
    )
    assert reasons_text(reasons) == "Place 3: 9 points; level with Tidal Four, place shared"
    assert reasons_text(()) == ""


def test_a_sentence_names_the_place_and_quotes_what_was_given() -> None:
    finding = CHECKING.found(
        "part.cap_not_positive", "workouts.w1.parts.a.cap_s", workout="w1", part="a", cap_s=0
    )
    assert sentence(finding) == "Workout w1, part a: the time cap is 0:00. Give it a length."


def test_a_refusal_is_said_like_a_finding() -> None:
    refused = CallroomError("work.not_in_rounds", part="a")
    assert sentence(refused) == sentence(refused.finding())


def test_a_sentence_is_translated_before_its_facts_are_put_in() -> None:
    finding = CHECKING.found("workout.no_parts", "workouts.w1", workout="w{1}")
    german = {SENTENCES["workout.no_parts"]: "Workout {workout} hat keinen Teil."}
    assert sentence(finding, lambda text: german[text]) == "Workout w{1} hat keinen Teil."


def test_seconds_and_milliseconds_are_written_as_a_clock_shows_them() -> None:
    def said(**facts: int | None) -> str:
        return sentence(
            Finding(
                rule="wishes.pause_without_length",
                severity="error",
                subject="",
                facts={"pause": "x", **facts},
            )
        )

    assert '"x" has the length 12:00' in said(length_s=720)
    assert '"x" has the length −0:05' in said(length_s=-5)
    assert '"x" has the length –' in said(length_s=None)
    cut = CHECKING.found(
        "part.resolution_not_positive", "", workout="w", part="a", resolution_ms=1500
    )
    assert "is 0:01.500." in sentence(cut)


def test_a_rule_without_a_sentence_still_says_its_facts() -> None:
    unknown = Finding(rule="some.rule", severity="note", subject="", facts={"lane": 3})
    assert sentence(unknown) == "some.rule: lane = 3"
