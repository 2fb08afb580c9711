from pathlib import Path

import pytest

import build_frontend


@pytest.fixture
def frontend(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A front end of two small files, beside the real npm packages."""
    build_frontend.install_modules(tests_too=False)
    monkeypatch.setattr(build_frontend, "FRONTEND", tmp_path / "frontend")
    entries = tmp_path / "frontend" / "entries"
    entries.mkdir(parents=True)
    (tmp_path / "frontend" / "count.ts").write_text(
        "export function next(count: number): number { return count + 41; }\n", encoding="utf-8"
    )
    (entries / "pad.ts").write_text(
        'import { next } from "../count.ts";\ndocument.title = String(next(1));\n', encoding="utf-8"
    )
    (entries / "pages.css").write_text(
        '@font-face { font-family: S; src: url("fonts/s.woff2") }\n'
        "body { background: url(/static/floor.svg) }\n",
        encoding="utf-8",
    )
    return tmp_path / "frontend"


def bundles(frontend: Path) -> dict[str, str]:
    scratch = frontend.parent / "made"
    scratch.mkdir()
    made = build_frontend._bundle(scratch)
    return {target.name: origin.read_text(encoding="utf-8") for target, origin in made}


def test_each_entry_becomes_one_file(frontend: Path) -> None:
    assert sorted(bundles(frontend)) == ["pad.js", "pages.css"]


def test_script_carries_what_it_imports(frontend: Path) -> None:
    script = bundles(frontend)["pad.js"]
    assert "41" in script
    assert "require" not in script
    assert "import" not in script


def test_styles_keep_the_addresses_of_fonts_and_pictures(frontend: Path) -> None:
    styles = bundles(frontend)["pages.css"]
    assert "fonts/s.woff2" in styles
    assert "/static/floor.svg" in styles


def test_digest_follows_the_sources_and_not_their_line_ends(frontend: Path) -> None:
    before = {path: path.read_bytes() for path in frontend.rglob("*") if path.is_file()}
    # The digest names files relative to the project, so the project has to hold them.
    root = frontend.parent
    for name in ("package.json", "package-lock.json"):
        (root / name).write_bytes((build_frontend.ROOT / name).read_bytes())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(build_frontend, "ROOT", root)
        patch.setattr(build_frontend, "__file__", str(root / "package.json"))
        first = build_frontend.source_digest()
        for path, content in before.items():
            path.write_bytes(content.replace(b"\n", b"\r\n"))
        assert build_frontend.source_digest() == first
        (frontend / "count.ts").write_text("export {};\n", encoding="utf-8")
        assert build_frontend.source_digest() != first
