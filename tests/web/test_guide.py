"""Workouts and standards as pages: what is told, to whom, and when."""

from callroom.model import State
from tests.web.building import FakeBook, client_of, example_book

HOUR_MS = 3_600_000


def test_a_workout_has_its_work_its_loads_and_its_standards() -> None:
    with client_of(example_book()) as client:
        page = client.get("/workouts/w1").text
    for said in ("For time, cap 12:00", "200 counts in all", "women 29 kg / 65 lb", "Thruster",
                 "The crease of the hip is below the top of the knee.", "at least 10 each",
                 "Told at the briefing, not written here:"):  # fmt: skip
        assert said in page
    assert page.count('<svg xmlns="http://www.w3.org/2000/svg" class="fig"') >= 8
    assert "style=" not in page


def test_before_its_release_a_workout_is_told_to_the_crew_only() -> None:
    book = example_book()
    paths = ("/workouts", "/workouts/w3", "/movements/clean_and_jerk")
    with client_of(book) as client:
        public = {path: client.get(path).text for path in paths}
    with client_of(book, "judge") as client:
        crew = {path: client.get(path).text for path in paths}
    assert all("Heavy single" not in text for text in public.values())
    assert "The work is told at 10:00." in public["/workouts/w3"]
    assert "clean_and_jerk" not in public["/workouts"] + public["/workouts/w3"]
    assert all("Heavy single" in text for text in crew.values())
    assert "the public does not see" in crew["/workouts/w3"]
    book.set_now(book.now_ms() + 2 * HOUR_MS)
    with client_of(book) as client:
        assert all("Heavy single" in client.get(path).text for path in paths)
    with client_of(book, "judge") as client:
        assert "the public does not see" not in client.get("/workouts/w3").text


def test_a_movement_page_says_where_it_is_asked_for() -> None:
    with client_of(example_book()) as client:
        page = client.get("/movements/deadlift").text
        other = client.get("/movements/rope_climb").text
        missing = client.get("/movements/dedlift")
    assert 'href="/workouts/w4"' in page
    assert "That repetition does not count." in page
    assert "No workout shown so far asks for it." in other
    assert missing.status_code == 404
    assert "deadlift" in missing.text


def test_an_unknown_workout_is_not_found() -> None:
    with client_of(example_book()) as client:
        assert client.get("/workouts/w9").status_code == 404


def test_a_book_without_an_event_has_pages_all_the_same() -> None:
    with client_of(FakeBook(State(), now_ms=0)) as client:
        assert client.get("/workouts").status_code == 200
        assert client.get("/workouts/w1").status_code == 404
        assert client.get("/movements/deadlift").status_code == 200


def test_timetable_and_team_pages_lead_to_released_workouts_only() -> None:
    with client_of(example_book()) as client:
        for path in ("/timetable", "/team/T01"):
            page = client.get(path).text
            assert 'href="/workouts/w1"' in page
            assert 'href="/workouts/w3"' not in page
