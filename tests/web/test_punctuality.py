"""The director's page of punctuality: every heat drawn, slack placed, kept as a draft."""

import re

from callroom.bootstrap.plan_drafts import drafts_of
from tests.web.building import client_of, example_book, form_token


def test_every_heat_has_its_bar_and_slack_can_be_kept_as_a_draft() -> None:
    book = example_book()
    plan = book.state.plan
    assert plan is not None
    with client_of(book, "director") as client:
        page = client.get("/director/punctuality").text
        assert page.count('class="chance-bar"') == len(plan.heats)
        tight = client.get("/director/punctuality?by=16:00&percent=95")
        assert tight.status_code == 200
        assert client.get("/director/punctuality?by=half past").status_code == 422
        data = {
            "form_token": form_token("director"),
            "percent": "90",
            "end_s": str(plan.finish_s),
        }
        kept = client.post("/director/punctuality", data=data, follow_redirects=True)
        assert kept.url.path == "/director/plan/1"
        assert re.search(r"earlier|later", kept.text)
        data["end_s"] = str(plan.finish_s + 7200)
        assert client.post("/director/punctuality", data=data).status_code == 409
    (draft,) = drafts_of(book)
    assert draft.of == "slack"
    assert draft.plan.finish_s > plan.finish_s
