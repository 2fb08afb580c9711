"""The gate of the podium on the head judge's page, and the presenter's sheet."""

import io
from functools import cache
from html import escape
from typing import Any

from pypdf import PdfReader

from callroom.actions import day
from callroom.model import Result, ScoreReport, SheetRef, State
from callroom.views.podium import podium
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token, result_for


@cache
def finished_state() -> State:
    """The example event with every heat over and confirmed."""
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    for heat in plan.heats:
        book.do(DIRECTOR, day.call_heat(heat.id))
        for team in heat.teams:
            book.do(DIRECTOR, day.mark_arrived(heat.id, team))
        book.do(DIRECTOR, day.start_heat(heat.id, book.now_ms()))
        book.do(DIRECTOR, day.finish_heat(heat.id))
        for place in heat.lanes:
            number = sorted(book.state.teams).index(place.team)
            for part in event.workout(heat.workout).parts:
                report = ScoreReport(
                    heat=heat.id,
                    workout=heat.workout,
                    part=part.id,
                    team=place.team,
                    lane=place.lane,
                    source="pad",
                    result=result_for(part.kind, number),
                    signed=True,
                )
                book.do(DIRECTOR, day.report_score(report))
        book.do(DIRECTOR, day.confirm_heat(heat.id, {}))
    return book.state


def finished_book() -> FakeBook:
    return FakeBook(finished_state())


def last_heat_open() -> FakeBook:
    """The same with the last heat opened again, whose scores decide much."""
    book = finished_book()
    assert book.state.plan is not None
    heat = max(book.state.plan.heats, key=lambda heat: heat.start_s)
    book.do(DIRECTOR, day.reopen_heat(heat.id, "wrong card"))
    return book


def division_of_last_heat(book: FakeBook) -> str:
    assert book.state.plan is not None
    heat = max(book.state.plan.heats, key=lambda heat: heat.start_s)
    return book.state.teams[heat.teams[0]].division


def release(client: Any, division: str, **typed: str) -> Any:
    data = {"form_token": form_token("head_judge"), "key": "k", "basis": "{}", **typed}
    return client.post(f"/judge/podium/{division}", data=data, follow_redirects=False)


def text_of(answer: Any) -> str:
    pages = PdfReader(io.BytesIO(answer.content)).pages
    return "".join(page.extract_text() for page in pages)


def test_with_everything_confirmed_the_sheet_prints_with_third_place_first() -> None:
    book = finished_book()
    division = division_of_last_heat(book)
    shown = podium(book.state, division)
    assert shown.certain
    assert not shown.awaited
    with client_of(book, "head_judge") as client:
        assert "Certain: nothing" in client.get(f"/judge/podium/{division}").text
        sheet = client.get(f"/judge/podium/{division}/sheet.pdf")
    text = text_of(sheet)
    names = [team.name for team in shown.teams]
    assert [text.index(name) for name in names] == sorted(
        (text.index(name) for name in names), reverse=True
    )
    assert "Certain: nothing that is still open can change these places." in text


def test_an_unconfirmed_heat_is_awaited_by_name_and_nothing_prints() -> None:
    book = last_heat_open()
    division = division_of_last_heat(book)
    shown = podium(book.state, division)
    assert not shown.certain
    (heat,) = {line.heat for line in shown.awaited}
    with client_of(book, "head_judge") as client:
        page = client.get(f"/judge/podium/{division}").text
        sheet = client.get(f"/judge/podium/{division}/sheet.pdf")
    assert f'href="/judge/heat/{heat}"' in page
    assert "not confirmed" in page
    for _, name in shown.awaited[0].teams:
        assert escape(name) in page
    assert sheet.status_code == 409
    assert "is not certain" in sheet.text


def test_it_is_let_out_with_a_reason_until_something_changes() -> None:
    book = last_heat_open()
    division = division_of_last_heat(book)
    with client_of(book, "head_judge") as client:
        assert release(client, division, reason=" ").status_code == 409
        answer = release(client, division, key="r", reason="the hall closes at six")
        assert answer.status_code == 303
        text = text_of(client.get(f"/judge/podium/{division}/sheet.pdf"))
        assert "NOT CERTAIN" in text
        assert "the hall closes at six" in text
        line = podium(book.state, division).awaited[0]
        score = line.scores[0]
        ref = SheetRef(workout=score.workout, part=score.part, team=score.team)
        worse = Result(outcome="withdrew")
        book.do(DIRECTOR, day.correct_score(ref, worse, "left the floor"))
        page = client.get(f"/judge/podium/{division}").text
        assert "something has changed since" in page
        assert client.get(f"/judge/podium/{division}/sheet.pdf").status_code == 409


def test_an_open_appeal_about_a_score_among_the_first_closes_the_gate() -> None:
    from callroom.actions.verdicts import decide_appeal, make_appeal

    book = finished_book()
    division = division_of_last_heat(book)
    second, third = podium(book.state, division).teams[1:3]
    about = second.results[0]
    request = make_appeal(
        third.place.team,
        "They had our count.",
        ground="lane",
        handed_in_ms=book.now_ms(),
        workout=about.workout.id,
        part=about.part.id,
    )
    book.do(DIRECTOR, request)
    shown = podium(book.state, division)
    assert not shown.certain
    assert [line.why for line in shown.awaited] == [("appeal",)]
    assert shown.awaited[0].teams[0][0] == third.place.team
    book.do(DIRECTOR, decide_appeal(1, "the film of the clock", upheld=False, basis={}))
    assert podium(book.state, division).certain


def test_before_anything_is_in_there_is_nobody_to_present() -> None:
    with client_of(example_book(), "head_judge") as client:
        page = client.get("/judge/podium").text
        answer = client.get("/judge/podium/open/sheet.pdf")
    assert "nobody to present" in page
    assert answer.status_code == 409


def test_others_do_not_see_it() -> None:
    with client_of(example_book(), "desk") as client:
        assert client.get("/judge/podium").status_code == 403
