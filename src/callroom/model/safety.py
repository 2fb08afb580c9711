"""Safety: what the director says of the venue, readings of the weather, incidents."""

from typing import Literal, get_args

import msgspec

AreaUse = Literal[
    "standing",
    "chairs",
    "tables",
    "exercise",
    "classroom",
    "sales",
    "offices",
    "kitchen",
    "storage",
]
AREA_USES: tuple[AreaUse, ...] = get_args(AreaUse)


class Area(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A space people are in, its size [m²] and what it is used for."""

    name: str
    use: AreaUse
    area_m2: int


class Exit(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A way out: its name, its clear width [mm], and whether stairs lead to it."""

    name: str
    width_mm: int
    stairs: bool = False


class SafetyFacts(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the safety plan needs to know and the event does not say. An empty text: not yet said.

    Attributes
    ----------
    spectators
        How many are expected at once, beside athletes and crew; None: not yet said.
    sprinklered
        The building has sprinklers and a voice alarm.
    first_aiders
        How many are there for nothing else.
    first_aid_place, aed_place
        Where they are, and where the defibrillator hangs.
    aed_walk_s
        The longest walk to it, one way, timed [s].
    emergency_number
        Whom to call.
    ambulance_entry
        Where an ambulance drives in, and who opens.
    assembly_point, shelter, lost_children_place
        Where everybody goes when the hall is cleared, at thunder, and with a child alone.
    wet_ground
        What becomes of the work outdoors when it rains, who decides, and by when.
    alarm
        How the hall is told to stop or to leave.
    alcohol, minors
        Alcohol is served; people under age compete.
    used_to_heat
        The athletes have trained in such weather for a week or more.
    """

    areas: tuple[Area, ...] = ()
    exits: tuple[Exit, ...] = ()
    spectators: int | None = None
    sprinklered: bool = False
    first_aiders: int = 0
    first_aid_place: str = ""
    aed_place: str = ""
    aed_walk_s: int | None = None
    emergency_number: str = ""
    ambulance_entry: str = ""
    assembly_point: str = ""
    shelter: str = ""
    lost_children_place: str = ""
    wet_ground: str = ""
    alarm: str = ""
    alcohol: bool = False
    minors: bool = False
    used_to_heat: bool = False


class Weather(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A reading on a floor, or a forecast for it, in tenths; None: not measured.

    Attributes
    ----------
    floor
        Its id.
    at_ms
        When it was read, or when it is forecast for [ms, UTC].
    forecast
        It was forecast, not read.
    air_c10, wet_bulb_c10, globe_c10
        Temperatures [0.1 °C].
    humidity_percent
        Relative humidity [%].
    gust_m_s10
        The strongest gusts [0.1 m/s].
    thunder
        Thunder was heard or lightning seen.
    """

    floor: str
    at_ms: int
    forecast: bool = False
    air_c10: int | None = None
    humidity_percent: int | None = None
    wet_bulb_c10: int | None = None
    globe_c10: int | None = None
    gust_m_s10: int | None = None
    thunder: bool = False


IncidentSort = Literal["injury", "illness", "kit", "crowd", "child", "near_miss", "other"]
INCIDENT_SORTS: tuple[IncidentSort, ...] = get_args(IncidentSort)


class IncidentStep(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something noted about an incident: by which entry, when [ms, UTC], by whom.

    `record` is the id of its text among the book's notes; empty: none was written, or it was
    erased since. `closes`: nothing is left to do.
    """

    seq: int
    at_ms: int
    actor: str
    record: str = ""
    closes: bool = False


class Incident(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something that happened: when [ms, UTC], where, of which sort. Never whom it happened to.

    `number` counts the incidents of the event from 1; `heat` is the id of the heat it happened
    in, or empty. What was seen and done stands in the notes, under the record of each step.
    """

    number: int
    happened_ms: int
    sort: IncidentSort
    place: str
    steps: tuple[IncidentStep, ...]
    heat: str = ""
    first_aid: bool = False
    ambulance: bool = False

    @property
    def open(self) -> bool:
        """Whether something is left to do."""
        return not self.steps[-1].closes
