"""What is said of a plan's punctuality; facts as in ``planner.rules``.

Shares are whole per cent of simulated days.
"""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("note", "punctuality.end", "percent end_at_s"),
    ("note", "punctuality.end_nine_in_ten", "end_at_s planned_at_s"),
    ("note", "punctuality.latest_heat", "heat percent late_s"),
    ("note", "punctuality.incidents", "percent_of_days"),
    ("note", "punctuality.best_gap", "heat slack_s saved_s"),
    ("note", "punctuality.promise", "budget_s end_at_s percent"),
    ("note", "punctuality.no_promise", "percent"),
    ("note", "punctuality.slack_left", "floor until_late_s until_deadline_s"),
    ("note", "punctuality.late_now", "floor heat late_s"),
    ("warning", "punctuality.ends_late", "floor over_s"),
)
