"""What a person is shown, as frozen values.

Decides: the contents of every page, sheet and ``--json`` answer, derived once per change,
so that screen and print cannot disagree.
Never does: render, translate, or reach the journal.
May import: the lower packages except ``journal``.
"""
