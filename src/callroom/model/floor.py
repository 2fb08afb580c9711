"""Floors: areas with lanes."""

import msgspec


class Floor(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """An area with lanes, numbered once from one painted side.

    `first_lane` is the number painted on that side; `held_lanes` are kept empty for
    re-runs and given to no team by the plan.
    """

    id: str
    name: str
    lanes: int
    first_lane: int = 1
    held_lanes: tuple[int, ...] = ()
    outdoor: bool = False

    @property
    def lane_numbers(self) -> tuple[int, ...]:
        """Every painted lane number, from the painted side."""
        return tuple(range(self.first_lane, self.first_lane + self.lanes))

    @property
    def open_lanes(self) -> tuple[int, ...]:
        """The lanes a plan may give to teams."""
        return tuple(lane for lane in self.lane_numbers if lane not in self.held_lanes)
