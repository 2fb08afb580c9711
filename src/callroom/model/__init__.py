"""What a competition is, one noun a file.

Decides: the frozen values that every other package speaks in, their units and bounds, and
the one root of all refusals, ``CallroomError``.
Never does: read a file, a clock or a random number; decide who wins, when a heat starts or
what a page says.
May import: msgspec and the standard library; nothing else of callroom.
"""
