"""Collect the texts that people read, look after the catalogues, and compile them.

Without an option every catalogue (``.po``) that changed is compiled into what the program reads
(``.mo``). ``--collect`` reads the texts out of the source into ``callroom.pot`` and into the
catalogue of each language. ``--check`` says what is missing: a text that was not collected, one
without a translation, a translation that lost or invented a place-holder.
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog, Message

BABEL_REQUIREMENT = "babel>=2.17"
ROOT = Path(__file__).resolve().parent.parent
LOCALE = ROOT / "src" / "callroom" / "locale"
TEMPLATE = LOCALE / "callroom.pot"
PLACE_HOLDER = re.compile(r"%\(\w+\)s|%%|\{[^}]*\}")


def sources() -> list[Path]:
    """Return the catalogue of every language."""
    return sorted(LOCALE.glob("*/LC_MESSAGES/callroom.po"))


def stale() -> list[Path]:
    """Return the catalogues whose compiled form is missing or older."""
    return [source for source in sources() if not _is_fresh(source)]


def compile_stale() -> None:
    """Compile the catalogues that need it; a text without a translation is shown in English."""
    waiting = stale()
    if not waiting:
        return
    from babel.messages.mofile import write_mo  # noqa: PLC0415 - no babel is needed to get here

    for source in waiting:
        made = source.with_suffix(".made")
        with made.open("wb") as file:
            write_mo(file, _read(source))
        made.replace(source.with_suffix(".mo"))


def collect() -> None:
    """Bring the template and every catalogue up to date with the source."""
    _extract(TEMPLATE)
    for source in sources():
        language = source.parent.parent.name
        _babel(
            "update", "--input-file", TEMPLATE, "--output-file", source, "--locale", language,
            "--domain", "callroom", "--no-fuzzy-matching", "--ignore-obsolete", "--width", "100",
            "--ignore-pot-creation-date",
        )  # fmt: skip
    compile_stale()


def faults() -> list[str]:
    """Return what is missing or wrong, a line for each."""
    with tempfile.TemporaryDirectory() as folder:
        fresh = Path(folder) / "callroom.pot"
        _extract(fresh)
        wanted = {_key(text) for text in _read(fresh) if text.id}
    template = {_key(text) for text in _read(TEMPLATE) if text.id}
    found = [f"not collected: {key}" for key in sorted(wanted - template)]
    found += [f"not used any more: {key}" for key in sorted(template - wanted)]
    for source in sources():
        language = source.parent.parent.name
        texts = {_key(text): text for text in _read(source) if text.id}
        found += [f"{language}: not collected: {key}" for key in sorted(template - texts.keys())]
        found += [f"{language}: {fault}" for text in texts.values() for fault in _wrong(text)]
    return found


def _wrong(text: Message) -> list[str]:
    """Return what is wrong with one translation: missing, or other place-holders than asked."""
    originals = [text.id] if isinstance(text.id, str) else list(text.id)
    translated = [text.string or ""] if isinstance(text.string, str | None) else list(text.string)
    if not all(translated):
        return [f"not translated: {originals[0]}"]
    # One of something is often written out, so the singular may leave the number away.
    asked = set(PLACE_HOLDER.findall(originals[-1]))
    last = set(PLACE_HOLDER.findall(translated[-1]))
    first = set(PLACE_HOLDER.findall(translated[0]))
    return [] if last == asked and first <= asked else [f"other place-holders: {originals[0]}"]


def _key(text: Message) -> str:
    written = text.id if isinstance(text.id, str) else " || ".join(text.id)
    return f"{text.context}: {written}" if text.context else written


def _extract(target: Path) -> None:
    _babel(
        "extract", "--mapping-file", ROOT / "babel.toml", "--project", "callroom", "--keywords", "say",
        "--add-comments=Translators:", "--strip-comments", "--add-location=file", "--sort-by-file",
        "--copyright-holder=the Callroom contributors", "--width=100", "--output-file", target,
        "src/callroom",
    )  # fmt: skip


def _babel(*arguments: str | Path) -> None:
    command = [sys.executable, "-m", "babel.messages.frontend", "--quiet", *map(str, arguments)]
    subprocess.run(command, cwd=ROOT, check=True)


def _read(path: Path) -> Catalog:
    from babel.messages.pofile import read_po  # noqa: PLC0415 - no babel is needed to get here

    with path.open("rb") as file:
        return read_po(file)


def _is_fresh(source: Path) -> bool:
    compiled = source.with_suffix(".mo")
    return compiled.exists() and compiled.stat().st_mtime >= source.stat().st_mtime


def main() -> None:
    """Run from the command line."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--collect", action="store_true", help="read the texts out of the source")
    options.add_argument("--check", action="store_true", help="say what is missing; 1 if anything")
    chosen = options.parse_args()
    if chosen.check:
        found = faults()
        print("\n".join(found[:40]), file=sys.stderr)
        sys.exit(f"{len(found)} texts to look at. Run: make messages" if found else 0)
    if chosen.collect:
        collect()
    compile_stale()


if __name__ == "__main__":
    main()
