"""The texts for translators are found where `make messages` looks for them."""

import subprocess
import sys
from pathlib import Path

import pytest

from build_frontend import ROOT


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    templates = tmp_path / "web" / "templates" / "parts"
    templates.mkdir(parents=True)
    (templates / "call.html").write_text(
        "<p>{% trans n=3 %}\n  One team\n{% pluralize %}\n  {{ n }} teams\n{% endtrans %}</p>",
        encoding="utf-8",
    )
    (tmp_path / "rule.py").write_text(
        "N_('No such lane')\nwords.ngettext('One heat', '{n} heats', n)\n", encoding="utf-8"
    )
    return tmp_path


def collect(tree: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "babel.messages.frontend", "--quiet", "extract"]
    options = ["--mapping-file", str(ROOT / "babel.toml"), "--output-file", str(tree / "out.pot")]
    return subprocess.run(
        [*command, *options, str(tree)], capture_output=True, text=True, check=False
    )


def test_texts_of_modules_and_templates_are_collected(tree: Path) -> None:
    finished = collect(tree)
    assert finished.returncode == 0, finished.stderr
    found = (tree / "out.pot").read_text(encoding="utf-8")
    for text in ("No such lane", "One heat", "{n} heats", "One team", "%(n)s teams"):
        assert f'"{text}"' in found


def test_template_that_does_not_parse_stops_the_collection(tree: Path) -> None:
    (tree / "web" / "templates" / "torn.html").write_text("{% trans %}", encoding="utf-8")
    assert collect(tree).returncode != 0
