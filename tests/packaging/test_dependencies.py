"""A clean machine gets what the code imports: every library is declared where it is used."""

import ast
import re
import sys
import tomllib
from collections.abc import Iterable
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

from build_frontend import PACKAGE, ROOT

SETTINGS: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
GROUPS = SETTINGS["dependency-groups"]
_OPTIONAL = SETTINGS["project"]["optional-dependencies"]["postgres"]
OUR_OWN = {"callroom", "tests", *(path.stem for path in ROOT.glob("tools/*.py"))}


def _names(requirements: Iterable[object]) -> set[str]:
    found = (re.match(r"[\w.-]+", item) for item in requirements if isinstance(item, str))
    return {match.group().lower() for match in found if match}


def _libraries(folder: Path) -> set[str]:
    """Top-level modules that `folder` imports and that are neither Python's nor ours."""
    modules: set[str] = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                modules |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
                modules.add(node.module.split(".")[0])
    beside = {path.stem for path in folder.glob("*.py")}
    return modules - sys.stdlib_module_names - OUR_OWN - beside


def _undeclared(folder: Path, declared: set[str]) -> dict[str, list[str]]:
    homes = packages_distributions()
    return {
        module: homes.get(module, [])
        for module in sorted(_libraries(folder))
        if not {name.lower() for name in homes.get(module, [])} & declared
    }


def _importing(module: str) -> set[Path]:
    return {
        path.parent
        for path in PACKAGE.rglob("*.py")
        if re.search(
            rf"^\s*(?:import|from) {module}\b", path.read_text(encoding="utf-8"), re.MULTILINE
        )
    }


def test_the_program_declares_what_it_imports() -> None:
    assert "msgspec" in _libraries(PACKAGE)
    needed = _names(SETTINGS["project"]["dependencies"])
    assert _undeclared(PACKAGE, needed | _names(_OPTIONAL)) == {}
    # What only an option brings is imported nowhere but in the folder of that option.
    assert set(_undeclared(PACKAGE, needed)) == {"psycopg"}
    assert not _importing("psycopg") - {PACKAGE / "journal/stores/postgres"}


def test_tests_and_tools_declare_what_they_import() -> None:
    declared = _names(
        [*SETTINGS["project"]["dependencies"], *GROUPS["test"], *GROUPS["dev"]],
    )
    for folder in ("tests", "tools", "bench"):
        assert _undeclared(ROOT / folder, declared) == {}
