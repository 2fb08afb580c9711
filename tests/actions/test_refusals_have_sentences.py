"""Whatever actions and doors refuse says a sentence, and asks for no fact that is not given."""

import ast
import string
from pathlib import Path

import pytest

import callroom
from callroom.views.sentences import SENTENCES

ROOT = Path(callroom.__file__).parent
REFUSING = {"Refusal", "Stale", "NotAllowed", "SolverLost", "ServerSilent", "CallroomError"}


def refusals() -> list[tuple[str, str, frozenset[str]]]:
    """Every refusal raised with a literal rule: where, the rule, the names of its facts."""
    found = []
    for package in ("actions", "bootstrap"):
        for path in sorted((ROOT / package).glob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                    continue
                first = node.args[0] if node.args else None
                if node.func.id in REFUSING and isinstance(first, ast.Constant):
                    names = frozenset(word.arg for word in node.keywords if word.arg is not None)
                    found.append((f"{path.name}:{node.lineno}", str(first.value), names))
    return found


def test_refusals_are_found() -> None:
    assert len(refusals()) > 30


@pytest.mark.parametrize(("where", "rule", "facts"), refusals())
def test_each_has_its_sentence(where: str, rule: str, facts: frozenset[str]) -> None:
    assert rule in SENTENCES, where
    asked = {name for _, name, _, _ in string.Formatter().parse(SENTENCES[rule]) if name}
    assert asked <= facts, where
