"""Results to standings, exactly.

Decides: how scores rank, how places become points, how ties break, and the reason for
every place; later the odds.
Never does: store, round or hide a score; know where a score came from.
May import: ``model``; numpy for the odds alone.
"""
