"""Cautions for the day: heat stress, capacity, first aid.

Decides: which findings the facts of an event give rise to, each with its source.
Never does: replace local codes, the insurer or a licensed practitioner; stop anything by
itself.
May import: ``model``.
"""
