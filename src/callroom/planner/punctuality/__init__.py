"""How likely a plan is to be kept, and how to make it likelier.

Decides: the chance that each heat starts late, from thousands of simulated days; where slack
does most good; which times can be promised with a wanted confidence; and, on the day, how
much slack is left.
Never does: read a clock, or make its own random generator: one is passed in.
May import: ``model``, ``planner.chains`` and numpy; scipy is loaded only by what places slack.
"""

from callroom.planner.punctuality.confidence import Promise, promise
from callroom.planner.punctuality.course import Course, course_of
from callroom.planner.punctuality.days import Days, simulate
from callroom.planner.punctuality.gaps import Gap, best_gaps
from callroom.planner.punctuality.live import FloorSlack, SlackLeft, slack_left
from callroom.planner.punctuality.report import HeatOdds, Punctuality, punctuality
from callroom.planner.punctuality.saying import gap_said, promise_said, slack_said
from callroom.planner.punctuality.slack import place_slack
from callroom.planner.punctuality.spread import Incidents, Spread, capped_spread, forecast_spread

__all__ = [
    "Course",
    "Days",
    "FloorSlack",
    "Gap",
    "HeatOdds",
    "Incidents",
    "Promise",
    "Punctuality",
    "SlackLeft",
    "Spread",
    "best_gaps",
    "capped_spread",
    "course_of",
    "forecast_spread",
    "gap_said",
    "place_slack",
    "promise",
    "promise_said",
    "punctuality",
    "simulate",
    "slack_left",
    "slack_said",
]
