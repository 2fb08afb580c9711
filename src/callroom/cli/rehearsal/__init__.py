"""A rehearsal: the planned day played through the real interface of a real server.

Decides: in which order the script's cues are sent, and that each is sent until it is answered.
Never does: decide a score or reach past the interface that phones use.
"""

from callroom.cli.rehearsal.play import Played, play
from callroom.cli.rehearsal.stage import Stage

__all__ = ["Played", "Stage", "play"]
