"""In what a rota is impossible or breaks a wish, with the facts of each."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("error", "check.rota_shift_unknown", "shift"),
    ("error", "check.rota_shift_doubled", "shift people"),
    ("error", "check.rota_person_unknown", "shift person"),
    ("error", "check.rota_two_places", "person shift other"),
    ("error", "check.rota_own_team", "person shift team"),
    ("error", "check.rota_competing", "person shift heat"),
    ("error", "check.rota_not_there", "person shift start_at_s end_at_s"),
    ("warning", "check.rota_too_close_to_heat", "person shift heat"),
    ("warning", "check.rota_no_time_to_walk", "person shift other given_s needed_s"),
    ("warning", "check.rota_cannot", "person shift post"),
    ("warning", "check.rota_not_experienced", "person shift workout"),
    ("warning", "check.rota_no_break", "person shift heats most"),
    ("warning", "check.rota_lane_open", "heat lane seat"),
    ("warning", "check.rota_post_open", "post start_at_s end_at_s"),
    ("warning", "check.rota_debt_left", "team heats judged"),
    ("warning", "check.rota_other_revision", "said revision"),
    ("note", "check.rota_own_gym", "person gym times"),
    ("note", "check.rota_alone", "person heat lane"),
)
