"""Judges' cards as a page of HTML, for comparison with a general HTML-to-PDF library.

The page says what our own cards say, from the same values: tiles, code and QR code, a table for
each piece of work, the boxes for the result, signatures. Its layout is plain, which favours it.
"""

from collections.abc import Iterable
from html import escape
from typing import Any

from callroom.paper.cards import cards_payload
from callroom.paper.qr import qr_svg
from callroom.views.cards import Cards
from callroom.views.work_wording import Speech

STYLE = """
@page { size: A4; margin: 12mm }
body { font: 10pt sans-serif; margin: 0 }
section { break-after: page }
header { border-bottom: 1pt solid; position: relative; min-height: 32mm }
header svg { position: absolute; right: 0; top: 0; width: 26mm; height: 26mm }
.tile { display: inline-block; border: 1pt solid; padding: 2mm; font-size: 18pt }
h1 { font-size: 20pt; margin: 1mm 0 } h2 { font-size: 12pt; margin: 3mm 0 1mm }
table { width: 100%; border-collapse: collapse } td, th { border: .5pt solid; padding: 1.5mm }
th { font-weight: normal; text-align: left; font-size: 8pt }
.small { font-size: 8pt } .box { display: inline-block; border: 1pt solid; width: 30mm; height: 12mm }
footer { margin-top: 8mm; border-top: .5pt solid }
"""


def cards_html(view: Cards, speech: Speech) -> str:
    """Return all cards of `view`, a page each."""
    payload: Any = cards_payload(view, speech)
    labels, layouts = payload["labels"], payload["layouts"]
    pages = [
        _page(one, layouts[one["layout"]]["parts"], labels, qr_svg(card.address))
        for one, card in zip(payload["cards"], view.cards, strict=True)
    ]
    return f"<html><head><style>{STYLE}</style></head><body>{''.join(pages)}</body></html>"


def _page(card: Any, parts: Any, labels: Any, picture: str) -> str:  # noqa: ANN401 - JSON
    times = " ".join(
        f"{escape(one['label'])} <b>{escape(one['text'])}</b>" for one in card["times"]
    )
    tiles = "".join(
        f'<span class="tile"><span class="small">{escape(labels[name])}</span> {escape(card[name])}</span>'
        for name in ("lane", "heat")
    )
    head = (
        f"<header>{tiles}<h1>{escape(card['team'])}</h1><b>{escape(card['workout'])}</b>"
        f"<div>{escape(card['where'])}</div><div>{escape(card['line_up'])}</div><div>{times}</div>"
        f"{picture[picture.index('<svg') :]}<div>{escape(card['spaced'])}</div></header>"
    )
    signed = "".join(f"<footer>{escape(line)}</footer>" for line in card["signatures"])
    return f"<section>{head}{''.join(_part(part, labels) for part in parts)}{signed}</section>"


def _part(part: Any, labels: Any) -> str:  # noqa: ANN401 - JSON
    tables = "".join(_work(block, labels) for table in part["tables"] for block in _blocks(table))
    fields = "".join(
        f'<p>{escape(field["label"])} <span class="box"></span> {escape(field.get("after", ""))}</p>'
        for field in part["fields"]
    )
    ticks = " ".join(f"☐ {escape(tick)}" for tick in part["ticks"])
    return f"<h2>{escape(part['name'])} {escape(part['goal'])}</h2>{tables}{fields}<p>{ticks}</p>"


def _blocks(table: Any) -> Iterable[Any]:  # noqa: ANN401 - JSON
    return table["blocks"] if table["kind"] == "list" else [table]


def _work(block: Any, labels: Any) -> str:  # noqa: ANN401 - JSON
    rounds = block["rounds"]
    head = "".join(f"<th>{escape(name)}</th>" for name in rounds)
    rows = "".join(_row(row, len(rounds)) for row in block["rows"])
    said = escape(" · ".join([block["title"], *block["remarks"]]))
    names = [labels["do"], labels["movement"]]
    return (
        f"<table><tr><th colspan='{len(rounds) + 3}'>{said}</th></tr><tr>"
        f"{''.join(f'<th>{escape(name)}</th>' for name in names)}{head}"
        f"<th>{escape(labels['no_reps'])}</th></tr>{rows}</table>"
    )


def _row(row: Any, rounds: int) -> str:  # noqa: ANN401 - JSON
    amounts = row["amounts"] or [row["amount"]] * rounds
    totals = "".join(
        f"<td><span class='small'>{escape(amount)}</span> <b>{escape(total)}</b></td>"
        for amount, total in zip(amounts, row["totals"], strict=False)
    )
    said = "<br>".join(map(escape, [*row["settings"], row["reminders"], row["reasons"]]))
    return (
        f"<tr><td>{escape(row['amount'])}</td><td><b>{escape(row['movement'])}</b>"
        f"<div class='small'>{said}</div></td>{totals}<td></td></tr>"
    )
