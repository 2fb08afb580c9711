"""Every text of every page goes through the translations."""

import gettext
import re
from html.parser import HTMLParser
from typing import Any

import msgspec
import pytest

from callroom.bootstrap.language import Language, language_of
from callroom.model import State, Workout
from callroom.standards import all_movements
from callroom.web import house, pages
from tests.views.building import example_event, example_state
from tests.web.building import FakeBook, client_of, played_book
from tests.web.test_pages import GUARDED, OPEN

# What a translator leaves alone: units, names, a command, and the names of formats.
NOT_WORDS = frozenset(
    {"kg", "lb", "cm", "in", "a", "b", "m", "w", "rehearsal", "callroom", "europe", "berlin", "pdf",
     "letter", "us", "tabloid", "http", "zip", "load", "book", "event", "toml", "teams", "csv", "crew", "kit",
     "plan", "c", "d", "eur", "p", "t"}
)  # fmt: skip

# Movements are data, in the language of their library.
LIBRARY_WORDS = frozenset(
    re.findall(r"[^\W\d_]+", msgspec.json.encode(all_movements()).decode().lower())
)
LISTS_MOVEMENTS = ("/director/workouts/", "/director/movements")


class Marked(gettext.NullTranslations):
    """Translations that leave nothing of a text but its place-holders."""

    def gettext(self, message: str) -> str:
        return " ".join(re.findall(r"%\([a-z]+\)s|\{\w+\}", message)) or "…"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid2)


class Shown(HTMLParser):
    """What of a page a person reads or hears."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._code = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._code += tag == "code"
        wanted = {"aria-label", "title", "placeholder", "alt", "data-lost"}
        self.texts += [value for name, value in attrs if name in wanted and value]

    def handle_endtag(self, tag: str) -> None:
        self._code -= tag == "code"

    def handle_data(self, data: str) -> None:
        if not self._code:
            self.texts.append(data)


def heard(shown: Shown) -> str:
    """The texts together, without place-holders that a script fills in."""
    return re.sub(r"\{\w+\}", "", " ".join(shown.texts))


def nameless(state: State) -> State:
    """The state with every name of the event's own made of digits."""
    assert state.event is not None
    event = state.event

    def numbered(things: Any) -> Any:
        return tuple(
            msgspec.structs.replace(thing, name=f"{index}") for index, thing in enumerate(things)
        )

    workouts = msgspec.json.decode(
        re.sub(rb'"movement":"\w+"', b'"movement":"7"', msgspec.json.encode(event.workouts)),
        type=tuple[Workout, ...],
    )
    changed = msgspec.structs.replace(
        event,
        name="1",
        venue="2",
        cause="3",
        categories=numbered(event.categories),
        divisions=numbered(event.divisions),
        floors=numbered(event.floors),
        workouts=numbered(workouts),
    )
    plan = state.plan
    assert plan is not None
    teams = {
        key: msgspec.structs.replace(team, name=f"{index}")
        for index, (key, team) in enumerate(state.teams.items())
    }
    return msgspec.structs.replace(
        state,
        event=changed,
        teams=teams,
        plan=msgspec.structs.replace(plan, pauses=numbered(plan.pauses)),
    )


def test_no_text_bypasses_the_translations(monkeypatch: pytest.MonkeyPatch) -> None:
    def marked(_wanted: str) -> Language:
        return Language("xx", TRANSLATIONS)

    for module in (pages, house):
        monkeypatch.setattr(module, "language_of", marked)
    book = FakeBook(nameless(played_book(4, confirm=2).state))
    book.set_now(0)
    monkeypatch.setattr(book.doors, "label_of", lambda _device: "9")
    untranslated: dict[str, set[str]] = {}
    for role in (None, "director"):
        with client_of(book, role) as client:
            for path in (*OPEN, *GUARDED, "/sign-in", "/nothing"):
                shown = Shown()
                shown.feed(client.get(path).text)
                words = set(re.findall(r"[^\W\d_]+", heard(shown).lower())) - NOT_WORDS
                if path.startswith(LISTS_MOVEMENTS):
                    words -= LIBRARY_WORDS
                if words:
                    untranslated[path] = words
    assert untranslated == {}


TRANSLATIONS = Marked()


def test_without_texts_in_a_language_the_page_is_english_and_says_so() -> None:
    book = FakeBook(example_state(example_event(language="de")))
    with client_of(book) as client:
        assert '<html lang="en">' in client.get("/").text
    assert language_of("de").tag == "en"
