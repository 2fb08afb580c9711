"""What scoring says: odd scores, faults of a points formula, and the reasons for places."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # A points formula.
        "formula.too_long": N_(
            "The points formula has {length} characters and may have {most}. Write it shorter."
        ),
        "formula.unexpected": N_(
            'Points formula "{formula}": "{given}" at position {position} cannot stand there. Use'
            " numbers, place, teams, result, + - * / ** and brackets."
        ),
        "formula.incomplete": N_(
            'Points formula "{formula}" ends at position {position} where a number, a name or a'
            " bracket is still needed. Finish it."
        ),
        "formula.number_too_long": N_(
            'Points formula "{formula}": the number at position {position} has more than {most}'
            " characters. Write it shorter."
        ),
        "formula.unknown_name": N_(
            'Points formula "{formula}": "{name}" at position {position} means nothing. The names'
            " are place, teams and result; the functions floor, ceil, abs, min, max and round_down."
        ),
        "formula.wrong_count": N_(
            'Points formula "{formula}": {function} at position {position} is given {given} values'
            " and takes {least} to {most}. Correct what is between its brackets."
        ),
        "formula.sign_missing": N_(
            'Points formula "{formula}": there should be "{sign}" at position {position}, not'
            ' "{given}". Put it in.'
        ),
        "formula.too_deep": N_(
            'Points formula "{formula}": at position {position} there are more than {most} things'
            " inside each other. Write it simpler."
        ),
        "formula.divides_by_nought": N_(
            'Points formula "{formula}" divides by nought at position {position} for {tried}. Keep'
            " the divisor above 0, as max(1, …) does."
        ),
        "formula.power_too_big": N_(
            'Points formula "{formula}": the power at position {position} is beyond {most} for'
            " {tried}. Use a smaller one."
        ),
        "formula.number_too_big": N_(
            'Points formula "{formula}" gives a number beyond all bounds at position {position}'
            " for {tried}. Make it smaller."
        ),
        "formula.root_of_negative": N_(
            'Points formula "{formula}" takes the root of a negative number at position {position}'
            " for {tried}. Keep it from falling below 0, as max(0, …) does."
        ),
        "formula.decimals": N_(
            'Points formula "{formula}": round_down at position {position} needs a whole number of'
            " decimals from 0 to {most}, also for {tried}."
        ),
        # What is asked when a card is typed.
        "score.faster_than_forecast": N_(
            "Team {team}, workout {workout}, part {part}: {time_ms} is far faster than any team"
            " was forecast to be, {fastest_s}. Look at the card: a digit may be missing."
        ),
        "score.more_than_forecast": N_(
            "Team {team}, workout {workout}, part {part}: {given} is far more than any team was"
            " forecast to do, {most}. Look at the card again."
        ),
        "score.less_than_forecast": N_(
            "Team {team}, workout {workout}, part {part}: {given} is far less than any team was"
            " forecast to do, {least}. Look at the card again."
        ),
        "score.other_source": N_(
            "Team {team}, workout {workout}, part {part}: this is not what was reported before."
            " Look at the card again; if it says so, the head judge decides between the two."
        ),
        # What is odd about a score.
        "score.kind_does_not_fit": N_(
            'Team {team}, workout {workout}, part {part}: reported as "{outcome}", but the part is'
            ' scored by "{kind}". Look at the card and enter what the part asks for.'
        ),
        "score.number_missing": N_(
            'Team {team}, workout {workout}, part {part}: "{field}" is missing, so there is no'
            " result yet. Enter it from the card."
        ),
        "score.number_negative": N_(
            'Team {team}, workout {workout}, part {part}: "{field}" is {number}, less than nothing.'
            " Look at the card."
        ),
        "score.time_past_cap": N_(
            "Team {team}, workout {workout}, part {part}: a finish at {time_ms} is past the cap of"
            " {cap_s}. Until it is settled it counts as capped. Correct the time, or enter the work"
            " done at the cap."
        ),
        "score.more_than_possible": N_(
            "Team {team}, workout {workout}, part {part}: {work} is more than the {total} there"
            " are. Count the card again."
        ),
        "score.all_done_but_capped": N_(
            "Team {team}, workout {workout}, part {part}: all {total} done and yet capped. If they"
            " crossed the finish in time, enter the time."
        ),
        "score.nought": N_(
            "Team {team}, workout {workout}, part {part}: nought ranks last. If they did not start,"
            " enter that instead."
        ),
        "score.stretch_not_complete": N_(
            "Team {team}, workout {workout}, part {part}: of {distance_m} m, {counts_m} m lie in"
            " complete marked stretches and count."
        ),
        "score.lift_off_step": N_(
            "Team {team}, workout {workout}, part {part}: {load} in task {task} cannot be loaded"
            " with the bars and plates of the kit list, whose smallest step is {step}. Look at the"
            " bar or the card."
        ),
        "score.lift_unknown": N_(
            'Team {team}, workout {workout}, part {part}: there is no lift "{task}" for this'
            " division. Enter it under the right one."
        ),
        "score.lifts_over_tries": N_(
            "Team {team}, workout {workout}, part {part}: {given} tries in task {task}, where"
            " {tries} are allowed. Take out what came after."
        ),
        "score.split_missing": N_(
            "Team {team}, workout {workout}, part {part}: no tie-break time. Among equal results"
            " the team will be last."
        ),
        "score.split_without_rule": N_(
            "Team {team}, workout {workout}, part {part}: a tie-break time of {split_ms} was given,"
            " but the part has none. It counts for nothing."
        ),
        "score.split_after_finish": N_(
            "Team {team}, workout {workout}, part {part}: the tie-break time {split_ms} is later"
            " than the finish at {time_ms}. One of them is wrong: look at the card."
        ),
        "score.split_past_cap": N_(
            "Team {team}, workout {workout}, part {part}: the tie-break time {split_ms} is past the"
            " cap of {cap_s}. Look at the card."
        ),
        "score.split_with_nought": N_(
            "Team {team}, workout {workout}, part {part}: a tie-break time of {split_ms} with"
            " nothing done. Look at the card."
        ),
        "score.penalty_without_effect": N_(
            "Team {team}, workout {workout}, part {part}: a penalty of {number} {field} changes"
            " nothing about this result. Give it in what the result is measured in."
        ),
        "score.stop_without_work": N_(
            "Team {team}, workout {workout}, part {part}: stopped for a medical reason and entered"
            " without a result. The work done until then counts: enter it."
        ),
        # Reasons for a place in a part.
        "result.place": N_("place {place}, worth {points}"),
        "result.void": N_("the workout is void and counts for nothing"),
        "result.no_place": N_("no place, counted as {points}"),
        "result.finished": N_("finished in {time_ms}"),
        "result.capped": N_("time cap, {work} done, {missing} missing"),
        "result.capped_as_time": N_(
            "time cap of {cap_s} with {missing} missing, counted as {time_ms}"
        ),
        "result.worked": N_("{work} done"),
        "result.lifted": N_("{load} lifted"),
        "result.lifted_nothing": N_("no good lift"),
        "result.covered": N_("{distance_m} m"),
        "result.did_not_start": N_("did not start"),
        "result.withdrew": N_("withdrew"),
        "result.awaited": N_("result awaited"),
        "result.past_cap": N_("reported as finished in {time_ms}, past the cap of {cap_s}"),
        "result.penalty_seconds": N_("penalty of {seconds} seconds"),
        "result.credit_seconds": N_("{seconds} seconds credited"),
        "result.penalty_counts": N_("penalty of {counts} counts"),
        "result.medical_stop": N_("stopped for a medical reason, work done until then counts"),
        "result.modified_below": N_("modified, so below every result as prescribed"),
        "result.modified_unranked": N_("modified, so without a place"),
        "result.attempt": N_("attempt {attempt} counts"),
        "result.rerun_awaited": N_("re-run awaited"),
        "result.disputed": N_("two reports differ"),
        "result.shared": N_("level with {teams}, place shared"),
        "result.ahead_on_split": N_(
            "level with {teams}, ahead on the tie-break {mine_ms} against {theirs_ms}"
        ),
        "result.behind_on_split": N_(
            "level with {teams}, behind on the tie-break {mine_ms} against {theirs_ms}"
        ),
        "result.ahead_with_split": N_(
            "level with {teams}, ahead with a tie-break of {mine_ms} against none"
        ),
        "result.behind_without_split": N_(
            "level with {teams}, behind for want of a tie-break time"
        ),
        "result.ahead_as_finisher": N_("level with {teams}, ahead for having finished"),
        "result.behind_as_capped": N_("level with {teams}, behind for not having finished"),
        # Reasons for a place overall.
        "overall.waiting": N_("no place before a result is in from every team"),
        "overall.place": N_("place {place}: {points} points"),
        "overall.below": N_("no place in {results}, so below all who completed"),
        "overall.unranked": N_("no place in {results}, so none overall"),
        "overall.withdrawn": N_("withdrawn"),
        "overall.disqualified": N_("disqualified"),
        "overall.out_of_competition": N_("out of competition, takes no place"),
        "overall.shared": N_("level with {teams}, place shared"),
        "overall.ahead_on_places": N_(
            "level with {teams}, ahead for more finishes in place {place}: {mine} against {theirs}"
        ),
        "overall.behind_on_places": N_(
            "level with {teams}, behind for fewer finishes in place {place}: {mine} against {theirs}"
        ),
        "overall.ahead_in": N_(
            "level with {teams}, ahead in {results} with {mine} against {theirs}"
        ),
        "overall.behind_in": N_(
            "level with {teams}, behind in {results} with {mine} against {theirs}"
        ),
    }
)
