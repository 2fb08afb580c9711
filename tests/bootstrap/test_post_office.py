"""Letters through a real mail server: each taken once, over restarts, lines that break, and noes."""

import socket
import ssl
import subprocess
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult, Envelope
from msgspec.structs import replace

from callroom.bootstrap.books import open_book
from callroom.bootstrap.post_office import PostOffice
from callroom.bootstrap.smtp_line import NoLine, message
from callroom.model import Refusal, State
from callroom.model.away import Away
from callroom.model.post import OutLetter, PostServer
from tests.bootstrap.day_books import day_book
from tests.web.building import Shelf


class Box:
    """What arrives at the mail server; it may be told to refuse, or to hang up."""

    def __init__(self) -> None:
        self.taken: list[Envelope] = []
        self.refuse: dict[str, str] = {}
        self.hang_up_after_text = False

    async def handle_RCPT(  # noqa: N802 - the server's own name
        self, _server: Any, _session: Any, envelope: Envelope, address: str, _options: Any
    ) -> str:
        if address in self.refuse:
            return self.refuse[address]
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: Any, _session: Any, envelope: Envelope) -> str:  # noqa: N802
        if self.hang_up_after_text:
            server.transport.abort()
        self.taken.append(envelope)
        return "250 OK"


class Hall:
    """A book with a State, and a clock that stands."""

    def __init__(self, **state: Any) -> None:
        self.state = State(**state)

    def now_ms(self) -> int:
        return 1_794_000_000_000


@contextmanager
def mail_server(box: Box, **options: Any) -> Iterator[int]:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    running = Controller(box, hostname="127.0.0.1", port=port, **options)
    running.start()
    try:
        yield port
    finally:
        running.stop()


def server_at(port: int, **changes: Any) -> PostServer:
    server = PostServer(
        host="127.0.0.1", port=port, security="none", sender="gala@example.org", sender_name="Gala"
    )
    return replace(server, **changes)


def letter(name: str, **changes: Any) -> OutLetter:
    made = OutLetter(
        id=f"id-{name}",
        team="T1",
        kind="reminder",
        to=f"{name}@example.org",
        subject="Grüße: still open",
        body="Hello,\n\nbis bald – see you.\n",
        made_ms=1_794_000_000_000,
        generation=1,
    )
    return replace(made, **changes)


def office(rows: dict[str, Any], hall: Hall | None = None, **options: Any) -> PostOffice:
    here = hall or Hall()
    outbox, secrets = rows.setdefault("outbox", {}), rows.setdefault("secrets", {})
    return PostOffice(here, Shelf(outbox), Shelf(secrets), here, **options)


def states(post: PostOffice) -> dict[str, str]:
    return {one.id: one.state for one in post.letters()}


def test_letters_are_taken_once_however_often_they_are_put_in_and_sent() -> None:
    box, outbox = Box(), {}  # type: ignore[var-annotated]
    with mail_server(box) as port:
        post = office(outbox)
        post.set_server(server_at(port))
        both = [("p1", letter("kim")), ("p2", letter("ada"))]
        assert post.put_in(both) == 2
        assert post.put_in(both) == 0
        assert post.send_waiting() == 2
        assert post.send_waiting() == 0
        # A new start of the server finds what is on disk.
        again = office(outbox)
        again.set_server(server_at(port))
        again.look_after()
        assert again.put_in(both) == 0
        assert again.send_waiting() == 0
    assert sorted(one.rcpt_tos[0] for one in box.taken) == ["ada@example.org", "kim@example.org"]
    assert states(post) == {"id-kim": "sent", "id-ada": "sent"}
    assert [one.body for one in post.letters()] == ["", ""]
    text = bytes(box.taken[0].original_content or b"").decode()
    assert "From: Gala <gala@example.org>" in text
    assert "Message-ID: <id-" in text


def test_of_two_processes_that_share_a_book_one_sends_a_letter() -> None:
    box, rows = Box(), {}  # type: ignore[var-annotated]
    with mail_server(box) as port:
        first, second = office(rows), office(rows)
        first.set_server(server_at(port))
        first.put_in([("p1", letter("kim"))])
        taken: list[int] = []
        both = [Thread(target=lambda post=post: taken.append(post.send_waiting()))
                for post in (first, second)]  # fmt: skip
        for one in both:
            one.start()
        for one in both:
            one.join()
    assert sorted(taken) == [0, 1]
    assert len(box.taken) == 1


def test_what_the_server_refuses_is_shown_and_can_be_tried_again() -> None:
    box, outbox = Box(), {}  # type: ignore[var-annotated]
    box.refuse = {"kim@example.org": "550 nobody here", "ada@example.org": "451 later, please"}
    with mail_server(box) as port:
        post = office(outbox)
        post.set_server(server_at(port))
        names = ("kim", "ada", "lou")
        post.put_in([(name, letter(name)) for name in names])
        assert post.send_waiting() == 1
        assert states(post) == {"id-kim": "failed", "id-ada": "waiting", "id-lou": "sent"}
        assert {one.said for one in post.letters()} == {"550 nobody here", "451 later, please", ""}
        box.refuse = {}
        post.again("id-kim")
        assert post.send_waiting() == 2
    assert len(box.taken) == 3


def test_a_line_that_breaks_after_the_text_leaves_a_letter_unsure_and_it_is_not_sent_again() -> (
    None
):
    box, outbox = Box(), {}  # type: ignore[var-annotated]
    box.hang_up_after_text = True
    with mail_server(box) as port:
        post = office(outbox)
        post.set_server(server_at(port))
        post.put_in([("p1", letter("kim")), ("p2", letter("lou"))])
        assert post.send_waiting() == 0
        assert states(post) == {"id-kim": "unsure", "id-lou": "waiting"}
        box.hang_up_after_text = False
        assert post.send_waiting() == 1
    assert [one.rcpt_tos for one in box.taken] == [["kim@example.org"], ["lou@example.org"]]


def test_what_was_on_its_way_when_the_power_went_is_unsure_after_the_restart() -> None:
    outbox: dict[str, Any] = {}
    office(outbox).put_in([("p1", letter("kim", state="sending")), ("p2", letter("ada"))])
    post = office(outbox)
    post.look_after()
    assert states(post) == {"id-kim": "unsure", "id-ada": "waiting"}
    # Another laptop carries on from a copy: the first one may have sent what waits in it.
    other = office(outbox, Hall(generation=2))
    other.look_after()
    assert states(other)["id-ada"] == "unsure"


def test_without_an_answer_the_letters_wait_and_say_why() -> None:
    outbox: dict[str, Any] = {}
    with mail_server(Box()) as port:
        pass  # and nobody listens there any more
    post = office(outbox)
    post.set_server(server_at(port))
    post.put_in([("p1", letter("kim"))])
    with pytest.raises(NoLine, match="no_answer"):
        post.send_waiting()
    (kept,) = post.letters()
    assert kept.state == "waiting"
    assert kept.said


def test_a_rehearsal_sends_nothing_and_without_a_server_it_is_said() -> None:
    with pytest.raises(Refusal, match="rehearsal"):
        office({}, Hall(rehearsal=True)).send_waiting()
    with pytest.raises(Refusal, match="away"):
        office({}, Hall(away=Away(seq=1, at_ms=1))).send_waiting()
    with pytest.raises(Refusal, match="no_server"):
        office({}).send_waiting()


def test_a_password_goes_over_no_open_line() -> None:
    post = office({})
    post.set_server(server_at(25, host="mail.example.org", user="me", password="secret"))
    post.put_in([("p1", letter("kim"))])
    with pytest.raises(Refusal, match="password_in_clear"):
        post.send_waiting()


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A certificate for this machine, good for a day."""
    folder = tmp_path_factory.mktemp("tls")
    made, key = folder / "made.pem", folder / "key.pem"
    subprocess.run(
        ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256",
         "-nodes", "-days", "1", "-subj", "/CN=localhost", "-addext",
         "subjectAltName=DNS:localhost,IP:127.0.0.1", "-keyout", str(key), "-out", str(made)],
        check=True, capture_output=True,
    )  # fmt: skip
    return made, key


@pytest.mark.parametrize("security", ["starttls", "tls"])
def test_over_tls_with_a_password_only_to_who_can_show_a_certificate(
    certificate: tuple[Path, Path], security: Any
) -> None:
    def sign_in(_server: Any, _session: Any, _envelope: Any, _way: str, given: Any) -> AuthResult:
        right = (given.login, given.password) == (b"me", b"secret")
        return AuthResult(success=right, handled=False)

    served = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    served.load_cert_chain(*certificate)
    options: dict[str, Any] = {"authenticator": sign_in}
    if security == "tls":
        # To the library a line that is TLS from the first byte is no TLS of its own.
        options |= {"ssl_context": served, "auth_require_tls": False}
    else:
        options |= {"tls_context": served, "require_starttls": True, "auth_required": True}
    box = Box()
    with mail_server(box, **options) as port:
        trusting = office(
            {}, make_context=lambda: ssl.create_default_context(cafile=str(certificate[0]))
        )
        trusting.put_in([("p1", letter("kim"))])
        trusting.set_server(server_at(port, security=security, user="me", password="wrong"))
        with pytest.raises(NoLine, match="not_let_in"):
            trusting.send_waiting()
        trusting.set_server(server_at(port, security=security, user="me", password="secret"))
        assert trusting.send_waiting() == 1
        wary = office({})
        wary.put_in([("p1", letter("lou"))])
        wary.set_server(server_at(port, security=security, user="me", password="secret"))
        with pytest.raises(NoLine, match="not_safe"):
            wary.send_waiting()
    assert [one.rcpt_tos for one in box.taken] == [["kim@example.org"]]


def test_nothing_typed_becomes_a_line_of_the_head() -> None:
    sly = letter("kim", subject="Hello\r\nBcc: all@example.org")
    assert message(sly, server_at(25))["Subject"] == "Hello Bcc: all@example.org"


@pytest.mark.store
def test_a_letter_in_a_real_book_outlives_a_restart_and_goes_once(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    box = Box()
    with closing(day_book(path)) as book:
        book.post.set_server(server_at(1, password="hidden"))
        book.post.put_in([("p1", letter("kim"))])
        with pytest.raises(NoLine):
            book.post.send_waiting()
    with mail_server(box) as port:
        for _ in range(2):
            with closing(open_book(path)) as book:
                book.post.set_server(server_at(port))
                book.post.look_after()
                book.post.send_waiting()
                assert states(book.post) == {"id-kim": "sent"}
                assert b"hidden" not in b"".join(one.data for one in book.store.entries())
    assert len(box.taken) == 1
