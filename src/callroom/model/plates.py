"""Plates: what is on a bar in a lane, heat after heat."""

from fractions import Fraction

import msgspec

from callroom.model.mass import Mass


class Loading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A loaded bar.

    Attributes
    ----------
    heat, rung
        When: the first load of the heat is rung 1, the next one in the same heat rung 2.
    lane, station
        Where: the lane, and which of its bars (a category, or empty where there is one).
    wanted
        The load as published, in each unit it is published in; any of them will do. Empty:
        an empty bar.
    bar, sleeve
        The bar, and the plates of one sleeve from the inside outwards; the other sleeve is
        the same. Without a bar nothing could be given.
    """

    heat: str
    lane: int
    rung: int = 1
    station: str = ""
    wanted: tuple[Mass, ...] = ()
    bar: Mass | None = None
    sleeve: tuple[Mass, ...] = ()

    def grams(self, collar_g: Fraction = Fraction(0)) -> Fraction:
        """Return the exact mass on the floor [g]; `collar_g` is what one collar counts."""
        if self.bar is None:
            return Fraction(0)
        return self.bar.grams() + 2 * (collar_g + sum(plate.grams() for plate in self.sleeve))
