"""Sentences for what the rules of the day refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "book.no_event": N_("This book has no event yet. Load an event file first."),
        "plan.none": N_("No plan has been published yet. Make one first."),
        "plan.no_teams": N_("There is no team to plan for. Load the teams first."),
        "plan.old_inputs": N_(
            "Revision {revision} was planned before something it rests on changed. Plan again."
        ),
        "plan.other_revision": N_(
            "Somebody published another plan meanwhile: this one is revision {given}, the next "
            "must be {wanted}. Look at the new plan, then plan again."
        ),
        "plan.heat_has_run": N_(
            "These heats have started and can no longer be moved: {heats}. Leave them as they are."
        ),
        "plan.is_frozen": N_(
            "The plan is frozen, so it is not planned anew. Thaw it first, with a reason."
        ),
        "plan.frozen_already": N_("The plan is frozen already."),
        "plan.not_frozen": N_("The plan is not frozen."),
        "plan.nothing_repaired": N_("This repair changes nothing. Nobody need be told."),
        "loss.unknown_floor": N_("There is no floor {floor} in this event."),
        "loss.unknown_lane": N_("Floor {floor} has no lane {lane}."),
        "loss.no_number": N_("Say how many there still are."),
        "loss.not_lost": N_("Loss {number} is not open. Reload the page."),
        "rota.no_crew": N_("There is nobody in the crew yet. Load the list of volunteers first."),
        "rota.none": N_("There is no rota yet. Make one first."),
        "rota.other_plan": N_(
            "This rota is for revision {given} of the plan, and revision {wanted} is in force. "
            "Make the rota again."
        ),
        "rota.nothing_changed": N_("No shift changes hands. Nobody need be told."),
        "rota.shift_unknown": N_("The rota has no shift {shift}. Reload the page."),
        "person.unknown": N_("There is no volunteer {person} in this book."),
        "event.another": N_(
            "This book is the book of the event “{known}”, the file is about “{given}”. "
            "Load it into a new book."
        ),
        "event.already_running": N_(
            "Heats have started ({heats} …), so the workouts can no longer be replaced."
        ),
        "movement.unknown": N_(
            "There is no movement {movement} in the library. Choose one from the list."
        ),
        "movement.not_own": N_(
            "{movement} is not a movement of your own, so there is nothing to give up."
        ),
        "movement.in_use": N_(
            "{movement} is needed by {workouts}. Choose another movement there first."
        ),
        "movement.already_judged": N_(
            "Heats have been judged by the standard of {movement} ({heats}). Leave it as it is and"
            " make a ruling, which reaches every judge."
        ),
        "movement.other_rules": N_("These rules are not about {movement}. Reload the page."),
        "team.unknown": N_("There is no team {team} in this book."),
        "team.left_already": N_("Team {team} has left the event already."),
        "team.not_left": N_("Team {team} has not left the event, or not by that entry. Reload."),
        "workout.unknown": N_("There is no workout {workout} in this event."),
        "division.unknown": N_("There is no division {division} in this event."),
        "part.unknown": N_("Workout {workout} has no scored part {part}."),
        "pace.absurd": N_(
            "A pace of {permille} in a thousand cannot be right: it lies between {least} and {most}, "
            "and inside its own interval. Look at the results it comes from."
        ),
        "pace.not_in_use": N_("No pace of {division} in {workout} is in use. Reload the page."),
        "floor.unknown": N_("There is no floor {floor} in this event."),
        "heat.unknown": N_("The plan has no heat {heat}. It may have been moved: look again."),
        "heat.already_called": N_("Heat {heat} is {stage} already."),
        "heat.already_started": N_("Heat {heat} is {stage} already; its clock starts once."),
        "heat.on_floor_already": N_("Heat {heat} has walked on already."),
        "heat.nothing_to_take_back": N_(
            "Heat {heat} is {stage}: there is no call or walk-on to take back. Look again."
        ),
        "heat.early": N_(
            "Heat {heat} would start {early_s} early, and not everyone is here: {missing}. "
            "Wait, or mark them as arrived."
        ),
        "heat.has_scores": N_(
            "Scores of heat {heat} have come in ({teams}), so its start cannot be taken back. "
            "Stop it if it runs, and rule on it."
        ),
        "heat.stop_in_countdown": N_(
            "The clock of heat {heat} has not passed nought. Take its start back instead."
        ),
        "heat.stop_not_ruled": N_(
            "The clock of heat {heat} was stopped, and nobody has ruled what counts. Rule on it first."
        ),
        "stop.nothing_to_rule": N_(
            "Heat {heat} was not stopped, or has been ruled on already. Reload the page."
        ),
        "stop.for_nobody": N_("Nobody of heat {heat} would be concerned. Choose the teams again."),
        "rerun.none_waits": N_("No re-run of heat {heat} waits to be started. Reload the page."),
        "rerun.not_granted": N_("Team {team} has no such re-run of {workout}. Grant it first."),
        "rerun.scored_already": N_(
            "The re-run of team {team} in {workout} has a score already. Grant another one first."
        ),
        "credit.no_time": N_(
            "Part {part} of {workout} is not done for time, so no time can be credited. Correct the score."
        ),
        "credit.out_of_range": N_(
            "A credit is between 1 and {most} seconds; this one has {seconds}."
        ),
        "heat.not_running": N_("The clock of heat {heat} is not running (it is {stage})."),
        "heat.not_confirmed": N_("Heat {heat} is not confirmed (it is {stage})."),
        "heat.already_confirmed": N_("Heat {heat} is confirmed already."),
        "heat.not_ready": N_(
            "Heat {heat} cannot be confirmed yet. No score in lane: {missing}. "
            "Two differing reports in lane: {disputed}."
        ),
        "standings.not_ready": N_(
            "The standings of {division} are not final: heats not confirmed: {heats}; reports "
            "without a place: {unplaced}."
        ),
        "report.unknown": N_("Report {report} is not about this lane. Reload the page."),
        "report.not_unplaced": N_("Report {report} has been dealt with already. Reload the page."),
        "sheet.unknown": N_("Nothing was reported yet for team {team} in {workout}, part {part}."),
        "penalty.empty": N_(
            "A penalty adds seconds or takes counts off; this one has {seconds} seconds and "
            "{counts} counts. Give one of them."
        ),
        "penalty.unknown": N_("Penalty {penalty} does not stand on this score. Reload the page."),
        "ruling.incomplete": N_("A ruling needs the question and its answer. Write both."),
        "ruling.movement_unknown": N_(
            "No task has the movement {movement}. Choose one that is done, or leave it out."
        ),
        "ruling.not_in_force": N_("Ruling {number} is not in force. Reload the page."),
        "amendment.nothing_said": N_("Say what has changed: everyone will read it."),
        "amendment.nothing_changed": N_(
            "{workout} would stay as it is. Change something in it, or make it void."
        ),
        "amendment.other_floor": N_(
            "{workout} stays on its floor: an amendment moves no heat. Plan again to move it."
        ),
        "amendment.heat_running": N_(
            "{heat} is running. End it, or take its start back, then amend the workout."
        ),
        "amendment.needs_remedy": N_(
            "These heats have run: {heats}. Say whether all run again, all are scored to a common "
            "point, or the workout is void."
        ),
        "amendment.nothing_ran": N_(
            "No heat of {workout} has run, so there is nothing to run again or to bring to a "
            "common point."
        ),
        "amendment.no_common_point": N_("Say to which point everyone is scored."),
        "amendment.other_heat": N_(
            "An amendment holds from the first heat that has not run, which is {wanted}, not "
            "{given}. Look again, then decide."
        ),
        "event.amended": N_(
            "{workout} was changed by amendment {number}, and this event would undo that. Amend "
            "it again instead, or take the amended workout into the file."
        ),
        "decision.no_reason": N_("Say why: the reason is kept with the decision."),
        "device.unknown": N_("No such device has joined."),
        "device.revoked": N_(
            "This device has lost its role. What it counted is kept; ask the director for a "
            "new code to go on."
        ),
        "role.not_allowed": N_("Your role ({role}) may not do this."),
        "request.stale": N_(
            "Somebody changed this while you were looking at it. Look again, then decide."
        ),
        "carry.other_generation": N_(
            "This copy was carried on already: it is generation {wanted}, not {given}."
        ),
        "screen.each_s": N_(
            "A part of the hall screen stays for {least} to {most} seconds, not {given}."
        ),
        "request.unknown_kind": N_("There is nothing called “{kind}” to be done."),
        "request.unreadable": N_("What was sent cannot be read: {fault}"),
    }
)
