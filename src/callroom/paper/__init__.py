"""Views drawn on paper.

Decides: what a card, sheet, board or certificate looks like (Typst to PDF).
Never does: derive a figure; each value comes ready from ``views``.
May import: ``views``, ``model``, typst, segno.
"""
