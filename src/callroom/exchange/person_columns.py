"""The columns that say who somebody is, the same in every file that names people."""

import re

from callroom.exchange.entrants import Entrants, plain_name
from callroom.exchange.faults import shown
from callroom.exchange.table import Row, TableColumn
from callroom.exchange.toml_section import ID_FORM
from callroom.model import Team
from callroom.model.person import Person

PERSON_COLUMNS = (
    TableColumn("person", ("person id",)),
    TableColumn("e-mail", ("mail", "e-mail address")),
    TableColumn("phone", ("telephone", "mobile", "phone number", "cell")),
    TableColumn("birth date", ("born", "date of birth", "birthday", "dob")),
    TableColumn("emergency contact", ("emergency", "in case of emergency", "ice")),
    TableColumn("guardian", ("parent", "parent or guardian")),
    TableColumn("shirt", ("shirt size", "t-shirt", "t-shirt size")),
    TableColumn("ask again", ("next year", "keep for next year")),
)

# Not a check of validity, which only a sent message gives: it finds a name or a telephone
# number in the wrong column.
_EMAIL = re.compile(r"[^@\s,;]+@[^@\s,;]+\.[^@\s,;]+")


def enter_person(row: Row, name_column: str, entrants: Entrants, team: Team | None) -> str:
    """Return the id of the person in a row; `team` is theirs as the book knows it."""
    given_id = row.text("person")
    if given_id and not ID_FORM.fullmatch(given_id):
        row.fault("table.id_form", "person", given=shown(given_id))
    person = _person(row, name_column)
    before = entrants.people.get(given_id)
    if before is not None and plain_name(before.name) != plain_name(person.name):
        row.fault("table.person_differs", "person", given=shown(given_id), other=shown(before.name))
    return entrants.enter(given_id, person, team)


def _person(row: Row, name_column: str) -> Person:
    email = row.text("e-mail")
    if email and not _EMAIL.fullmatch(email):
        row.fault("table.no_email", "e-mail", given=shown(email))
    return Person(
        name=row.text(name_column, needed=True),
        email=email,
        phone=row.text("phone"),
        birth_date=row.date("birth date"),
        emergency_contact=row.text("emergency contact"),
        ask_again=row.flag("ask again"),
        guardian=row.text("guardian"),
        minor=bool(row.given("guardian")),
        shirt=row.text("shirt"),
    )
