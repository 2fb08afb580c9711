"""The handbook speaks only of what is there: pictures, pages, commands, words on the pages."""

import ast
import re
from pathlib import Path

from callroom.cli.main import VERBS

ROOT = Path(__file__).resolve().parents[2]
HANDBOOK = ROOT / "docs" / "handbook"
CHAPTERS = sorted(HANDBOOK.glob("*.md"))
# A text that people read, where it is written: `_("…")`, `say("…")`, `N_("…")`, `gettext("…")`.
SAID = re.compile(r"""(?:\b_|N_|say|n?gettext)\(\s*("(?:[^"\\]|\\.)*"(?:\s*"(?:[^"\\]|\\.)*")*)""")
PICTURE = re.compile(r"!\[[^\]]+\]\(([^)]+)\)")
CODE = re.compile(r"`([^`]+)`")
BOLD = re.compile(r"\*\*(.+?)\*\*", re.DOTALL)
LINK = re.compile(r"(?<!!)\[[^\]]+\]\(([^)#]+)\)")


def texts_of_the_program() -> frozenset[str]:
    files = [*ROOT.glob("src/callroom/web/templates/**/*.html"), *ROOT.glob("src/callroom/**/*.py")]
    written = (found for file in files for found in SAID.findall(file.read_text(encoding="utf-8")))
    return frozenset(str(ast.literal_eval(f"({one})")) for one in written)


def pictures_of_the_script() -> set[str]:
    """What `make handbook` makes, read from its source: running it takes a browser and a minute."""
    source = (ROOT / "tools" / "handbook_pictures.py").read_text(encoding="utf-8")
    calls = re.findall(r'\bPicture\("([a-z-]+)"', source)
    (papers,) = re.findall(r"^PAPERS = (\{.*?\})$", source, re.MULTILINE | re.DOTALL)
    (pad,) = re.findall(r'^PAD = "([a-z-]+)"$', source, re.MULTILINE)
    return {*calls, pad, *ast.literal_eval(papers)}


def of_all(pattern: re.Pattern[str]) -> list[tuple[str, str]]:
    """Each find with the chapter it stands in."""
    texts = {chapter.name: chapter.read_text(encoding="utf-8") for chapter in CHAPTERS}
    return [
        (name, " ".join(hit.split()))
        for name, text in texts.items()
        for hit in pattern.findall(text)
    ]


def test_every_picture_is_one_that_the_script_makes_and_is_there() -> None:
    shown = {path for _, path in of_all(PICTURE)}
    assert shown
    assert shown <= {f"pictures/{name}.png" for name in pictures_of_the_script()}
    assert all((HANDBOOK / path).is_file() for path in shown)


def test_the_script_makes_no_picture_that_nobody_sees() -> None:
    shown = {Path(path).stem for _, path in of_all(PICTURE)}
    assert pictures_of_the_script() == shown
    assert {one.stem for one in HANDBOOK.glob("pictures/*")} == shown


def test_pictures_are_small() -> None:
    files = list(HANDBOOK.glob("pictures/*.png"))
    heads = [file.read_bytes()[:26] for file in files]
    assert all(head.startswith(b"\x89PNG") for head in heads)
    assert max(int.from_bytes(head[16:20]) for head in heads) <= 900
    # Colour type 3: a palette; 0: greys only. ISO/IEC 15948, 11.2.2.
    assert {head[25] for head in heads} <= {0, 3}
    assert sum(file.stat().st_size for file in files) < 2_500_000


def test_every_address_is_one_of_the_program() -> None:
    document = (ROOT / "docs" / "addresses.md").read_text(encoding="utf-8")
    rows = [line.split("|")[1] for line in document.splitlines() if line.startswith("| `/")]
    known = {address for row in rows for address in CODE.findall(row)}
    named = {(name, code) for name, code in of_all(CODE) if code.startswith("/")}
    assert named
    assert {(name, code) for name, code in named if code not in known} == set()


def test_every_command_is_one_of_the_program() -> None:
    named = [code.split() for _, code in of_all(CODE) if code.startswith("callroom")]
    assert named
    assert {words[1] for words in named if len(words) > 1} <= set(VERBS)


def test_every_word_in_bold_stands_on_a_page() -> None:
    known = texts_of_the_program()
    assert len(known) > 1000
    quoted = [(name, hit) for name, hit in of_all(BOLD) if name != "README.md"]
    assert quoted
    assert [one for one in quoted if one[1] not in known] == []


def test_links_between_chapters_lead_somewhere() -> None:
    assert all((HANDBOOK / path).is_file() for _, path in of_all(LINK) if "://" not in path)
    first = (HANDBOOK / "README.md").read_text(encoding="utf-8")
    assert all(chapter.name in first for chapter in CHAPTERS if chapter.name != "README.md")
