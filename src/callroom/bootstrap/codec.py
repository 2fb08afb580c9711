"""The one codec of all kinds, with the upgraders of older versions."""

from callroom.journal.codec import Codec
from callroom.journal.entries.kinds import KINDS

CODEC = Codec(KINDS)
