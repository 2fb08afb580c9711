"""Every rule about a forecast; what each says is worded in ``views.sentences.forecast``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    # What the forecast of a workout shows.
    ("warning", "forecast.movement_unknown", "workout movement"),
    ("warning", "forecast.unable", "workout division movement percent"),
    ("warning", "forecast.few_finish", "workout part division percent cap_s"),
    ("note", "forecast.cap_generous", "workout part division slow_s cap_s"),
    # What the programme of the day tests.
    ("note", "forecast.capacity_missing", "division capacity"),
    ("warning", "forecast.workouts_alike", "division workout other percent"),
    ("note", "forecast.same_length", "division least_s most_s"),
    # Cautions.
    ("warning", "forecast.movement_volume", "division movement each most"),
    ("warning", "forecast.skill_when_tired", "workout division movement after_s"),
    ("warning", "forecast.work_outdoors", "workout division floor length_s"),
    # Calibration.
    ("error", "forecast.too_few_finished", "workout part division finished least"),
)
