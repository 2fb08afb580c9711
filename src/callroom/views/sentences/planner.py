"""What the planner says: why there is no timetable, and in what a plan breaks a rule."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # Why there is no timetable.
        "planner.links_in_a_circle": N_(
            "{heats} heats must each come after another of them. Undo one of the orders wished."
        ),
        "planner.heat_fits_nowhere": N_(
            "A heat of workout {workout} (division {division}) holds the floor for {length_s}, but"
            " the floor is never open for longer than {longest_open_s} at a stretch. Move a pause,"
            " or shorten the workout."
        ),
        "planner.floor_overloaded": N_(
            "Floor {floor} has to carry {work_s} in {heats} heats and is open for {open_s}: that is"
            " {over_s} too much. Finish later, use another floor, or take work out."
        ),
        "planner.judges_short": N_(
            "A heat of workout {workout} (division {division}) needs {needed} judges at once, and"
            " there are {limit}. Find more judges, or fill fewer lanes."
        ),
        "planner.judges_overloaded": N_(
            "The heats need judges for {work_s} in all; {limit} judges in {open_s} cannot do that,"
            " {least} could at best. Find more judges, or finish later."
        ),
        "planner.pool_short": N_(
            "A heat of workout {workout} (division {division}) needs {needed} of {pool} at once,"
            " and there are {limit}. Find more, or fill fewer lanes."
        ),
        "planner.hours_missed": N_(
            "A heat of workout {workout} (division {division}) has to be over by {closes_at_s} for"
            " the hours wished, but cannot be before {earliest_at_s}. Move the hour, or lift the"
            " lock."
        ),
        "planner.chain_too_long": N_(
            "With the rests wished, division {division} cannot be through with workout {workout}"
            " and what comes after it before {finish_at_s}; the floors close at {closes_at_s}."
            " Finish later, or rest less."
        ),
        "planner.nothing_finishes_before": N_(
            "Floors, judges and kit have so much to carry that no plan of these heats is over before"
            " {finish_at_s}; the floors close at {closes_at_s}. Finish {over_s} later, or take work"
            " out."
        ),
        "planner.finish_by_too_early": N_(
            "With all that is wished the day cannot be over before {finish_at_s}; it should be by"
            " {closes_at_s}. Finish {over_s} later, or give up a wish: less rest, a shorter pause,"
            " other changeovers."
        ),
        "planner.finish_by_maybe_too_early": N_(
            "With all that is wished the day cannot be over by {closes_at_s}. The best plan found"
            " is over at {finish_at_s}, {over_s} later; a slightly earlier one may exist."
        ),
        "planner.wishes_conflict": N_(
            "The wishes contradict each other: there is no plan of the {heats} heats that keeps"
            " them all. Give one up, for example some rest or a pause."
        ),
        "planner.no_answer_in_time": N_(
            "No plan of the {heats} heats was found in the time given, and none was ruled out."
            " Search longer, or wish for less."
        ),
        # Refused questions.
        "planner.not_whole": N_(
            "{where} of {subject} is {given}; times and counts are whole numbers."
        ),
        "planner.break_backwards": N_(
            "The pause {subject} ends at {end_at_s}, before it starts. Give it a length."
        ),
        "planner.changeovers_fall": N_(
            "A changeover to another workout ({workout_s}) may not be shorter than one to another"
            " division ({division_s}), nor that shorter than one within a division ({same_s})."
            " Change one of the three."
        ),
        "planner.slot_empty": N_(
            "Heat {subject} would hold its floor for {length_s} with {judges} judges. Give its"
            " workout a length."
        ),
        "planner.grid_too_fine": N_(
            "Heats cannot start on multiples of {grid_s}. Write a second or more."
        ),
        "planner.rhythm_needs_blocks": N_(
            "A constant rhythm needs whole blocks; the shape asked for is {shape}."
        ),
        "planner.lock_no_such_heat": N_(
            "Team {subject} is wished in heat {heat} of workout {workout}, but its division has"
            " {heats} heats there. Choose one of them."
        ),
        "planner.lock_heat_full": N_(
            "Team {subject} is wished in heat {heat} of workout {workout}, but everybody there is"
            " fixed by hand as well. Lift one of the locks."
        ),
        "planner.apart_impossible": N_(
            "Teams {subject} and {other} are never to be on a floor together, but no change of"
            " places puts them into different heats. Lift a lock, or keep fewer teams apart."
        ),
        "planner.named_twice": N_("{kind} {subject} is named twice. Rename one of them."),
        "planner.unknown": N_("There is no {kind} {subject}. Name one that exists."),
        "planner.too_few_lanes": N_(
            "{subject}: {teams} teams for {lanes} open lanes. Hold fewer lanes, or split the heat."
        ),
        "planner.no_lanes": N_("There are {teams} teams and {lanes} lanes. Open some lanes."),
        # Heats and floors.
        "check.heat_named_twice": N_(
            "{times} heats are called {heat}. Give each a name of its own."
        ),
        "check.unknown_workout": N_(
            "Heat {heat} is of workout {workout}, which the event does not have."
        ),
        "check.unknown_floor": N_(
            "Heat {heat} is on floor {floor}, which the event does not have."
        ),
        "check.other_floor": N_(
            "Heat {heat} is on floor {floor}; workout {workout} belongs on floor {wanted}."
        ),
        "check.ends_before_start": N_(
            "Heat {heat} starts at {start_at_s} and ends at {end_at_s}. Let it end later."
        ),
        "check.heat_too_short": N_(
            "Heat {heat} has the floor for {given_s}; from walk-on to the last kit off it needs"
            " {needed_s}."
        ),
        "check.floor_doubled": N_(
            "Heat {heat} starts at {start_at_s} on floor {floor}, where heat {other} is until"
            " {free_at_s}. Move one of the two."
        ),
        "check.changeover_short": N_(
            "Floor {floor}: {given_s} between heat {before} and heat {heat}; the changeover wished"
            " is {needed_s}."
        ),
        "check.pause_broken": N_(
            "Heat {heat} ({start_at_s} to {end_at_s}) runs into the pause {pause} ({from_at_s} to"
            " {until_at_s})."
        ),
        "check.too_early": N_(
            "Heat {heat} starts at {start_at_s}; the first heat should start at {opens_at_s}."
        ),
        "check.too_late": N_(
            "Heat {heat} ends at {end_at_s}; the day should be over by {finish_by_at_s}."
        ),
        "check.odd_start": N_(
            "Heat {heat} starts at {start_at_s}, which is no multiple of {slot_s}."
        ),
        "check.judges_short": N_(
            "At {start_at_s}, when heat {heat} starts, {needed} judges are needed at once; there"
            " are {limit}."
        ),
        "check.rhythm_broken": N_(
            "Workout {workout}, division {division}: the heats follow each other at spacings from"
            " {least_s} to {most_s}; a constant rhythm was wished."
        ),
        "check.block_interrupted": N_(
            "Heat {heat} comes after heat {by} on floor {floor}, so the heats of workout {workout},"
            " division {division}, do not follow each other in one block."
        ),
        "check.numbers_out_of_order": N_(
            "The heats of workout {workout} are not numbered in the order they are run."
        ),
        # Lanes and who stands in them.
        "check.lane_doubled": N_(
            "Heat {heat}: {teams} teams stand in lane {lane}. Give each a lane of its own."
        ),
        "check.unknown_lane": N_(
            "Heat {heat}: floor {floor} has no lane {lane}; its lanes are {first} to {last}."
        ),
        "check.held_lane_used": N_(
            "Heat {heat}: lane {lane} was to be kept free for re-runs and has a team."
        ),
        "check.heat_empty": N_("Heat {heat} has no team."),
        "check.unknown_team": N_("Heat {heat}: there is no team {team}."),
        "check.team_twice": N_(
            "Team {team} is in {times} heats of workout {workout}. Leave it in one."
        ),
        "check.team_missing": N_("Team {team} is in no heat of workout {workout}. Give it a lane."),
        "check.mixed_heat": N_("Heat {heat} mixes divisions ({divisions}), which was not wished."),
        "check.before_release": N_(
            "Heat {heat} starts at {start_at_s}, before workout {workout} is released at"
            " {release_at_s}. Release it earlier, or its teams are not told what they do."
        ),
        "check.thin_heat": N_("Heat {heat} has {teams} teams; at least {least} were wished."),
        "check.thin_heat_unavoidable": N_(
            "Heat {heat} has {teams} teams, fewer than the {least} wished: there are too few to go"
            " round."
        ),
        "check.leaders_not_last": N_(
            "Workout {workout}, division {division}: the best-ranked team, {team}, is not in the"
            " last heat, {heat}."
        ),
        # A team's day.
        "check.team_in_two_places": N_(
            "Team {team} would be in heat {heat} while still in heat {other}. Move one of the two."
        ),
        "check.outside_days": N_(
            "Heat {heat} ({start_at_s} to {end_at_s}) is on none of the event's days. Move it, or"
            " open a day longer."
        ),
        "check.wrong_day": N_(
            "Heat {heat} is on {day}, where workout {workout} is not wished. Move it."
        ),
        "check.kit_short": N_(
            "When heat {heat} starts at {start_at_s}, {needed} of {kit} are needed on all floors"
            " together, and there are {limit}. Move a heat, or borrow more."
        ),
        "check.pool_short": N_(
            "At {start_at_s}, with heat {heat}, {needed} of {pool} are needed, and there are"
            " {limit}."
        ),
        "check.warm_ups_crowded": N_(
            "When heat {heat} begins its warm-up at {start_at_s}, {heats} heats warm up at once;"
            " there is room for {limit}. Move one, or find more room."
        ),
        "check.briefings_overlap": N_(
            "The briefing of heat {heat} begins before that of heat {other} is over. Move one of"
            " the heats."
        ),
        "check.no_time_to_warm_up": N_(
            "Heat {heat} starts at {start_at_s}, too early for the {needed_s} of warm-up and"
            " briefing before it. Start later."
        ),
        "check.wave_overlapped": N_(
            "Heat {heat} starts before heat {other} of an earlier wave is over. Move it."
        ),
        "check.final_not_last": N_(
            "Heat {heat} is a final, but starts before heat {other} is over. Move it to the end."
        ),
        "check.lock_time": N_(
            "Heat {heat} starts at {start_at_s}; it is fixed at {wanted_at_s}. Move it, or lift"
            " the lock."
        ),
        "check.lock_floor": N_(
            "Heat {heat} is on floor {floor}; it is fixed on {wanted}. Move it, or lift the lock."
        ),
        "check.lock_heat": N_(
            "Team {team} is in heat {heat} of its division in workout {workout}; it is fixed in"
            " heat {wanted}. Move it, or lift the lock."
        ),
        "check.lock_lane": N_(
            "Team {team} has lane {lane} in heat {heat}; it is fixed in lane {wanted}. Change the"
            " lanes, or lift the lock."
        ),
        "check.lock_without_heat": N_(
            "Lock {number} is about a heat that the plan does not have. Correct its number, or"
            " take it out."
        ),
        "check.team_too_early": N_(
            "Team {team} is there from {from_at_s}, but heat {heat} starts at {start_at_s}. Move"
            " it, or ask the team."
        ),
        "check.team_too_late": N_(
            "Team {team} leaves at {until_at_s}, but heat {heat} ends at {end_at_s}. Move it, or"
            " ask the team."
        ),
        "check.not_apart": N_(
            "Teams {team} and {other} should never be on a floor at once, with {needed_s} between"
            " them; at heat {heat} there is {gap_s}. Move one of them."
        ),
        "check.wish_names_no_team": N_(
            "A wish names team {team}, which is not in the event (any more). Correct or delete it."
        ),
        "check.slot_hours_broken": N_(
            "Heat {heat} ({start_at_s} to {end_at_s}) is outside the hours it was given."
        ),
        "check.rest_short": N_(
            "Team {team} rests {given_s} between heat {before} and heat {heat}; the rest wished is"
            " {needed_s}."
        ),
        "check.rest_not_promised": N_(
            "Division {division}: whoever is seeded from heat {before} into heat {heat} rests"
            " {given_s}; the rest wished is {needed_s}."
        ),
        "check.workouts_out_of_order": N_(
            "Team {team} has heat {before} before heat {heat}, against the order of the workouts."
        ),
        "check.long_wait": N_(
            "Team {team} waits {wait_s} between heat {before} and heat {heat}, pauses not counted;"
            " teams that wait more than {long_s}: {teams}. Look at a few plans to choose from, or tell"
            " them when to be back."
        ),
        # What the plan says of itself.
        "check.revision_negative": N_("The plan has the revision {revision}. Count from 1."),
        "check.made_from_other_data": N_(
            "Revision {revision} was made from other data than are in force. Plan again."
        ),
        "check.pauses_differ": N_(
            "The pauses of revision {revision} are not those wished for now. Plan again."
        ),
        "check.finish_wrong": N_(
            "The plan says that it ends at {said_at_s}; its last heat ends at {true_at_s}."
        ),
        "check.bound_wrong": N_(
            "The plan says that nothing ends before {said_at_s}; its last heat ends at {true_at_s}."
        ),
        # A timetable against its question.
        "check.not_placed_once": N_("Heat {heat} was given a time {times} times, not once."),
        "check.floor_not_allowed": N_("Heat {heat} may not be run on floor {floor}."),
        "check.link_broken": N_("Heat {heat} does not leave enough time after heat {before}."),
        "check.ranks_out_of_order": N_(
            "Workout {workout}, division {division}: the heats are not run in rank order."
        ),
    }
)
