"""One connection to an SMTP server, and what became of each letter handed to it."""

import smtplib
import ssl
from collections.abc import Callable
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime
from types import TracebackType
from typing import Self

from callroom.model import CallroomError, Refusal, from_milliseconds
from callroom.model.post import LetterState, OutLetter, PostServer

WAIT_S = 20
_LONGEST_SAID = 300
_HERE = frozenset({"localhost", "127.0.0.1", "::1"})

MakeContext = Callable[[], ssl.SSLContext]


class NoLine(CallroomError):
    """No letter could be handed over: no connection, or the server wants another password."""


class SmtpLine:
    """An open line to `server`; a context manager.

    Raises
    ------
    NoLine
        If the server cannot be reached, is not who it says, or does not let us in.
    Refusal
        If a password would go over a line that others can read.
    """

    def __init__(
        self, server: PostServer, make_context: MakeContext = ssl.create_default_context
    ) -> None:
        """Be ready to call `server`."""
        self._server = server
        self._make_context = make_context
        self._line: smtplib.SMTP | None = None

    def __enter__(self) -> Self:
        """Call the server and sign in."""
        server = self._server
        if server.security == "none" and server.password and server.host not in _HERE:
            raise Refusal("post.password_in_clear", host=server.host)
        try:
            self._call()
            if server.user and self._line is not None:
                self._line.login(server.user, server.password)
        except (smtplib.SMTPException, OSError, ValueError) as fault:
            if self._line is not None:
                self._line.close()
            raise self._no_line(fault) from fault
        return self

    def _call(self) -> None:
        server = self._server
        if server.security == "tls":
            self._line = smtplib.SMTP_SSL(
                server.host, server.port, timeout=WAIT_S, context=self._make_context()
            )
            return
        self._line = smtplib.SMTP(server.host, server.port, timeout=WAIT_S)
        if server.security == "starttls":
            self._line.starttls(context=self._make_context())
        self._line.ehlo_or_helo_if_needed()

    def _no_line(self, fault: Exception) -> NoLine:
        server, said = self._server, _said(fault)
        if isinstance(fault, smtplib.SMTPAuthenticationError):
            return NoLine("post.not_let_in", host=server.host, said=said)
        if isinstance(fault, ssl.SSLError):
            return NoLine("post.not_safe", host=server.host, said=said)
        return NoLine("post.no_answer", host=server.host, port=server.port, said=said)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Hang up."""
        if self._line is not None:
            try:
                self._line.quit()
            except (smtplib.SMTPException, OSError):
                self._line.close()

    def hand_over(self, letter: OutLetter) -> tuple[LetterState, str]:
        """Hand one letter over; return what it is now, and what the server said.

        A letter of which the server may have taken the text, but did not say so, is ``unsure``.
        """
        line = self._line
        if line is None:
            raise NoLine("post.no_answer", host=self._server.host, port=self._server.port, said="")
        given_text = False
        try:
            options = _options(line, letter.to)
            if options is None:
                return "failed", "SMTPUTF8"
            for answer in (line.mail(self._server.sender, options), line.rcpt(letter.to)):
                if answer[0] >= 400:
                    line.rset()
                    return _refused(*answer)
            given_text = True
            code, text = line.data(message(letter, self._server).as_bytes(policy=SMTP))
        except smtplib.SMTPDataError as fault:
            # The server refused before it took the text.
            return _refused(fault.smtp_code, _bytes(fault.smtp_error))
        except (smtplib.SMTPException, OSError, ValueError) as fault:
            return ("unsure" if given_text else "waiting"), _said(fault)
        return ("sent", "") if code == 250 else _refused(code, text)


def message(letter: OutLetter, server: PostServer) -> EmailMessage:
    """Return a letter as it goes over the line; its id is in its ``Message-ID`` every time."""
    made = EmailMessage()
    name, _, domain = server.sender.rpartition("@")
    made["From"] = Address(server.sender_name, username=name, domain=domain)
    made["To"] = letter.to
    made["Subject"] = " ".join(letter.subject.split())
    made["Date"] = format_datetime(from_milliseconds(letter.made_ms))
    made["Message-ID"] = f"<{letter.id}@{domain}>"
    made.set_content(letter.body)
    return made


def _options(line: smtplib.SMTP, to: str) -> list[str] | None:
    """Return the options that an address needs, or None if the server does not know them."""
    if to.isascii():
        return []
    return ["SMTPUTF8", "BODY=8BITMIME"] if line.has_extn("smtputf8") else None


def _refused(code: int, text: bytes) -> tuple[LetterState, str]:
    # RFC 5321, section 4.2.1: 4yz may be tried again, 5yz will be refused again.
    said = f"{code} {text.decode('utf-8', 'replace')}"[:_LONGEST_SAID]
    return ("failed" if code >= 500 else "waiting"), said


def _bytes(text: bytes | str) -> bytes:
    return text if isinstance(text, bytes) else text.encode()


def _said(fault: Exception) -> str:
    return " ".join(str(fault).split())[:_LONGEST_SAID]
