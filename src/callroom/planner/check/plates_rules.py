"""In what loadings are impossible or miss what is wanted, with the facts of each."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("error", "check.plates_too_many", "heat mass used there"),
    ("error", "check.bars_too_many", "heat mass used there"),
    ("error", "check.plate_unknown", "heat lane mass"),
    ("error", "check.load_doubled", "heat lane station"),
    ("error", "check.plates_without_bar", "heat lane station"),
    ("warning", "check.light_inside", "heat lane station"),
    ("warning", "check.sleeve_too_full", "heat lane plates most"),
    ("warning", "check.load_not_reached", "heat lane station wanted given"),
    ("warning", "check.lane_without_bar", "heat lane station"),
)
