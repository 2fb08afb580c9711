"""The lock files say what is installed by content, never from which place."""

import json
import re
import tomllib
from typing import Any

from build_frontend import ROOT


def _declared() -> set[str]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    groups = settings["dependency-groups"].values()
    listed = [*settings["project"]["dependencies"], *(item for group in groups for item in group)]
    names = (re.match(r"[\w.-]+", item) for item in listed if isinstance(item, str))
    return {name.group().lower() for name in names if name}


def _locked() -> dict[str, str]:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    return {line.split("==")[0]: line for line in text.splitlines()}


def test_every_declared_dependency_is_locked() -> None:
    assert _declared() - _locked().keys() == set()


def test_every_locked_release_has_a_hash_and_no_address() -> None:
    assert [line for line in _locked().values() if "--hash=sha256:" not in line] == []
    assert "://" not in "".join(_locked().values())


def _npm_packages() -> dict[str, dict[str, Any]]:
    lock = json.loads((ROOT / "package-lock.json").read_text(encoding="utf-8"))
    return {name: package for name, package in lock["packages"].items() if name}


def test_every_npm_package_has_a_hash_and_no_address() -> None:
    assert [name for name, package in _npm_packages().items() if "integrity" not in package] == []
    assert [name for name, package in _npm_packages().items() if "resolved" in package] == []


def test_npm_versions_are_pinned_exactly() -> None:
    manifest = json.loads((ROOT / "package.json").read_text(encoding="utf-8"))
    asked = {**manifest["dependencies"], **manifest["devDependencies"]}
    locked = {name: _npm_packages()[f"node_modules/{name}"]["version"] for name in asked}
    assert asked == locked
