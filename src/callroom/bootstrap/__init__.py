"""The one place that chooses and wires.

Decides: which store, which clock, which solver process; hands them to the faces as
ports.
Never does: hold a rule of the competition.
May import: every lower package; it alone imports ``journal.stores``.
"""
