"""The command line: one small command per verb.

Decides: options, exit codes (0 done, 1 the answer is no, 2 bad input) and how a view is
printed; progress goes to stderr.
Never does: more than call one action and print one view.
May import: ``web``, ``bootstrap``, ``paper``, ``actions``, ``views``, ``model``, click.
"""

from callroom.cli.main import main

__all__ = ["main"]
