"""The run sheet on its page: by person and post, live on the day, printed."""

from callroom.model import CrewMember, Duty, Rota, Shift
from callroom.model.person import Person
from tests.web.building import client_of, example_book, played_book


def test_the_day_is_listed_marked_and_filtered() -> None:
    book = played_book()
    with client_of(book, "director") as client:
        page = client.get("/director/run-sheet").text
        assert 'id="now"' in page
        assert "fresh.js" in page
        assert "Doors open" in page
        desk = client.get("/director/run-sheet?post=desk").text
        assert "post the standings" in desk
        assert "Doors open" not in desk


def test_names_stand_on_it_for_the_director_alone() -> None:
    rota = Rota(
        plan_revision=1,
        shifts=(Shift(id="s", post="desk", start_s=0, end_s=3600),),
        duties=(Duty(shift="s", person="c1"),),
    )
    crew = {"c1": CrewMember(person="c1", posts=("desk",))}
    book = example_book(rota=rota, crew=crew)
    book.beside["people"]["c1"] = Person(name="Ana <Ruiz>")
    with client_of(book, "director") as client:
        assert "Ana &lt;Ruiz&gt;" in client.get("/director/run-sheet?person=c1").text
        for query in ("", "person=c1", "post=desk", "each=yes", "each=yes&size=letter"):
            pdf = client.get(f"/director/run-sheet.pdf?{query}")
            assert pdf.content.startswith(b"%PDF")
        assert "Nothing here yet" in client.get("/director/run-sheet?person=nobody").text
    with client_of(book, "head_judge") as client:
        assert client.get("/director/run-sheet").status_code == 403
    with client_of(book, "director", peer="192.0.2.7", base_url="http://localhost:8000") as client:
        assert client.get("/director/run-sheet").status_code == 403
