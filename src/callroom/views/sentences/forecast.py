"""What a forecast gives a director to think about."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "forecast.movement_unknown": N_(
            "{workout}: the movement library does not know “{movement}”, so the forecast takes a"
            " usual pace for it. Add the movement, or allow for surprises."
        ),
        "forecast.unable": N_(
            "{workout}, {division}: in {percent} of 100 teams somebody who is needed cannot do"
            " “{movement}” at all. Lower the load, allow an easier variation, or let others do it."
        ),
        "forecast.few_finish": N_(
            "{workout}, part {part}, {division}: only {percent} of 100 teams will finish within"
            " {cap_s}. Lengthen the cap, or ask for less, if most should finish."
        ),
        "forecast.cap_generous": N_(
            "{workout}, part {part}, {division}: nine teams in ten are through after {slow_s};"
            " the floor stands idle until {cap_s}. A shorter cap would gain time."
        ),
        "forecast.capacity_missing": N_(
            "{division}: no workout of the day tests “{capacity}”. That may be what you want."
        ),
        "forecast.workouts_alike": N_(
            "{division}: {workout} and {other} test much the same ({percent} of 100 alike). Teams"
            " good at one gain twice; change one of them if the day should be broad."
        ),
        "forecast.same_length": N_(
            "{division}: all workouts last about as long, from {least_s} to {most_s}. A shorter"
            " or a longer one would test something else."
        ),
        "forecast.movement_volume": N_(
            "{division}: each athlete does about {each} {movement} over the day; from {most} on,"
            " think twice. So much of one movement can injure muscles days later: share it among"
            " more athletes or ask for less, and ask the event's medical lead."
        ),
        "forecast.skill_when_tired": N_(
            "{workout}, {division}: “{movement}” needs skill, and comes after {after_s} of work."
            " Tired athletes lift and land badly: put it first, or make it lighter or easier."
        ),
        "forecast.work_outdoors": N_(
            "{workout}, {division}: {length_s} of work on {floor}, outdoors. Look at the heat"
            " page that morning; shade, water and shorter work are at the medical lead's word."
        ),
        "forecast.too_few_finished": N_(
            "{workout}, part {part}, {division}: {finished} teams have a result, and it takes"
            " {least} to tell a pace. Wait for more results."
        ),
    }
)
