"""An event in Spanish is Spanish on its pages."""

import msgspec

from tests.web.building import client_of, example_book


def test_the_pages_of_a_spanish_event_are_spanish() -> None:
    book = example_book()
    event = book.state.event
    assert event is not None
    spanish = msgspec.structs.replace(event, language="es-MX")
    book.state = msgspec.structs.replace(book.state, event=spanish)
    with client_of(book) as client:
        page = client.get("/standings").text
        assert '<html lang="es-MX"' in page
        assert "Clasificación" in page
        assert "Standings" not in page
