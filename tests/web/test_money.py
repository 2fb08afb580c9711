"""The treasurer's pages: a budget made, money booked, counted, corrected, taken away on paper."""

import re
from datetime import date
from html.parser import HTMLParser
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day, money
from callroom.actions.invent_budget import invented_budget
from callroom.bootstrap.language import Language
from callroom.model.money import Counted, Received, Spent
from callroom.web import house, pages
from tests.exchange.pictures import JPEG
from tests.views.building import example_state
from tests.web.building import DIRECTOR, FakeBook, client_of, form_token
from tests.web.test_language import NOT_WORDS, TRANSLATIONS, Shown, heard, nameless

DAY = date(2026, 11, 14)
# What a phone writes into a photo: here, where it was taken.
PLACE = b"\xff\xe1\x00\x18Exif\0\0" + b"52.37 N  4.90 E "
PHOTO = JPEG[:2] + PLACE + JPEG[2:]


class Fields(HTMLParser):
    """What a browser would send of the forms of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: dict[str, str] = {}
        self._select = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        ticked = given.get("type") not in {"checkbox", "radio"} or "checked" in given
        if tag == "input" and "name" in given and ticked:
            self.texts[given["name"]] = given.get("value", "")
        if tag == "select":
            self._select = given["name"]
        first = self._select not in self.texts
        if tag == "option" and self._select and ("selected" in given or first):
            self.texts[self._select] = given.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self._select = ""


def fields_of(text: str) -> dict[str, str]:
    reading = Fields()
    reading.feed(text)
    return reading.texts


def money_book() -> FakeBook:
    """The example event with the usual budget and invented sums in it."""
    book = FakeBook(example_state())
    assert book.state.event is not None
    book.do(DIRECTOR, money.set_budget(invented_budget(book.state.event)))
    return book


def posted(book: FakeBook, path: str, files: Any = None, **fields: str) -> Any:
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director"), **fields}
        return client.post(path, data=data, files=files, follow_redirects=False)


def page(book: FakeBook, path: str) -> str:
    with client_of(book, "director") as client:
        response = client.get(path)
    assert response.status_code == 200, response.text
    return str(response.text)


def deeds(book: FakeBook) -> list[Any]:
    return [booking.deed for booking in book.state.bookings.values()]


def test_a_budget_is_started_and_what_the_page_shows_is_what_it_saves() -> None:
    book = FakeBook(example_state())
    assert "Make the budget" in page(book, "/director/money")
    fields = fields_of(page(book, "/director/money/budget"))
    assert posted(book, "/director/money/budget", **fields).status_code == 303
    first = book.state.budget
    assert first is not None
    assert [one.sort for one in first.lines][-4:] == ["food", "prizes", "fees", "difference"]
    again = fields_of(page(book, "/director/money/budget"))
    posted(book, "/director/money/budget", **again)
    assert book.state.budget == first


def test_a_budget_somebody_saved_meanwhile_is_not_overwritten() -> None:
    book = money_book()
    mine, other = (fields_of(page(book, "/director/money/budget")) for _ in range(2))
    posted(book, "/director/money/budget", **(other | {"goal": "5000"}))
    late = posted(book, "/director/money/budget", **(mine | {"charity": "Kitchen"}))
    assert late.status_code == 422
    assert "Somebody changed this" in late.text
    assert book.state.budget is not None
    assert (book.state.budget.goal, book.state.budget.charity) == (5000_00, "")


def test_a_line_is_added_with_an_id_of_its_own_and_one_is_taken_out() -> None:
    book = money_book()
    before = book.state.budget
    assert before is not None
    fields = fields_of(page(book, "/director/money/budget"))
    last = len(before.lines)
    fields |= {f"line-{last}-name": "Raffle", f"line-{last}-fixed": "12,50", "line-0-name": ""}
    posted(book, "/director/money/budget", **fields)
    after = book.state.budget
    assert after is not None
    assert after.lines[:-1] == before.lines[1:]
    assert (after.lines[-1].id, after.lines[-1].fixed) == ("raffle_2", 12_50)


def test_a_budget_that_cannot_be_read_is_shown_again_with_every_fault() -> None:
    book = money_book()
    kept = book.state.budget
    fields = fields_of(page(book, "/director/money/budget"))
    fields |= {"goal": "1,200", "line-0-fixed": "many", "scenario-0-income": "lots"}
    answer = posted(book, "/director/money/budget", **fields)
    assert answer.status_code == 422
    assert answer.text.count('role="alert"') == 3
    assert 'value="many"' in answer.text
    assert book.state.budget == kept


def test_a_named_gift_is_booked_and_the_name_stays_out_of_the_journal() -> None:
    book = money_book()
    path = "/director/money/book/received"
    fields = {"line": "donations", "place": "bank", "amount": "250", "giver": "Ada Okoro"}
    fields |= {"email": "ada@example.org", "may_name": "on", "day": "2026-11-14", "key": "k1"}
    assert posted(book, path, **fields).status_code == 303
    assert posted(book, path, **fields).status_code == 303  # a second click
    (gift,) = deeds(book)
    assert (gift.amount, gift.line, gift.day, gift.may_name) == (250_00, "donations", DAY, True)
    assert book.people()[gift.giver].name == "Ada Okoro"
    assert b"Ada" not in b"".join(entry.data for entry, _ in book.entries)
    # The next gift of the same person is the same person's.
    posted(book, path, **{**fields, "giver": "ada  okoro", "key": "k2"})
    assert deeds(book)[1].giver == gift.giver
    assert "Ada Okoro" in page(book, "/director/money")


def test_what_cannot_be_booked_is_shown_again_as_typed() -> None:
    book = money_book()
    answer = posted(
        book, "/director/money/book/received", line="donations", place="bank", amount="1,000"
    )
    assert answer.status_code == 422
    assert "more digits behind the mark" in answer.text
    assert 'value="1,000"' in answer.text
    nowhere = posted(book, "/director/money/book/spent", line="hire", place="x", amount="1")
    assert nowhere.status_code == 422
    assert not book.state.bookings


def test_an_entry_brings_the_usual_benefit_unless_another_is_typed() -> None:
    book = money_book()
    assert book.state.budget is not None
    line = next(one for one in book.state.budget.lines if one.sort == "entries")
    usual = {"line": line.id, "place": "bank", "amount": "120", "team": "T01"}
    posted(book, "/director/money/book/received", **usual)
    posted(book, "/director/money/book/received", **usual, benefit="0")
    assert [one.benefit for one in deeds(book)] == [line.benefit, 0]


def test_a_cost_keeps_the_photo_of_its_receipt() -> None:
    book = money_book()
    answer = posted(
        book,
        "/director/money/book/spent",
        line="hire",
        place="bank",
        amount="90",
        files={"receipt": ("IMG 1.jpg", PHOTO, "application/octet-stream")},
    )
    assert answer.status_code == 303
    (cost,) = deeds(book)
    assert isinstance(cost, Spent)
    with client_of(book, "director") as client:
        kept = client.get(f"/director/money/{cost.receipt}")
        assert client.get("/director/money/receipt/none").status_code == 404
    assert (kept.content, kept.headers["content-type"]) == (JPEG, "image/jpeg")
    assert "sandbox" in kept.headers.get_list("content-security-policy")[0]


def test_a_receipt_is_added_later() -> None:
    book = money_book()
    posted(book, "/director/money/book/spent", line="hire", place="bank", amount="90")
    (seq,) = book.state.bookings
    path = f"/director/money/booking/{seq}"
    assert "Add the receipt" in page(book, path)
    photo = {"receipt": ("a.jpg", PHOTO, "image/jpeg")}
    assert posted(book, path, do="receipt", files=photo).status_code == 303
    assert "See the receipt" in page(book, path)
    assert posted(book, path, do="receipt").status_code == 422
    assert posted(book, path, do="other").status_code == 422


@pytest.mark.parametrize("content", [b"", b"<script>alert(1)</script>", b"GIF89a"])
def test_a_receipt_that_is_no_picture_is_refused(content: bytes) -> None:
    book = money_book()
    answer = posted(
        book,
        "/director/money/book/spent",
        line="hire",
        place="bank",
        amount="90",
        files={"receipt": ("receipt.jpg", content, "image/jpeg")},
    )
    assert answer.status_code == 422
    assert not book.state.bookings
    assert not book.beside["attachments"]


def test_a_stall_till_is_counted_by_two_and_its_float_is_no_income() -> None:
    book = money_book()
    posted(
        book, "/director/money/book/moved", **{"amount": "60", "from": "lent", "to": "place:till"}
    )
    fields = {
        "place": "till",
        "line": "stalls",
        "pieces-2000": "5",
        "pieces-5": "2",
        "rest": "3.40",
    }
    alone = posted(book, "/director/money/book/counted", **fields, counter_1="Bo")
    assert alone.status_code == 422
    posted(book, "/director/money/book/counted", **fields, counter_1="Bo", counter_2="Cleo Ng")
    count = deeds(book)[-1]
    assert isinstance(count, Counted)
    assert (count.found, count.booked, len(set(count.counted_by))) == (103_50, 43_50, 2)
    assert "43.50" in page(book, "/director/money")


def test_a_promise_comes_or_is_let_go() -> None:
    book = money_book()
    posted(book, "/director/money/book/promised", line="sponsors", amount="300", giver="Bakers")
    text = page(book, "/director/money")
    link = re.search(r'href="(/director/money/book/received\?promise=[^"]+)"', text)
    assert link is not None
    fields = fields_of(page(book, link[1].replace("&amp;", "&")))
    assert fields["giver"] == "Bakers"
    posted(book, "/director/money/book/received", **{**fields, "amount": "200", "place": "bank"})
    assert "100.00" in page(book, "/director/money")
    (promise,) = book.state.promises.values()
    posted(book, "/director/money", do="end", promise=str(promise.seq), reason="closed down")
    assert book.state.promises[str(promise.seq)].ended_seq is not None


def test_a_booking_is_taken_back_or_partly_refunded() -> None:
    book = money_book()
    posted(book, "/director/money/book/received", line="raffle", place="box", amount="80")
    (seq,) = book.state.bookings
    path = f"/director/money/booking/{seq}"
    assert "80.00" in page(book, path)
    assert (
        posted(book, path, do="return", how="refund", amount="90", place="box").status_code == 422
    )
    assert (
        posted(book, path, do="return", how="refund", amount="30", place="box").status_code == 303
    )
    assert posted(book, path, do="take_back", reason="typed twice").status_code == 422
    assert posted(book, path, do="return", how="", amount="1").status_code == 422
    later = max(book.state.bookings, key=int)
    posted(book, f"/director/money/booking/{later}", do="take_back", reason="not paid back")
    posted(book, path, do="take_back", reason="typed twice")
    assert [one.stands for one in book.state.bookings.values()] == [False, False]
    assert "taken back" in page(book, "/director/money/account")


@pytest.mark.parametrize(
    ("form", "fields"),
    [
        (
            "received",
            {"line": "raffle", "place": "box", "amount": "80", "giver": "Bo", "may_name": "on"},
        ),
        ("received", {"line": "sponsors", "place": "box", "goods": "apples", "team": "T02"}),
        ("spent", {"line": "hire", "place": "bank", "amount": "90", "what": "the van"}),
        ("spent", {"line": "food", "paid_by": "Cleo Ng", "amount": "9.50"}),
        ("moved", {"amount": "60", "from": "lent", "to": "place:till"}),
        ("moved", {"amount": "100", "from": "place:card", "to": "place:bank", "fee": "1.50"}),
        ("moved", {"amount": "5", "from": "place:bank", "to": "owed", "person": "Cleo Ng"}),
    ],
)
def test_a_correction_is_shown_as_it_was_typed_and_replaces_it(
    form: str, fields: dict[str, str]
) -> None:
    book = money_book()
    path = f"/director/money/book/{form}"
    extra = {"fee_line": "fees"} if form == "moved" else {}
    assert posted(book, path, day="2026-11-14", **fields, **extra).status_code == 303
    (seq,) = book.state.bookings
    assert f"{path}?corrects={seq}" in page(book, f"/director/money/booking/{seq}")
    shown = fields_of(page(book, f"{path}?corrects={seq}"))
    assert posted(book, path, **shown).status_code == 422  # it needs a reason
    assert posted(book, path, **(shown | {"reason": "typed twice"})).status_code == 303
    before, after = book.state.bookings.values()
    assert not before.stands
    assert after.deed == before.deed


def test_a_count_while_money_moved_is_looked_at_again() -> None:
    book = money_book()
    fields = fields_of(page(book, "/director/money/book/counted"))
    fields |= {"counter_1": "Bo", "counter_2": "Cleo Ng", "line": "stalls", "pieces-2000": "5"}
    posted(book, "/director/money/book/received", line="raffle", place="box", amount="20")
    late = posted(book, "/director/money/book/counted", **fields)
    assert late.status_code == 422
    assert "Somebody changed this" in late.text
    assert posted(book, "/director/money/book/counted", **fields_of(late.text)).status_code == 303
    assert deeds(book)[-1].booked == 80_00


def test_a_team_that_owes_its_entry_is_one_click_from_having_paid() -> None:
    book = money_book()
    text = page(book, "/director/money/entries")
    link = re.search(r'href="(/director/money/book/received\?team=T01[^"]+)"', text)
    assert link is not None
    fields = fields_of(page(book, link[1].replace("&amp;", "&")))
    assert (fields["team"], fields["amount"]) == ("T01", "120.00")
    posted(book, "/director/money/book/received", **{**fields, "place": "bank"})
    assert 'team=T01"' not in page(book, "/director/money/entries")
    book.do(DIRECTOR, day.withdraw_team("T01", "ill"))
    (seq,) = book.state.bookings
    left = page(book, "/director/money/entries")
    assert "their money is here" in left
    assert f'href="/director/money/booking/{seq}"' in left


def test_the_figure_is_shown_to_everybody_only_if_the_director_says_so() -> None:
    book = money_book()
    posted(book, "/director/money/book/received", line="raffle", place="box", amount="1234.99")
    with client_of(book) as client:
        assert "1\u202f234\u00a0EUR" in client.get("/raised").text
        assert 'href="/raised"' in client.get("/").text
        assert client.get("/director/money").status_code == 401
    assert book.state.budget is not None
    book.do(DIRECTOR, money.set_budget(replace(book.state.budget, on_screen=False)))
    with client_of(book) as client:
        assert "No figure is shown" in client.get("/raised").text
        assert 'href="/raised"' not in client.get("/").text


def test_sheets_and_files_are_taken_away() -> None:
    book = money_book()
    posted(book, "/director/money/book/received", line="donations", place="box", amount="5")
    with client_of(book, "director") as client:
        for name in ("statement", "letters", "thanks", "count-sheets"):
            answer = client.get(f"/director/money/papers/{name}.pdf?size=letter")
            assert answer.content.startswith(b"%PDF-"), name
        assert b"Donations" in client.get("/director/money/papers/account.csv").content
        assert (
            b"balance Assets:Box" in client.get("/director/money/papers/ledger.beancount").content
        )
        assert client.get("/director/money/papers/other.pdf").status_code == 404
    with client_of(FakeBook(example_state()), "director") as client:
        assert client.get("/director/money/papers/statement.pdf").status_code == 404


def test_no_text_about_money_bypasses_the_translations(monkeypatch: pytest.MonkeyPatch) -> None:
    def marked(_wanted: str) -> Language:
        return Language("xx", TRANSLATIONS)

    book = FakeBook(nameless(example_state()))
    assert book.state.event is not None
    start = invented_budget(book.state.event)
    budget = replace(
        start,
        lines=tuple(replace(one, name="1") for one in start.lines),
        places=tuple(replace(one, name="2") for one in start.places),
        scenarios=tuple(replace(one, name="3") for one in start.scenarios),
    )
    book.do(DIRECTOR, money.set_budget(budget))
    book.do(DIRECTOR, money.note_promise("sponsors", 500))
    gift = Received(day=DAY, line="raffle", place="box", amount=500, team="T01")
    seq = book.do(DIRECTOR, money.book_money(gift)).seqs[0]
    book.do(DIRECTOR, money.book_money(Spent(day=DAY, line="hire", paid_by="p1", amount=5)))
    for module in (pages, house):
        monkeypatch.setattr(module, "language_of", marked)
    forms = ("received", "spent", "moved", "promised", "counted")
    paths = [
        "",
        "/budget",
        "/account",
        "/entries",
        f"/booking/{seq}",
        *(f"/book/{one}" for one in forms),
    ]
    for path in [*(f"/director/money{one}" for one in paths), "/raised"]:
        shown = Shown()
        shown.feed(page(book, path))
        words = set(re.findall(r"[^\W\d_]+", heard(shown).lower())) - NOT_WORDS
        assert not words, path
