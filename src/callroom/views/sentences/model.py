"""What the checks of an event, its teams and its crew say, and the refusals of the model."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # Times and counts.
        "time.unknown_zone": N_(
            'The time zone "{zone}" is not known. Write a region and a city, such as'
            ' "Europe/Berlin".'
        ),
        "time.unreadable": N_('"{given}" is not a time of day. Write hours and minutes: "09:30".'),
        "time.absent": N_(
            "{given} does not exist in {zone}: the clocks are put forward over it. Choose an"
            " earlier or a later start."
        ),
        "time.doubled": N_(
            "{given} exists twice in {zone}: the clocks are put back over it. Choose an earlier"
            " or a later start."
        ),
        "work.not_in_rounds": N_(
            "Part {part} is not counted in rounds. Enter the total, as printed on the card."
        ),
        "work.rounds_impossible": N_(
            "{rounds} rounds + {counts}: part {part} has no such score, it lists {listed} rounds."
            " Check the card, or enter the total."
        ),
        "work.counts_beyond_round": N_(
            "{rounds} rounds + {counts}: the round begun in part {part} has {in_round} counts."
            " Check the card, or enter the total."
        ),
        # The event.
        "event.nothing_listed": N_(
            'Nothing is listed under "{field}". An event needs at least one.'
        ),
        "event.id_twice": N_(
            'The id "{id}" is given twice under "{field}". Give one of the two another id.'
        ),
        "event.id_unusable": N_(
            'The id "{id}" under "{field}" cannot be used. Use letters, digits, hyphens and'
            " underscores, without blanks, slashes or colons."
        ),
        "event.name_missing": N_('"{id}" under "{field}" has no name. Give it one.'),
        "event.name_twice": N_(
            'The name "{name}" is given twice under "{field}". People will mix them up: give one'
            " of them another name."
        ),
        "event.start_not_in_day": N_(
            "The day's start, {start_s} after midnight, is not a time of day. Choose one between"
            " 00:00 and 23:59."
        ),
        # Divisions and floors.
        "division.make_up_empty": N_(
            "Division {division} does not say how its teams are made up. Name the categories and"
            " how many athletes of each."
        ),
        "division.count_not_positive": N_(
            "Division {division} wants {count} athletes of category {category}. Write 1 or more,"
            " or leave the category out."
        ),
        "division.category_unknown": N_(
            'Division {division} names the category "{category}", which the event does not list.'
            " List it, or correct the name."
        ),
        "division.category_twice": N_(
            "Division {division} names the category {category} twice. Put the two together."
        ),
        "division.number_negative": N_(
            'Division {division}: "{field}" is {number}. Write 0 or more.'
        ),
        "floor.no_lanes": N_("Floor {floor} has {lanes} lanes. Write 1 or more."),
        "floor.held_lane_unknown": N_(
            "Floor {floor} holds back lane {lane}, but its lanes are numbered {first} to {last}."
            " Hold back one of those, or none."
        ),
        "floor.all_lanes_held": N_(
            "Floor {floor} holds back every lane, so no team can be put there. Free at least one."
        ),
        # Workouts and parts.
        "workout.floor_unknown": N_(
            'Workout {workout} is on floor "{floor}", which the event does not list. List it, or'
            " correct the name."
        ),
        "workout.no_parts": N_("Workout {workout} has no part to score. Give it one."),
        "workout.number_negative": N_('Workout {workout}: "{field}" is {number}. Write 0 or more.'),
        "part.no_blocks": N_("Workout {workout}, part {part} has no work in it. Add a block."),
        "part.cap_not_positive": N_(
            "Workout {workout}, part {part}: the time cap is {cap_s}. Give it a length."
        ),
        "part.start_negative": N_(
            "Workout {workout}, part {part} starts {starts_s} on the workout's clock. It cannot"
            " start before the clock does: write 0 or more."
        ),
        "part.resolution_not_positive": N_(
            "Workout {workout}, part {part}: the resolution is {resolution_ms}. Write what times"
            " are cut to, usually one second."
        ),
        "part.share_out_of_range": N_(
            "Workout {workout}, part {part} is worth {share_percent} per cent of the points. Write 100"
            " for full points, 50 for half, or another number from 1 to 100."
        ),
        "part.time_without_end": N_(
            "Workout {workout}, part {part} is for time but has a block that never ends, so nobody"
            " can finish. Give the block rounds, or score the work done."
        ),
        "part.load_without_lift": N_(
            "Workout {workout}, part {part} is scored by load but has no lift. Add a task with the"
            ' unit "lift".'
        ),
        "part.distance_without_metres": N_(
            "Workout {workout}, part {part} is scored by distance but has no task in metres."
        ),
        "part.cap_rule_unused": N_(
            "Workout {workout}, part {part} adds a second for what is missing at the cap, but it is"
            ' scored by "{kind}", where nothing is added. Leave the rule out.'
        ),
        "part.resolution_hides_missing": N_(
            "Workout {workout}, part {part} adds a second for what is missing at the cap, but times"
            " are cut to {resolution_ms}, which hides it. Use a resolution of one second."
        ),
        "tiebreak.unknown": N_(
            'Workout {workout}, part {part}: the tie-break is taken after "{after}", which is no'
            " block or task of it. Name one of its blocks or tasks."
        ),
        "tiebreak.never_reached": N_(
            'Workout {workout}, part {part}: the tie-break is taken after "{after}", whose end'
            " nobody reaches, because a block repeats until time is up. Name something before"
            ' that, a task of that block, or "round".'
        ),
        "tiebreak.no_rounds": N_(
            "Workout {workout}, part {part}: the tie-break is taken after each round, but nothing"
            " is done for rounds. Name a block or a task."
        ),
        "tiebreak.nobody": N_(
            "Workout {workout}, part {part}: the tie-break is after {after}, which nobody in"
            " division {division} does, so its teams never get there. Name a block, or a task that"
            " every division does."
        ),
        "tiebreak.is_the_finish": N_(
            'Workout {workout}, part {part}: the tie-break is taken after "{after}", which is the'
            " finish itself and cannot part anybody. Name something earlier."
        ),
        # Blocks and tasks.
        "block.no_tasks": N_(
            "Workout {workout}, part {part}: block {block} has no task. Add one, or take the block"
            " out."
        ),
        "block.rounds_not_positive": N_(
            "Workout {workout}, part {part}: block {block} has {rounds} rounds. Write 1 or more."
        ),
        "block.open_ended_rounds": N_(
            "Workout {workout}, part {part}: block {block} repeats until time is up and yet has"
            " {rounds} rounds. Leave one of the two out."
        ),
        "block.never_reached": N_(
            "Workout {workout}, part {part}: nobody gets to block {block}, because block {after}"
            " before it repeats until time is up. Make it a part of its own, or change the order."
        ),
        "block.interval_negative": N_(
            "Workout {workout}, part {part}: block {block} starts a round every {every_s}. Write 0"
            " to start as soon as the last one is done, or a length."
        ),
        "block.rounds_past_cap": N_(
            "Workout {workout}, part {part}: block {block} starts {rounds} rounds, one every"
            " {every_s}, but time is up at {cap_s}, before the last begins. Take fewer rounds or a"
            " later cap."
        ),
        "task.movement_missing": N_(
            "Workout {workout}, part {part}: task {task} has no movement. Name one."
        ),
        "task.amounts_missing": N_(
            "Workout {workout}, part {part}: task {task} does not say how much. Give an amount;"
            ' it may be left out, or "max", only where it is the one task of an open_ended block'
            " is up."
        ),
        "task.amounts_wrong_count": N_(
            "Workout {workout}, part {part}: task {task} gives {given} amounts for {rounds} rounds."
            " Give one for all rounds, or one for each."
        ),
        "task.amount_not_positive": N_(
            "Workout {workout}, part {part}: task {task} has the amount {amount}. Write 1 or more."
        ),
        "task.mark_not_positive": N_(
            "Workout {workout}, part {part}: task {task} counts once every {mark}. Write 1 or more."
        ),
        "task.amount_not_in_marks": N_(
            "Workout {workout}, part {part}: task {task} asks for {amount} but counts every {mark},"
            " so the rest at the end counts for nothing. Choose a mark that divides it."
        ),
        "task.lift_in_other_kind": N_(
            "Workout {workout}, part {part}: task {task} is a lift for load, but the part is not"
            " scored by load. Give it repetitions, or score the part by load."
        ),
        "task.lift_with_amounts": N_(
            "Workout {workout}, part {part}: task {task} is a lift for load and has an amount."
            " Leave the amount out: the load is the result."
        ),
        "task.category_unknown": N_(
            'Workout {workout}, part {part}: task {task} is for the category "{category}", which'
            " the event does not list. List it, or correct the name."
        ),
        "task.nobody": N_(
            "Workout {workout}, part {part}: in division {division} nobody may do task {task}. It"
            " is left out there; if that is not meant, change who does it."
        ),
        "task.place_missing": N_(
            "Workout {workout}, part {part}: task {task} is for places that teams of division"
            " {division} do not have: {places}."
        ),
        "task.working_not_positive": N_(
            "Workout {workout}, part {part}: task {task} has {working} athletes working at a time."
            " Write 1 or more."
        ),
        "task.too_many_working": N_(
            "Workout {workout}, part {part}: task {task} wants {working} athletes at a time; in"
            " division {division} {available} may do it, and they all work."
        ),
        "task.least_share_too_big": N_(
            "Workout {workout}, part {part}: task {task} has {counts} counts, too few for a least"
            " share of {least_each} for each of {available} athletes in division {division}."
            " Lower the share."
        ),
        "task.movement_barred": N_(
            "Workout {workout}, task {task}: teams of division {division} may not do {movement}."
            " Choose another movement, or lift the bar on the movement's own page."
        ),
        "task.variation_barred": N_(
            "Workout {workout}, task {task}: {variation} is barred in division {division} for every"
            " workout. Leave it out there, or lift the bar on the movement's own page."
        ),
        "task.no_rep_long": N_(
            'Workout {workout}, task {task}: "{given}" does not fit on a button. Use at most {most}'
            " characters."
        ),
        "task.variation_twice": N_(
            "Workout {workout}, task {task}: {variation} is both allowed and barred, or said twice."
            " Say it once for each division."
        ),
        "task.variation_division_unknown": N_(
            "Workout {workout}, task {task}: a variation is set for division {division}, which the"
            " event does not have. Name one it has."
        ),
        "task.number_negative": N_(
            'Workout {workout}, part {part}: task {task}: "{field}" is {number}. Write 0 or more.'
        ),
        "task.switch_not_positive": N_(
            "Workout {workout}, part {part}: athletes switch every {every} in task {task}. Write 1"
            " or more."
        ),
        # Loads and heights.
        "published.empty": N_(
            'Workout {workout}, part {part}: an entry under "{field}" of task {task} has no value.'
            " Give it one, or take it out."
        ),
        "published.not_positive": N_(
            'Workout {workout}, part {part}: "{field}" of task {task} gives {given}. Write more'
            " than 0."
        ),
        "published.count_not_positive": N_(
            "Workout {workout}, part {part}: an athlete holds {count} of the implement in task"
            " {task}. Write 1 or more."
        ),
        "published.division_unknown": N_(
            'Workout {workout}, part {part}: "{field}" of task {task} names the division'
            ' "{division}", which the event does not list. Correct the name.'
        ),
        "published.category_unknown": N_(
            'Workout {workout}, part {part}: "{field}" of task {task} names the category'
            ' "{category}", which the event does not list. Correct the name.'
        ),
        "published.twice": N_(
            'Workout {workout}, part {part}: "{field}" of task {task} is given twice for the same'
            ' athletes (division "{division}", category "{category}"). Keep one.'
        ),
        "published.missing": N_(
            'Workout {workout}, part {part}: task {task} has no "{field}" for category {category}'
            " in division {division}, though others have. Add it if it is not the bare implement."
        ),
        # Rules and wishes.
        "rules.tie_item_unknown": N_(
            '"{item}" is no way to break a tie. There are "most_firsts", "best_in:WORKOUT",'
            ' "best_in:WORKOUT/PART" and "shared".'
        ),
        "rules.tie_workout_unknown": N_(
            'Ties are to be broken by "{item}", but there is no workout "{workout}". Name one of'
            " the event."
        ),
        "rules.tie_part_unknown": N_(
            'Ties are to be broken by "{item}", but workout {workout} has no part "{part}". Name'
            " one of its parts, or the workout alone."
        ),
        "rules.tie_item_without_effect": N_(
            '"{item}" in the tie chain changes nothing where it stands: it is there already, or'
            " ties are shared before it. Take it out."
        ),
        "rules.table_empty": N_(
            "Points go by a table, but the table is empty. List the points from first place down."
        ),
        "rules.table_rises": N_(
            "The points table gives place {place} more ({points}) than the place before it"
            " ({before}). Check the order: it starts with first place."
        ),
        "rules.linear_not_falling": N_(
            "First place gets {first} points and every place {step} less, so places are worth the"
            " same or less for the better. Give both more than 0."
        ),
        "rules.formula_missing": N_(
            "Points go by a formula, but it is not given. Write one, such as"
            ' "100 - 5 * (place - 1)".'
        ),
        "rules.number_negative": N_('Rules: "{field}" is {number} seconds. Write 0 or more.'),
        "rules.embargo_unknown": N_(
            'Rules: "embargo" names {workout}, and there is no such workout. Write the id of one.'
        ),
        "wishes.number_too_small": N_(
            'Wishes about the day: "{field}" is {number}. Write {least} or more.'
        ),
        "wishes.finish_before_first_heat": N_(
            "The day is to finish {finish_by_s} after its start, which is not after the first heat"
            " ({first_heat_s}). Choose a later finish or an earlier first heat."
        ),
        "wishes.pause_without_length": N_(
            'The pause "{pause}" has the length {length_s}. Give it one, or take it out.'
        ),
        "wishes.pause_outside_day": N_(
            'The pause "{pause}" starts {start_s} after the day\'s start and does not lie within'
            " the day, which is taken to end {until_s} after it. Move the pause."
        ),
        "wishes.pause_floor_unknown": N_(
            'The pause "{pause}" is on floor "{floor}", which the event does not list. Correct the'
            " name, or name no floor to rest them all."
        ),
        "wishes.name_unknown": N_(
            'The wishes name "{given}", and the event has no such {kind}. Correct it; there are:'
            " {known}."
        ),
        "wishes.division_in_two_waves": N_(
            'Division "{division}" is in two waves. Take it out of one.'
        ),
        "wishes.day_backwards": N_(
            'The day "{day}" closes before it opens. Correct one of the two times.'
        ),
        "wishes.days_overlap": N_(
            'The day "{day}" opens before the day "{before}" has closed. List the days in order,'
            " one after the other."
        ),
        "wishes.workout_in_two_days": N_(
            'Workout "{workout}" is on two days. Every team does it once: take it off one of them.'
        ),
        "wishes.workout_on_no_day": N_(
            'Some days say which workouts they have, and "{workout}" is on none of them. Put it on'
            " one, or name no workouts at all to have them spread."
        ),
        "wishes.span_backwards": N_(
            "In row {number} the time ends before it begins. Correct one of the two."
        ),
        "wishes.lock_names_nothing": N_(
            "Lock {number} needs a team, or a division with the number of one of its heats, and"
            " something that is fixed: a time, a floor, a heat or a lane."
        ),
        "wishes.lock_lane_without_team": N_(
            "Lock {number} fixes a lane, and lanes belong to teams. Name the team."
        ),
        "wishes.apart_one_team": N_(
            "Row {number} of the teams to be kept apart names fewer than two. Name the others."
        ),
        "wishes.floor_not_among_choices": N_(
            'The floors to choose from for workout "{workout}" leave out its own, "{floor}". Add'
            " it, or give the workout another floor."
        ),
        # Teams and crew.
        "team.id_twice": N_('The team id "{team}" is given twice. Give one of the teams another.'),
        "team.id_unusable": N_(
            'The team id "{team}" cannot be used. Use letters, digits, hyphens and underscores,'
            " without blanks, slashes or colons."
        ),
        "team.name_missing": N_("Team {team} has no name. Give it one."),
        "team.name_twice": N_(
            'Team {team} has the name "{name}", like team {other} of the same division. Give one'
            " of them another name."
        ),
        "team.name_in_other_division": N_(
            'Team {team} has the name "{name}", like team {other} in another division. Calls in'
            " the hall will be mistaken: give one of them another name."
        ),
        "team.division_unknown": N_(
            'Team {team} is entered in division "{division}", which the event does not list.'
            " Correct the name, or list the division."
        ),
        "team.category_unknown": N_(
            'Team {team} has an athlete of category "{category}", which the event does not list.'
            " Correct the name."
        ),
        "team.make_up_wrong": N_(
            "Team {team} has {given} athletes of category {category} on the floor; its division"
            " wants {wanted}. Change the line-up or the division."
        ),
        "team.short_handed": N_(
            "Team {team} has {given} of {wanted} athletes. It can be entered; the rules of the"
            " event say how a short-handed team is ranked."
        ),
        "team.no_line_up": N_("Team {team} has no line-up yet. Enter it before cards are printed."),
        "team.too_many_reserves": N_(
            "Team {team} names {given} reserves; its division allows {allowed}. Take some out."
        ),
        "team.place_twice": N_(
            "Team {team} has two athletes in place {place}. Give each a place of their own."
        ),
        "team.place_unknown": N_(
            'Team {team} has an athlete in place "{place}"; the places of its division are'
            " {places}. Tasks for named places will not find them."
        ),
        "team.entry_rank_not_positive": N_(
            "Team {team} has the entry rank {entry_rank}. Ranks start at 1; leave it empty for"
            " none."
        ),
        "team.entry_rank_twice": N_(
            "Teams {team} and {other} both have the entry rank {entry_rank} in one division."
            " Chance decides which is seeded first; give them different ranks if you know."
        ),
        "division.too_many_teams": N_(
            "Division {division} has {count} teams and takes at most {limit}. Raise the limit or"
            " move teams."
        ),
        "athlete.twice_in_team": N_(
            "Team {team} lists the person {person} twice. Keep one of the two."
        ),
        "athlete.in_two_teams": N_(
            "The person {person} is in team {team} and in team {other}. Nobody can be on two"
            " floors at once: take them out of one."
        ),
        "crew.twice": N_("The crew lists the person {person} twice. Put the two lines together."),
        "crew.no_posts": N_(
            "Crew member {person} has no post they can take, so they get no work. Name at least"
            " one."
        ),
        "crew.team_unknown": N_(
            'Crew member {person} is said to compete in team "{team}", which is not entered.'
            " Correct the team, or leave it empty."
        ),
        "crew.family_unknown": N_(
            'Crew member {person} is said to have family in team "{team}", which is not entered.'
            " Correct the team, or leave it out."
        ),
        "crew.not_in_team": N_(
            "Crew member {person} is said to compete in team {team}, but is not in its line-up."
            " Correct one of the two."
        ),
        "crew.team_not_said": N_(
            "Crew member {person} competes in team {team} without it being said. Say so, or they"
            " may be asked to judge their own team."
        ),
        "crew.never_free": N_(
            "Crew member {person} is free from {free_from_s} until {free_until_s} after the day's"
            " start, which is no time at all. Correct one of the two."
        ),
    }
)
