"""Sentences about the floor plan, the side programme and the checklists.

Where no source stands with a rule in `callroom.planner.ground`, it is common practice, no source.
"""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "ground.too_many": N_(
            "{count} things are too many for one drawing: {most} at most. Leave small things out."
        ),
        "ground.twice": N_("“{thing}” is there twice. Take one of them out."),
        "ground.no_space": N_("The way out “{name}” is in “{space}”, which is no space of yours."),
        "ground.no_size": N_(
            "“{given}” is no size: type metres, like 12.5, or feet and inches, like 41' 6\"."
        ),
        "ground.size_range": N_("{given} cannot be right: between {least} and {most}."),
        "ground.size_missing": N_("How large is it? Type the size as you measured it."),
        "ground.lanes_outside": N_(
            "The lanes of {floor} stick out of {space} by {over_mm}; of this size {fit} fit. Move "
            "or turn them, make them shorter or narrower, or run fewer."
        ),
        "ground.in_lanes": N_(
            "{name} stands in the lanes of {floor}: nobody sees past it, and kit lands on it. Move "
            "it."
        ),
        "ground.floors_meet": N_("The lanes of {floor} and {other} lie on each other. Move one."),
        "ground.exit_blocked": N_(
            "{name} is not free: {blocked_by} within {free_mm} of it. Nothing may stand there, at "
            "any time."
        ),
        "ground.exit_outside": N_("{name} reaches past the end of its wall of {wall_mm}. Move it."),
        "ground.not_laid": N_("The lanes of {floor} are not drawn yet. Add their sizes below."),
        "ground.exit_narrow": N_(
            "{name} is {width_mm} wide; a way out has at least {least_mm} clear."
        ),
        "ground.exit_unreached": N_(
            "From the lanes of {floor} no way of {walkway_mm} leads to {name}. Leave one free."
        ),
        "ground.exits_none": N_("No way out is drawn. Add each, with its clear width."),
        "ground.clear_short": N_(
            "{name} is {room_mm} from the lanes of {floor}: leave {wanted_mm}."
        ),
        "ground.walls_close": N_(
            "The lanes of {floor} come within {room_mm} of a wall of {space}: leave {wanted_mm}."
        ),
        "ground.judge_room": N_(
            "Between the lanes of {floor} there are {gap_mm}: a judge needs {wanted_mm} to stand "
            "beside the work, and not in it."
        ),
        "ground.overlap": N_("{name} and {other} lie on each other. Move one."),
        "ground.spot_outside": N_("{name} is outside every space. Move it in, or add the space."),
        "ground.lane_narrow": N_(
            "{workout}: {movement} needs {wanted_mm} across; a lane of {floor} has {lane_mm}, and "
            "what lies between two lanes is not enough."
        ),
        "ground.lane_short": N_(
            "{workout} needs lanes of {wanted_mm} for its stations one behind the other; those of "
            "{floor} are {lane_mm} long. Change the kit over between blocks, or let stations share."
        ),
        "ground.roof_low": N_(
            "{workout}: {movement} needs {wanted_mm} of height; {space} has {roof_mm}."
        ),
        "ground.no_anchor": N_(
            "{workout}: {movement} needs a rig or a wall at the head of the lanes of {floor}. Draw "
            "it within arm's reach of them, or choose another floor."
        ),
        "ground.stretch_short": N_(
            "{workout}: {movement}, counted in stretches of up to {stretch_m} m; beside the "
            "stations a lane has {free_mm}. Measure a course for it, or paint shorter stretches."
        ),
        "ground.course_differs": N_(
            "{workout} asks for {asked_m} m ({movement}); {laps} laps of {lap_mm} are {walked_m} m. "
            "Move the turn, or change what is asked."
        ),
        "side.unknown": N_("There is no “{item}” in the side programme any more."),
        "side.no_floor": N_("“{name}” needs no floor, so nothing has to be kept free for it."),
        "side.no_name": N_("Give it a name that everybody may read."),
        "side.no_time": N_("Say when “{name}” is on: from and until."),
        "side.times": N_("“{given}” is over before it begins: type from and until."),
        "side.nobody": N_("{name}: nobody is in charge yet."),
        "side.no_place": N_("{name}: say where it is."),
        "side.not_pinned": N_(
            "{name} needs a floor that the plan does not keep free yet. Keep it free, then look "
            "for a plan again."
        ),
        "side.floor_taken": N_(
            "{name} at {from_at_s}: heats are on {floors} then. Move it, or keep the floor free and "
            "look for a plan again."
        ),
        "side.over_heats": N_(
            "{name} at {from_at_s}: {heats} heats are on meanwhile, and nobody listens to two "
            "things. A break is better."
        ),
        "side.awards_early": N_(
            "{name} at {from_at_s}: the last heat is over at {finish_at_s}, and scores and appeals "
            "come after it."
        ),
        "side.person_left": N_("{name}: whoever was in charge is no longer in the crew."),
        "side.person_on_duty": N_(
            "{name}: {person} is on duty then as {post}, from {from_at_s}. Give one of the two to "
            "somebody else."
        ),
        "side.person_competes": N_("{name}: {person} competes then, at {from_at_s}."),
        "side.person_away": N_("{name} at {from_at_s}: {person} is not there then."),
        "side.same_spot": N_(
            "{name} and {other} are in one place at {from_at_s}. Move one of them."
        ),
        "side.same_person": N_("{name} and {other} at {from_at_s}: {person} cannot lead both."),
        "check.no_text": N_("Say what has to be done."),
        "check.not_own": N_(
            "Only points you added can be taken out. Tick this one if it does not concern you."
        ),
    }
)
