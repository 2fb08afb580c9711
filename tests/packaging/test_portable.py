"""What the linter's list of banned functions cannot see: methods, options and formats."""

import ast
import re
from collections.abc import Iterator

import pytest

from build_frontend import PACKAGE

# Event loops on Windows take no signal handlers; the options of subprocess.Popen are refused there.
POSIX_ONLY = {
    "add_signal_handler",
    "remove_signal_handler",
    "preexec_fn",
    "start_new_session",
    "process_group",
    "pass_fds",
}
# strftime without leading noughts: "%-d" fails on Windows, "%#d" everywhere else.
UNPADDED = re.compile(r"%[-#][A-Za-z]")


def faults(source: str) -> Iterator[str]:
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Attribute(attr=name) | ast.keyword(arg=str(name)) if name in POSIX_ONLY:
                yield f"line {node.lineno}: {name}"
            case ast.Call(
                func=ast.Attribute(attr="strftime"), args=[ast.Constant(value=str(text))]
            ):
                if UNPADDED.search(text):
                    yield f"line {node.lineno}: strftime({text!r})"


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("loop.add_signal_handler(2, stop)", ["line 1: add_signal_handler"]),
        ("run(['x'], start_new_session=True)", ["line 1: start_new_session"]),
        ("day.strftime('%-d %B')", ["line 1: strftime('%-d %B')"]),
        ("day.strftime('%d %B')", []),
    ],
)
def test_the_search_finds_what_it_should(source: str, found: list[str]) -> None:
    assert list(faults(source)) == found


def test_every_module_runs_on_every_system() -> None:
    found = {path: list(faults(path.read_text(encoding="utf-8"))) for path in PACKAGE.rglob("*.py")}
    assert found
    assert {path: lines for path, lines in found.items() if lines} == {}
