"""Lists as gyms keep them: a title above, foreign headings, two spellings of one thing, gaps."""

import csv
import io

import xlsxwriter

PAIRS = 60


def sixty_pairs() -> bytes:
    """Sixty pairs, a row for each team, as a form service writes them out; three rows are wrong.

    Row 3 has the headings. Team 7 names one athlete only, 20 has a division nobody knows, 33 an
    address that is none. Teams 41 and 42 are called nearly the same.
    """
    file = io.BytesIO()
    book = xlsxwriter.Workbook(file, {"in_memory": True})
    book.add_worksheet("Notes").write(0, 0, "do not forget the raffle")
    sheet = book.add_worksheet("Responses")
    sheet.write(0, 0, "Entries 2026 (invented)")
    headings = (
        "Timestamp", "Name of the team", "Which division?", "Woman 1 - full name",
        "Woman 2 - full name", "Athlete 1 e-mail", "Athlete 2 Email", "Gym/Club", "Shirt 1",
        "T-Shirt size 2", "Anything else?",
    )  # fmt: skip
    for at, heading in enumerate(headings):
        sheet.write(2, at, heading)
    for number in range(1, PAIRS + 1):
        for at, cell in enumerate(_answers(number)):
            sheet.write(2 + number, at, cell)
    book.close()
    return file.getvalue()


def _answers(number: int) -> tuple[str, ...]:
    name = {41: "The Late Starters", 42: "The Late  starter"}.get(number, f" Team  {number:02} ")
    division = ("Pairs", "pairs ", "PAIRS (women)")[number % 3]
    return (
        f"2026-05-{number % 28 + 1:02} 20:14",
        name,
        "Masters" if number == 20 else division,
        f"Ana  Rivers {number}",
        "" if number == 7 else f"Mia Hill {number}",
        f"ana{number}@example.org",
        "ask mia" if number == 33 else f"mia{number}@example.org",
        "Harbour Gym" if number % 2 else "",
        ("S", "M")[number % 2],
        "L",
        "we bring cake" if number == 5 else "",
    )


def athletes_in_spanish() -> bytes:
    """Two pairs, a row for each athlete, semicolons, in a text file of an old spreadsheet."""
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";")
    writer.writerow(["Nombre", "Apellidos", "Sexo", "Equipo", "Categoría", "Teléfono", "Pagado"])
    writer.writerow(["Lucía", "Peña", "mujer", "Las Olas", "Parejas", "600 000 001", "sí"])
    writer.writerow(["Íñiga", "Ruiz", "MUJER", "Las Olas", "Parejas", "600 000 002", ""])
    writer.writerow(["Marta", "Gil", "F", "El Faro", "Parejas", "", "sí"])
    writer.writerow(["Juana", "Soto", "F", "El Faro", "Parejas", "", "sí"])
    return text.getvalue().encode("cp1252")
