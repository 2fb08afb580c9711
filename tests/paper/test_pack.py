"""The print pack of the example event, read back."""

import io
from collections.abc import Collection
from functools import cache
from pathlib import Path
from typing import Any, Literal

import msgspec
import pypdf
import pytest

from callroom.model import Plan, State
from callroom.paper import PACK, PaperSize, print_pack
from callroom.views.codes import read_code
from callroom.views.sheets import sheets
from callroom.views.work_wording import speech_of
from tests.paper.reading import count_pages, fonts_of, pages_of, qr_codes_of, size_mm
from tests.views.building import example_event, example_state, example_teams

SIZES: tuple[PaperSize, ...] = ("a4", "us-letter")
FILES = ("day", "floors", "teams", "heat-sheets", "cards", "guide", "briefing", "roles")


def packed(
    state: State,
    folder: Path,
    size: PaperSize = "a4",
    to_a_sheet: Literal[1, 2] = 1,
    only: Collection[str] = PACK,
) -> dict[str, bytes]:
    """Print a pack and read its files by name."""
    assert state.event is not None
    written = print_pack(
        sheets(state),
        folder,
        size=size,
        speech=speech_of(state.event, {}),
        cards_to_a_sheet=to_a_sheet,
        only=only,
    )
    return {file.stem: file.read_bytes() for file in written}


FIVE = {
    team: entered
    for team, entered in example_teams().items()
    if team in {"T01", "T02", "T03", "T13", "T14"}
}


def five_teams(**changes: Any) -> State:
    """The example with five teams of both divisions, quick to print."""
    event = changes.pop("event", None)
    return example_state(event, teams=FIVE, **changes)


def two_heats(**changes: Any) -> State:
    """The same with two heats only."""
    state = five_teams(**changes)
    assert state.plan is not None
    plan = msgspec.structs.replace(state.plan, heats=state.plan.heats[:2])
    return msgspec.structs.replace(state, plan=plan)


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> dict[PaperSize, dict[str, bytes]]:
    folder = tmp_path_factory.mktemp("packs")
    return {size: packed(five_teams(), folder / size, size) for size in SIZES}


@pytest.fixture(scope="module")
def texts(packs: dict[PaperSize, dict[str, bytes]]) -> dict[str, list[str]]:
    return {name: pages_of(pdf) for name, pdf in packs["a4"].items()}


@pytest.fixture(scope="module")
def rehearsed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    state = five_teams(rehearsal=True)
    return packed(state, tmp_path_factory.mktemp("rehearsed"), to_a_sheet=2)


def test_every_file_is_on_the_paper_asked_for(
    packs: dict[PaperSize, dict[str, bytes]],
) -> None:
    assert tuple(packs["a4"]) == tuple(packs["us-letter"]) == FILES
    assert {size_mm(pdf) for pdf in packs["a4"].values()} == {(210, 297)}
    assert {size_mm(pdf) for pdf in packs["us-letter"].values()} == {(216, 279)}


def test_both_papers_take_the_same_pages(packs: dict[PaperSize, dict[str, bytes]]) -> None:
    pages = {"day": 1, "floors": 3, "teams": 5, "heat-sheets": 10, "cards": 25}
    pages |= {"guide": 11, "roles": 5}
    for size in SIZES:
        counted = {name: count_pages(pdf) for name, pdf in packs[size].items()}
        assert counted == {**pages, "briefing": {"a4": 9, "us-letter": 10}[size]}


def test_every_page_says_its_revision(texts: dict[str, list[str]]) -> None:
    for pages in texts.values():
        assert all("Revision 3" in page for page in pages)
        assert not any("REHEARSAL" in page for page in pages)
        assert all("every team and person is invented" in page for page in pages)


def test_every_page_of_a_rehearsal_says_so(rehearsed: dict[str, bytes]) -> None:
    for name, pdf in rehearsed.items():
        pages = pages_of(pdf)
        sheets_to_a_page = [2] * 12 + [1] if name == "cards" else [1] * len(pages)
        assert [page.count("Revision 3") for page in pages] == sheets_to_a_page
        assert [page.count("REHEARSAL") for page in pages] == [2 * n for n in sheets_to_a_page]


def test_only_the_shipped_fonts_are_used_and_they_are_embedded(
    packs: dict[PaperSize, dict[str, bytes]],
) -> None:
    for pdf in packs["a4"].values():
        fonts = fonts_of(pdf)
        assert fonts
        assert all(fonts.values())
        assert all("SourceSans3" in name for name in fonts)


def test_every_file_is_tagged_and_says_its_language_and_title(
    packs: dict[PaperSize, dict[str, bytes]],
) -> None:
    for pdf in packs["a4"].values():
        reader = pypdf.PdfReader(io.BytesIO(pdf))
        root: Any = reader.trailer["/Root"]
        assert root["/MarkInfo"]["/Marked"]
        assert "/StructTreeRoot" in root
        assert root["/Lang"] == "en"
        assert b"pdfuaid:part>1" in root["/Metadata"].get_object().get_data().replace(b" ", b"")
        assert reader.metadata is not None
        assert reader.metadata.title


def test_every_team_is_on_every_kind_of_sheet_that_names_teams(
    texts: dict[str, list[str]],
) -> None:
    state = five_teams()
    for name in ("floors", "teams", "heat-sheets", "cards"):
        whole = " ".join(" ".join(texts[name]).split())
        for team in state.teams.values():
            assert team.name in whole


def test_a_card_prints_every_running_total_loads_and_places_to_sign(
    texts: dict[str, list[str]],
) -> None:
    (card,) = (page for page in texts["cards"] if "Tidal Four" in page and "Long haul" in page)
    for text in (
        "60 cal",
        "110",
        "150",
        "180",
        "of 200",
        "women 29 kg / 65 lb",
        "men 43 kg / 95 lb",
        "men 60 cm / 24 in",
        "at least 10 each",
        "switch every 5",
        "Split: end of thruster",
        "Not finished: total done at 12:00",
        "Judge: name and signature",
        "Captain: signs for the count",
        "09:18",
        "953N-ADRE",
    ):
        assert text in card


def test_a_two_part_card_has_both_parts(texts: dict[str, list[str]]) -> None:
    (card,) = (page for page in texts["cards"] if "Tidal Four" in page and "Two tides" in page)
    for text in ("Part A", "For time, cap 7:00", "Part B", "starts at 8:00 on the clock"):
        assert text in card
    assert card.count("did not start") == 2


def test_a_lifting_card_has_a_line_for_every_attempt(texts: dict[str, list[str]]) -> None:
    (card,) = (page for page in texts["cards"] if "Tidal Four" in page and "Heavy" in page)
    assert card.count("Attempt 3") == 2
    assert card.count("Good") >= 6


@pytest.mark.parametrize("page", [1, 12, 25])
def test_the_printed_qr_code_opens_the_cards_own_form(
    packs: dict[PaperSize, dict[str, bytes]], page: int
) -> None:
    state = five_teams()
    (address,) = qr_codes_of(packs["a4"]["cards"], page)
    card = sheets(state).cards.cards[page - 1]
    assert address == card.address == f"http://192.168.1.20:8000/c/{card.code}"
    assert read_code(address, state) == card.ref
    assert card.team in " ".join(pages_of(packs["a4"]["cards"])[page - 1].split())


def test_the_qr_codes_of_small_cards_can_be_read_too(rehearsed: dict[str, bytes]) -> None:
    state = five_teams(rehearsal=True)
    found = qr_codes_of(rehearsed["cards"], 12)
    made = sheets(state).cards.cards
    assert found == {made[11].address, made[24].address}


def test_without_an_address_cards_carry_the_bare_code(tmp_path: Path) -> None:
    state = two_heats(event=example_event(address=""))
    pdf = packed(state, tmp_path, only=["cards"])["cards"]
    assert qr_codes_of(pdf, 1) == {sheets(state).cards.cards[0].code}


def test_the_same_book_prints_the_same_bytes(tmp_path: Path) -> None:
    first = packed(two_heats(), tmp_path / "first")
    assert packed(two_heats(), tmp_path / "second") == first
    in_part = ("day", "teams", "cards")
    later = packed(two_heats(at_ms=1_794_500_060_000), tmp_path / "later", only=in_part)
    assert all(later[name] != first[name] for name in in_part)


def test_public_sheets_keep_an_unreleased_workout_to_themselves(
    texts: dict[str, list[str]],
) -> None:
    for name in ("day", "floors", "teams", "guide"):
        whole = " ".join(texts[name])
        assert "Heavy single" not in whole
        assert "Workout 3" in whole
    assert "released at 10:00" in texts["day"][0]
    assert "Heavy single" in " ".join(texts["heat-sheets"])


def test_files_of_others_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    packed(two_heats(), tmp_path, only=["day"])
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"
    assert {path.name for path in tmp_path.iterdir()} == {"notes.txt", "day.pdf"}


def test_a_plan_without_heats_prints_sheets_that_say_so_little(tmp_path: Path) -> None:
    state = five_teams(plan=Plan(revision=7, inputs_digest="none", heats=()))
    made = packed(state, tmp_path)
    assert "Revision 7" in pages_of(made["day"])[0]


@cache
def _reader(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def test_teams_can_be_found_by_their_headings(packs: dict[PaperSize, dict[str, bytes]]) -> None:
    outline = _reader(packs["a4"]["teams"]).outline
    names = {str(entry.title) for entry in outline if not isinstance(entry, list)}
    assert names == {team.name for team in FIVE.values()}


def test_another_language_is_said_in_the_file(tmp_path: Path) -> None:
    state = two_heats(event=example_event(language="de"))
    reader = _reader(packed(state, tmp_path, only=["day"])["day"])
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "de"
