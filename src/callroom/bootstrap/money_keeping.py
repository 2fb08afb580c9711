"""What belongs to the money and not into the journal: names of people, pictures of receipts."""

import hashlib

from callroom.exchange.receipt_file import read_receipt
from callroom.journal import ATTACHMENTS, PEOPLE, Attachment, SideWrite
from callroom.model.person import Person


def beside_person(person_id: str, name: str, email: str = "") -> SideWrite:
    """Return the change that keeps a name, and how to write to it, under an id."""
    return PEOPLE.put(person_id, Person(name=name, email=email))


def beside_receipt(key: str, data: bytes, file: str) -> tuple[str, SideWrite]:
    """Return the id for a receipt, and the change that keeps it.

    The id rests on `key`, the form's own, so that a form sent twice keeps one.

    Raises
    ------
    BadInput
        If it is no picture or PDF, or too large.
    """
    read = read_receipt(data, file)
    kept = Attachment(name=read.name, media_type=read.media_type, content=read.content)
    receipt = f"receipt/{named_by(key)}"
    return receipt, ATTACHMENTS.put(receipt, kept)


def named_by(key: str) -> str:
    """Return an id that is the same for the same key of a form."""
    return hashlib.sha256(key.encode()).hexdigest()[:12]
