"""Every page: who may see it, what it shows, and what it never does."""

import re
from collections.abc import Iterable
from typing import Any, get_args

import jinja2
import jinja2.meta
import msgspec
import pytest

from callroom.model import Role, State
from callroom.views.standings import standings
from callroom.web import contexts
from callroom.web.pages import Page, Shell
from tests.views.building import example_event, example_state
from tests.web.building import ROLES, FakeBook, client_of, example_book, played_book

OPEN = ("/", "/timetable", "/workouts", "/workouts/w1", "/workouts/w5", "/training", "/standings",
        "/standings/open", "/board", "/clock", "/clock/hall", "/carry", "/carry/in", "/screen", "/announcer", "/raised", "/enter", "/help-out", "/enter/pairs", "/team/T01", "/rulings", "/changes", "/join", "/join/2222-2222")  # fmt: skip
GUARDED: dict[str, set[str]] = {
    "/pad": {role for role in ROLES if role != "first_aid"},
    "/heat/w1-1/clock": {"director", "head_judge", "crew"},
    "/line-ups": {"director", "head_judge", "desk", "crew", "first_aid"},
    "/line-ups/T13": {"director", "head_judge", "desk", "crew", "first_aid"},
    "/floor": {"director", "head_judge", "crew"},
    "/floor/yard": {"director", "head_judge", "crew"},
    "/desk": {"director", "head_judge", "desk"},
    "/desk/heat/w1-1": {"director", "head_judge", "desk"},
    "/desk/card/w1/T13/1": {"director", "head_judge", "desk"},
    "/judge": {"director", "head_judge"},
    "/judge/amendments": {"director", "head_judge"},
    "/judge/amend/w1": {"director", "head_judge"},
    "/judge/rulings": {"director", "head_judge"},
    "/judge/heat/w1-1": {"director", "head_judge"},
    "/judge/score/w1/a/T13/1": {"director", "head_judge"},
    "/director": {"director"},
    "/desk/teams": {"director", "head_judge", "desk"},
    "/director/devices": {"director"},
    "/director/files": {"director"},
    "/director/forecast": {"director"},
    "/director/pace": {"director"},
    "/director/money": {"director"},
    "/director/money/account": {"director"},
    "/director/money/budget": {"director"},
    "/director/money/entries": {"director"},
    "/director/screen": {"director"},
    "/director/standby": {"director"},
    "/director/teams": {"director"},
    "/director/teams/new": {"director"},
    "/director/crew": {"director"},
    "/director/crew/new": {"director"},
    "/director/crew/thanks": {"director"},
    "/director/teams/T13": {"director"},
    "/director/entering": {"director"},
    "/director/letters": {"director"},
    "/director/letters/server": {"director"},
    "/director/plan": {"director"},
    "/director/rota": {"director"},
    "/director/kit": {"director"},
    "/director/repair": {"director"},
    "/director/punctuality": {"director"},
    "/my-day": set(ROLES),
    "/director/plan/compare?before=0&after=0": {"director"},
    "/director/workouts": {"director"},
    "/director/workouts/w1": {"director"},
    "/director/movements": {"director"},
    "/director/movements/new": {"director"},
}
HOSTILE = "<script>alert(1)</script>\"'&{{7*7}}"


def texts(book: FakeBook, role: Role | None, paths: Iterable[str]) -> dict[str, str]:
    """The text of each page, seen by one browser."""
    with client_of(book, role) as client:
        return {path: client.get(path).text for path in paths}


def test_public_pages_are_open_to_all() -> None:
    with client_of(played_book(2, confirm=1)) as client:
        for path in OPEN:
            response = client.get(path)
            assert response.status_code == 200, path
            assert '<html lang="en">' in response.text


@pytest.mark.parametrize("role", [None, *ROLES])
def test_other_pages_are_for_their_roles(role: Role | None) -> None:
    with client_of(example_book(), role) as client:
        for path, allowed in GUARDED.items():
            status = client.get(path).status_code
            refused = 401 if role is None else 403
            assert status == (200 if role in allowed else refused), path


@pytest.mark.parametrize("path", ["/director", "/director/devices", "/sign-in"])
def test_the_directors_pages_answer_only_at_the_machine_or_over_tls(path: str) -> None:
    far = {"peer": "192.168.1.77", "base_url": "http://192.168.1.20:8000"}
    with client_of(example_book(), "director", **far) as client:
        response = client.get(path)
    assert response.status_code == 403
    assert "others could read along" in response.text
    with client_of(example_book(), base_url="https://192.168.1.20:8000") as client:
        assert client.get("/sign-in").status_code == 200


def test_over_tls_the_cookie_is_bound_to_the_host() -> None:
    with client_of(example_book(), base_url="https://192.168.1.20:8000") as client:
        cookie = client.get("/join").headers["set-cookie"]
    assert cookie.startswith("__Host-callroom-8000=")
    assert cookie.endswith("; Secure")
    assert "Domain" not in cookie


def test_nothing_comes_from_elsewhere_and_no_style_or_script_is_inline() -> None:
    for path, text in texts(played_book(3, confirm=1), "director", [*OPEN, *GUARDED]).items():
        assert not re.findall(r'(?:src|href|action)="(?:https?:)?//', text), path
        assert not re.findall(r"<script(?![^>]*\bsrc=)", text), path
        assert not re.findall(r"\sstyle=|<style|\son[a-z]+=|javascript:", text), path


def hostile_state() -> State:
    event = example_event(name=HOSTILE, venue=HOSTILE, cause=HOSTILE)
    state = example_state(event)
    teams = {key: msgspec.structs.replace(team, name=HOSTILE) for key, team in state.teams.items()}
    return msgspec.structs.replace(state, teams=teams)


def test_hostile_names_are_shown_and_do_nothing() -> None:
    for path, text in texts(FakeBook(hostile_state()), "director", [*OPEN, *GUARDED]).items():
        assert "<script>alert" not in text, path
        assert "&lt;script&gt;alert(1)&lt;/script&gt;" in text, path
        assert "{{7*7}}" in text, path


def test_a_rehearsal_says_so_on_every_page() -> None:
    paths = [*OPEN, *GUARDED, "/nothing"]
    for text in texts(example_book(rehearsal=True), "director", paths).values():
        assert "<strong>REHEARSAL</strong>" in text
    for text in texts(example_book(), "director", paths).values():
        assert "REHEARSAL" not in text


def test_an_empty_book_has_pages_too() -> None:
    with client_of(FakeBook(State(), now_ms=0), "director") as client:
        for path in ("/", "/timetable", "/standings", "/board", "/desk", "/judge", "/director"):
            assert client.get(path).status_code == 200, path
        for path in ("/standings/open", "/team/T01"):
            assert client.get(path).status_code == 404, path


def test_without_a_plan_pages_say_so() -> None:
    with client_of(example_book(plan=None), "director") as client:
        for path in ("/", "/timetable", "/team/T01", "/board", "/desk", "/judge", "/director"):
            response = client.get(path)
            assert response.status_code == 200, path
            assert "No plan published yet" in response.text


def test_an_unreleased_workout_is_named_to_the_crew_only() -> None:
    with client_of(example_book()) as client:
        public = "".join(client.get(path).text for path in OPEN)
    with client_of(example_book(), "desk") as client:
        crew = client.get("/board").text + client.get("/desk").text
    assert "Heavy single" not in public
    assert "Workout 3" in public
    assert "Heavy single" in crew


def test_the_parts_of_an_unreleased_workout_are_not_named_either() -> None:
    state = example_state()
    assert state.event is not None
    workouts = tuple(
        msgspec.structs.replace(
            workout,
            release_s=99_999,
            parts=tuple(
                msgspec.structs.replace(part, name=f"Secret {part.id}") for part in workout.parts
            ),
        )
        for workout in state.event.workouts
    )
    event = msgspec.structs.replace(state.event, workouts=workouts)
    book = FakeBook(msgspec.structs.replace(state, event=event))
    for path, text in texts(book, None, OPEN).items():
        assert "Secret" not in text, path


def test_a_workout_is_named_to_all_once_it_is_released() -> None:
    book = example_book()
    book.set_now(book.now_ms() + 4 * 3600 * 1000)
    with client_of(book) as client:
        assert "Heavy single" in client.get("/timetable").text


def test_no_person_is_named_on_public_pages() -> None:
    with client_of(played_book(3, confirm=1)) as client:
        text = "".join(client.get(path).text for path in OPEN)
    assert not re.findall(r"\bp\d+[A-D]\b", text)  # ids of people
    assert "Sam" not in text  # the judge who reported


@pytest.mark.parametrize(
    ("path", "status"),
    [("/nothing", 404), ("/team/none", 404), ("/standings/none", 404), ("/c/2222-2222", 401)],
)
def test_what_is_not_there_is_said_in_a_sentence(path: str, status: int) -> None:
    with client_of(example_book()) as client:
        page = client.get(path)
        plain = client.get(path, headers={"accept": "application/json"})
    assert (page.status_code, plain.status_code) == (status, status)
    assert plain.json()["sentence"] in page.text.replace("&#39;", "'").replace("&#34;", '"')


def test_a_fault_of_ours_tells_nothing_of_the_inside(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> int:
        raise RuntimeError("secret inside")

    monkeypatch.setattr("callroom.web.routes.public.raised_view", broken)
    with client_of(example_book()) as client:
        response = client.get("/")
    assert response.status_code == 500
    assert "secret inside" not in response.text
    assert "went wrong on our side" in response.text


def all_pages() -> list[type[Page]]:
    from callroom.web.routes import HANDLERS

    assert HANDLERS  # every module that defines a page is imported with them
    return Page.__subclasses__()


@pytest.mark.parametrize("page", all_pages(), ids=lambda page: page.__name__)
def test_templates_read_the_documented_values_and_nothing_else(page: type[Page]) -> None:
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("callroom.web"),
        autoescape=True,
        extensions=["jinja2.ext.i18n"],
    )
    assert environment.loader is not None
    source, _, _ = environment.loader.get_source(environment, page.template)
    wanted = jinja2.meta.find_undeclared_variables(environment.parse(source))
    own = set(re.findall(r"(?: as|\bset|\bmacro) (\w+)", source))
    assert wanted - own <= {"page", "shell", "say", "asset", "_", "gettext", "ngettext"}
    fields = {field.name for field in msgspec.structs.fields(page)}
    assert set(re.findall(r"\bpage\.(\w+)", source)) <= fields
    shell = {field.name for field in msgspec.structs.fields(Shell)}
    assert set(re.findall(r"\bshell\.(\w+)", source)) <= shell
    assert page.__doc__


def test_pages_are_frozen_values() -> None:
    page = contexts.JoinPage(code="", label="", told=None)
    with pytest.raises(AttributeError):
        page.code = "x"  # type: ignore[misc]
    assert "director" in get_args(Role)


def test_a_views_part_of_a_page_is_drawn_once_for_each_change(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drawn: list[str] = []

    def counting(state: State, division: str, *more: Any) -> Any:
        drawn.append(division)
        return standings(state, division, *more)

    monkeypatch.setattr("callroom.web.topics.standings", counting)
    book = played_book(2, confirm=1)
    with client_of(book, "crew") as client:
        for _ in range(3):
            client.get("/standings/open")
        assert drawn == ["open"]
        # A call touches nothing that standings are drawn from.
        from callroom.actions import day
        from tests.web.building import DIRECTOR

        book.do(DIRECTOR, day.call_heat("w5-1"))
        client.get("/standings/open")
        assert drawn == ["open"]
        client.get("/standings/pairs")
    assert drawn == ["open", "pairs"]
