"""A sound event file, and one with each fault: where it is, and what the mend is."""

from datetime import date
from decimal import Decimal

import pytest

from callroom.exchange import read_event
from callroom.model import (
    CategoryCount,
    Event,
    Pause,
    PublishedHeight,
    PublishedLoad,
    Switch,
    Task,
    TieBreak,
    Who,
)
from callroom.views.sentences import sentence
from tests.exchange.files import HERE, SMALL_EVENT, marked, places, refused


def event(text: str = SMALL_EVENT) -> Event:
    return read_event(text.encode())


def changed(old: str, new: str) -> str:
    assert SMALL_EVENT.count(old) >= 1, old
    return SMALL_EVENT.replace(old, new, 1)


def task(*lines: str) -> Task:
    """The first task of the small event with more keys."""
    text = changed('movement = "thruster"\n', "\n".join(['movement = "thruster"', *lines, ""]))
    return event(text).workouts[0].parts[0].blocks[0].tasks[0]


def test_a_sound_file_gives_the_event() -> None:
    read = event()
    assert (read.id, read.name, read.day) == ("small", "A small day", date(2027, 3, 13))
    assert (read.zone, read.start_s) == ("Europe/Berlin", 9 * 3600)
    assert read.divisions[0].make_up == (
        CategoryCount(category="women", count=1),
        CategoryCount(category="men", count=1),
    )
    part = read.workouts[0].parts[0]
    assert (part.id, part.kind, part.cap_s, part.blocks[0].rounds) == ("a", "time", 600, 3)
    assert [one.id for one in part.blocks[0].tasks] == ["thruster", "pull_up"]
    assert (read.wishes.first_heat_s, read.wishes.finish_by_s) == (900, 3 * 3600)
    assert read.wishes.pauses == (Pause(id="lunch", name="Lunch", start_s=5400, length_s=1800),)


def test_loads_are_kept_as_published_for_each_category_and_division() -> None:
    loads = '{ all = "20 kg", women = "2 x 12,5 kg / 25 lb", open = { all = "95 lb", men = "43 kg / 95 lb" } }'
    text = changed('{ women = "29 kg / 65 lb", men = "43 kg / 95 lb" }', loads)
    assert event(text).workouts[0].parts[0].blocks[0].tasks[0].loads == (
        PublishedLoad(kg=Decimal(20)),
        PublishedLoad(category="women", kg=Decimal("12.5"), lb=Decimal(25), count=2),
        PublishedLoad(division="open", lb=Decimal(95)),
        PublishedLoad(division="open", category="men", kg=Decimal(43), lb=Decimal(95)),
    )


def test_one_load_for_all_is_one_text() -> None:
    text = changed('{ women = "29 kg / 65 lb", men = "43 kg / 95 lb" }', '"40 kg / 88 lb"')
    loads = event(text).workouts[0].parts[0].blocks[0].tasks[0].loads
    assert loads == (PublishedLoad(kg=Decimal(40), lb=Decimal(88)),)


def test_heights_may_be_given_in_metres_and_feet() -> None:
    assert task('heights = { women = "2.75 m / 9 ft", men = "300 cm" }').heights == (
        PublishedHeight(category="women", cm=Decimal(275), inch=Decimal(108)),
        PublishedHeight(category="men", cm=Decimal(300)),
    )


@pytest.mark.parametrize(
    ("line", "who"),
    [
        ('who = "anyone"', Who()),
        ('who = "everyone"', Who(kind="everyone")),
        ('who = "pair"', Who(kind="pair")),
        ('who = "Women"', Who(kind="category", category="women")),
        ('who = "A, B"', Who(kind="places", places=("A", "B"))),
        ('who = "B"', Who(kind="places", places=("B",))),
    ],
)
def test_who_does_a_task(line: str, who: Who) -> None:
    assert task(line).who == who


@pytest.mark.parametrize(
    ("line", "switch"),
    [
        ('switch = "freely"', Switch()),
        ('switch = "every 5"', Switch(kind="every", every=5)),
        ('switch = "each round"\nhand_tag = true', Switch(kind="each_round", hand_tag=True)),
        ('switch = "fixed-order"', Switch(kind="fixed_order")),
    ],
)
def test_how_athletes_switch(line: str, switch: Switch) -> None:
    assert task(line).switch == switch


def test_the_rest_of_a_task() -> None:
    read = task(
        'id = "first"',
        'sharing = "each"',
        "working = 2",
        "strand = 1",
        'while_holding = "plank_hold"',
        'variation = "band"',
        'tighten = "Hands on the marks."',
    )
    assert (read.id, read.sharing, read.working, read.strand) == ("first", "each", 2, 1)
    assert (read.while_holding, read.variation) == ("plank_hold", "band")
    assert read.tighten == "Hands on the marks."


@pytest.mark.parametrize(("tries", "count"), [("3", 3), ('"any"', 0)])
def test_a_task_with_tries_is_a_lift(tries: str, count: int) -> None:
    text = SMALL_EVENT.replace('result = "time"', 'result = "load"')
    text = text.replace("reps = [21, 15, 9]", f"tries = {tries}")
    lift = event(text).workouts[0].parts[0].blocks[0].tasks[0]
    assert (lift.unit, lift.amounts, lift.tries) == ("lift", (), count)


def test_as_much_as_possible_is_an_amount() -> None:
    text = changed('result = "time"', 'result = "work"').replace(
        "reps = [21, 15, 9]", 'metres = "max"'
    )
    text = text.replace("[[workouts.w1.blocks]]", "[[workouts.w1.blocks]]\nopen_ended = true")
    text = text.replace('[[workouts.w1.blocks.tasks]]\nmovement = "pull_up"\nmetres = "max"\n', "")
    block = event(text).workouts[0].parts[0].blocks[0]
    assert (block.open_ended, block.rounds) == (True, 1)
    assert (block.tasks[0].unit, block.tasks[0].amounts) == ("metres", ())


def test_a_workout_with_parts_gives_each_its_own_clock() -> None:
    head, _, _ = SMALL_EVENT.partition('result = "time"')
    text = (
        head
        + """
[workouts.w1.parts.fast]
name = "Fast"
result = "time"
cap = "4:00"
worth = "half"
tiebreak = { after = "b1", splits_finishers = true }
resolution = "0.1 s"
cap_rule = "second per missing"
[[workouts.w1.parts.fast.blocks]]
tasks = [{ movement = "burpee", reps = 30 }, { movement = "burpee", reps = 10 }]
[[workouts.w1.parts.fast.blocks]]
rounds = 2
every = "1:00"
tasks = [{ movement = "row", calories = 5 }]
[workouts.w1.parts.long]
result = "distance"
starts = "5:00"
cap = "90 s"
worth = 75
[[workouts.w1.parts.long.blocks]]
open_ended = true
tasks = [{ movement = "run", metres = 100, mark = 25 }]
"""
    )
    fast, long = event(text).workouts[0].parts
    assert (fast.name, fast.cap_s, fast.share_percent, fast.resolution_ms) == ("Fast", 240, 50, 100)
    assert fast.tiebreak == TieBreak(after="b1", splits_finishers=True)
    assert fast.cap_rule == "second_per_missing"
    assert [one.id for one in fast.blocks[0].tasks] == ["burpee", "burpee_2"]
    assert (fast.blocks[1].id, fast.blocks[1].rounds, fast.blocks[1].every_s) == ("b2", 2, 60)
    assert (long.kind, long.starts_s, long.cap_s, long.share_percent) == ("distance", 300, 90, 75)
    assert long.blocks[0].tasks[0].mark == 25


def test_release_times_may_lie_on_an_earlier_day_and_across_a_change_of_the_clocks() -> None:
    # Clocks in Berlin go forward an hour on 28 March 2027 at 02:00.
    text = SMALL_EVENT.replace("2027-03-13", "2027-03-28")
    text = text.replace('floor = "main"', 'floor = "main"\nrelease = 2027-03-27 18:00:00')
    assert event(text).workouts[0].release_s == -14 * 3600


def test_times_of_day_may_be_written_as_toml_times() -> None:
    text = SMALL_EVENT.replace('start = "09:00"', "start = 09:00:00")
    text = text.replace('at = "10:30"', "at = 10:30:00")
    assert event(text) == event()


def test_wishes_in_rows_are_read() -> None:
    text = SMALL_EVENT.replace(
        "[wishes]\n",
        '[wishes]\nwaves = [["open"]]\n'
        'rests = [{ before = "w1", after = "w1", rest = "45 min" }]\n'
        'judges = [{ from = "10:00", until = "11:00", judges = 3 }]\n'
        'locks = [{ workout = "w1", team = "T1", at = "09:30", lane = 2 }]\n'
        'team_hours = [{ team = "T1", until = "11:30" }]\n'
        'apart = [{ teams = ["T1", "T2"], gap = "5 min" }]\n',
    )
    read = event(text).wishes
    assert read.waves == (("open",),)
    assert read.rest_between_s("w1", "w1") == 2700
    assert (read.judge_spells[0].from_s, read.judge_spells[0].judges) == (3600, 3)
    assert (read.locks[0].team, read.locks[0].at_s, read.locks[0].lane) == ("T1", 1800, 2)
    assert read.team_hours[0].until_s == 9000
    assert (read.apart[0].teams, read.apart[0].gap_s) == (("T1", "T2"), 300)


@pytest.mark.parametrize(
    ("row", "rule"),
    [
        (f"waves = {HERE}[5]", "toml.no_texts"),
        (f'apart = [{{ teams = {HERE}["T1"] }}]', "wishes.apart_one_team"),
        (
            f'rests = [{{ before = "w1", after = {HERE}"w9", rest = "5 min" }}]',
            "wishes.name_unknown",
        ),
        (f'locks = [{{ team = "T1", at = {HERE}"9.30" }}]', "toml.no_clock"),
    ],
)
def test_a_fault_of_a_wish_in_a_row_is_placed(row: str, rule: str) -> None:
    text, line, column = marked(SMALL_EVENT.replace("[wishes]\n", f"[wishes]\n{row}\n"))
    findings = refused(read_event, text.encode(), "day.toml")
    assert (rule, line, str(column)) in places(findings)


def test_rules_and_wishes_are_read() -> None:
    text = changed("[rules]\n", '[rules]\nshort_handed = "ranked"\nappeal_window = "10 min"\n')
    text = text.replace(
        "[wishes]\n",
        '[rules.points]\nkind = "table"\ntable = [100, 87.5, 75]\n[wishes]\njudges_at_once = 9\n'
        'changeover = { same = "90 s", workout = "12:00" }\norder = "neighbours"\n',
    )
    read = event(text)
    assert (read.rules.short_handed, read.rules.appeal_window_s) == ("ranked", 600)
    assert read.rules.points.table == (Decimal(100), Decimal("87.5"), Decimal(75))
    assert (read.wishes.judges_at_once, read.wishes.order) == (9, "neighbours")
    assert (read.wishes.changeover_same_s, read.wishes.changeover_workout_s) == (90, 720)
    assert read.wishes.changeover_division_s == 300


def test_a_byte_order_mark_and_windows_line_ends_do_not_matter() -> None:
    assert read_event(b"\xef\xbb\xbf" + SMALL_EVENT.encode()) == event()
    assert read_event(SMALL_EVENT.replace("\n", "\r\n").encode()) == event()
    assert read_event(b"\xff\xfe" + SMALL_EVENT.encode("utf-16-le")) == event()


# What is changed in the small event, the mark showing where the fault is expected; the rule;
# and a piece of the sentence that names the mend.
TASK = 'movement = "thruster"\n'
ONE_FAULT = [
    ("format = 1", f"format = {HERE}2", "toml.other_format", "newer Callroom"),
    ("name = \"A small day\"", f"{HERE}nam = \"A small day\"", "toml.key_unknown_near", 'mean "name"'),
    ('id = "small"', f'id = "small"\n{HERE}qqq = 1', "toml.key_unknown", "Remove it"),
    ('start = "09:00"', f'start = "09:00"\nvenue = {HERE}7', "toml.no_text", "quotation"),
    ('start = "09:00"', f'start = "09:00"\nvenue = {HERE}" "', "toml.text_empty", "leave the key out"),
    ('"A small day"', f'{HERE}"{"x" * 90}"', "toml.text_long", "at most 80"),
    ('"A small day"', f'{HERE}"A small\\u202Eday"', "toml.text_unseen", "U+202E"),
    ('"A small day"', f'{HERE}"A small\\nday"', "toml.text_unseen", "U+000A"),
    ('"small"', f'{HERE}"a/b"', "toml.id_form", "letters"),
    ("2027-03-13", f'{HERE}"13 March"', "toml.no_date", "2027-05-15"),
    ("2027-03-13", f"{HERE}2027-03-13 10:00:00", "toml.no_date", "2027-05-15"),
    ("2027-03-13", f"{HERE}0001-01-01", "toml.day_far", "2000 and 2100"),
    ("2027-03-13", f"{HERE}9999-12-31", "toml.day_far", "2000 and 2100"),
    ('"Europe/Berlin"', f'{HERE}"Europe/Berlim"', "toml.no_zone", "Europe/Berlin"),
    ('start = "09:00"', f'start = {HERE}"9 am"', "toml.no_clock", "09:30"),
    ('start = "09:00"', f"start = {HERE}9", "toml.no_clock", "09:30"),
    ('start = "09:00"', f'start = "09:00"\ncurrency = {HERE}"euro"', "toml.currency_form", "EUR"),
    ('start = "09:00"', f'start = "09:00"\nlanguage = {HERE}"English"', "toml.language_form", "en"),
    ('start = "09:00"', f'start = "09:00"\nmass_unit = {HERE}"kgs"', "toml.choice_near", '"kg"'),
    ('start = "09:00"', f'start = "09:00"\ninvented = {HERE}"yes"', "toml.no_flag", "true or false"),
    ('men = "Men"', f'men = "Men"\n{HERE}all = "All"', "toml.category_form", "small letters"),
    ("[divisions.open]", f"{HERE}[divisions.women]", "toml.division_is_category", "another one"),
    ("[divisions.open]", f"{HERE}[divisions.\"open mixed\"]", "toml.id_form", "letters"),
    ("women = 1", f"{HERE}woman = 1", "toml.no_category", "men, women"),
    ("men = 1 }", f"men = {HERE}0 }}", "toml.bounds", "1 to 26"),
    ("men = 1 }", f"men = {HERE}1.5 }}", "toml.no_whole", "whole number"),
    ("men = 1 }", f"men = {HERE}true }}", "toml.no_whole", "whole number"),
    ("team = { women = 1, men = 1 }", f"team = {HERE}{{ women = 14, men = 14 }}", "toml.team_large", "26"),
    ("lanes = 4", f"lanes = 4\nheld_lanes = {HERE}4", "toml.no_wholes", "[1, 2]"),
    ("lanes = 4", f'lanes = 4\nheld_lanes = [1, {HERE}"4"]', "toml.no_whole", "whole number"),
    ("lanes = 4", f"lanes = 4\nheld_lanes = {HERE}[5]", "floor.held_lane_unknown", "1 to 4"),
    ('floor = "main"', f'floor = {HERE}"mian"', "workout.floor_unknown", "mian"),
    ('result = "time"', f'result = {HERE}"reps"', "toml.choice", "time, work, load, distance"),
    ('cap = "10:00"', f'cap = {HERE}"10"', "toml.no_duration", "12:00"),
    ('cap = "10:00"', f"cap = {HERE}10", "toml.no_duration", "12:00"),
    ('cap = "10:00"', f'cap = {HERE}"1:75:00"', "toml.no_duration", "12:00"),
    ('cap = "10:00"', f'cap = {HERE}"1.5 s"', "toml.duration_split", "whole seconds"),
    ('cap = "10:00"', f'cap = {HERE}"200 h"', "toml.duration_long", "168:00:00"),
    ('cap = "10:00"', f'cap = {HERE}"0 s"', "part.cap_not_positive", "length"),
    ('cap = "10:00"', f'cap = "10:00"\nworth = {HERE}"most"', "toml.worth", "half"),
    ('cap = "10:00"', f'cap = "10:00"\ntiebreak = {HERE}"row"', "tiebreak.unknown", "row"),
    ('cap = "10:00"', f'cap = "10:00"\nrelease = {HERE}[1]', "toml.no_clock", "09:30"),
    ("[[workouts.w1.blocks]]", f"[[workouts.w1.blocks]]\nrounds = {HERE}0", "toml.bounds", "1 to"),
    ("[[workouts.w1.blocks]]", f"[[workouts.w1.blocks]]\nopen_ended = true\nrounds = {HERE}3", "toml.rounds_and_open", "one of the two"),
    (TASK, TASK + f"{HERE}calories = 5\n", "toml.amounts_many", "Keep one"),
    ("reps = [21, 15, 9]\nloads", f"reps = {HERE}[]\nloads", "toml.list_empty", "leave it out"),
    ("reps = [21, 15, 9]\nloads", f"reps = [21, 15, {HERE}-9]\nloads", "toml.bounds", "1 to"),
    ("reps = [21, 15, 9]\nloads", f'reps = {HERE}"many"\nloads', "toml.no_whole", "whole number"),
    (TASK, TASK + f'who = {HERE}"womem"\n', "toml.who_near", '"women"'),
    (TASK, TASK + f'who = {HERE}"the two captains"\n', "toml.who", "A, B"),
    ("reps = [21, 15, 9]\nloads", f"reps = {HERE}[21, 15]\nloads", "task.amounts_wrong_count", "3"),
    (TASK, TASK + f'switch = {HERE}"sometimes"\n', "toml.choice", "every 5"),
    (TASK, TASK + f"least_each = {HERE}5\n", "task.least_share_too_big", "5"),
    (TASK, TASK + f'id = {HERE}"b1"\n', "toml.id_twice", "another id"),
    ('women = "29 kg / 65 lb"', f'women = {HERE}"29"', "toml.no_load", "43 kg / 95 lb"),
    ('women = "29 kg / 65 lb"', f'women = {HERE}"29 kg / 30 kg"', "toml.no_load", "43 kg / 95 lb"),
    ('women = "29 kg / 65 lb"', f"women = {HERE}29", "toml.no_load", "43 kg / 95 lb"),
    ('women = "29 kg / 65 lb"', f'{HERE}woman = "29 kg"', "toml.load_for_near", '"women"'),
    ('women = "29 kg / 65 lb"', f'women = "29 kg", {HERE}xyz = "1 kg"', "toml.load_for", "all, men, open, women"),
    ('women = "29 kg / 65 lb"', f'women = "29 kg", open = {{ {HERE}mem = "1 kg" }}', "toml.load_for_near", '"men"'),
    (TASK, TASK + f'heights = {HERE}"high"\n', "toml.no_height", "60 cm / 24 in"),
    ('["most_firsts"]', f'{HERE}["most_wins"]', "rules.tie_item_unknown", "most_wins"),
    ('["most_firsts"]', f'{HERE}"most_firsts"', "toml.no_texts", "list of texts"),
    ("[rules]", f"[rules]\npoints = {HERE}5", "toml.no_table", "its keys below it"),
    ("[rules]", f"[rules]\npoints = {{ first = {HERE}nan }}", "toml.number_odd", "16 digits"),
    ("[rules]", f"[rules]\npoints = {{ first = {HERE}1e999999999 }}", "toml.number_odd", "16 digits"),
    ("[rules]", f'[rules]\npoints = {{ first = {HERE}"100" }}', "toml.no_number", "without quotation"),
    ("[rules]", f'[rules]\n{HERE}points = {{ kind = "table" }}', "toml.key_missing", '"table"'),
    ("[rules]", f"[rules]\npoints = {{ table = {HERE}5 }}", "toml.no_numbers", "list"),
    ("[rules]", f'[rules]\nappeal_window = {HERE}"soon"', "toml.no_duration", "12:00"),
    ('finish_by = "12:00"', f'finish_by = {HERE}"09:10"', "wishes.finish_before_first_heat", ""),
    ('at = "10:30"', f'at = {HERE}"10.30"', "toml.no_clock", "09:30"),
    ('at = "10:30"', f"at = {HERE}10:30:00.5", "toml.no_clock", "09:30"),
    ('at = "10:30"', f"at = {HERE}0001-01-01 00:00:00", "toml.no_clock", "09:30"),
    ('length = "30 min"', f'length = "30 min"\nfloors = {HERE}["yard"]', "wishes.pause_floor_unknown", "yard"),
    ('length = "30 min"', f'length = {HERE}"0 min"', "wishes.pause_without_length", ""),
    ("[wishes.pauses.lunch]", f"{HERE}[wishes.pauses.\"late lunch\"]", "toml.id_form", "letters"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "rule", "mend"), ONE_FAULT, ids=lambda given: given)
def test_a_fault_is_placed_and_the_mend_is_named(old: str, new: str, rule: str, mend: str) -> None:
    text, row, column = marked(changed(old, new))
    findings = refused(read_event, text.encode(), "day.toml")
    assert (rule, row, str(column)) in places(findings)
    found = next(one for one in findings if one.rule == rule)
    assert found.source == f"day.toml:{row}:{column}"
    said = sentence(found)
    assert said.startswith(f"day.toml, line {row}, column {column}: ")
    assert mend in said


MISSING = [
    ('id = "small"\n', "[event]", "id"),
    ("day = 2027-03-13\n", "[event]", "day"),
    ('zone = "Europe/Berlin"\n', "[event]", "zone"),
    ('name = "Open"\n', "[divisions.open]", "name"),
    ("team = { women = 1, men = 1 }\n", "[divisions.open]", "team"),
    ("lanes = 4\n", "[floors.main]", "lanes"),
    ('floor = "main"\n', "[workouts.w1]", "floor"),
    ('cap = "10:00"\n', "[workouts.w1]", "cap"),
    ('movement = "thruster"\n', "[[workouts.w1.blocks.tasks]]", "movement"),
    ('at = "10:30"\n', "[wishes.pauses.lunch]", "at"),
]


@pytest.mark.parametrize(("line", "table", "key"), MISSING, ids=lambda given: given)
def test_a_missing_key_is_placed_at_its_table(line: str, table: str, key: str) -> None:
    text = changed(line, "")
    row = text.split("\n").index(table) + 1
    findings = refused(read_event, text.encode())
    assert places(findings) == [("toml.key_missing", row, "1")]
    assert sentence(findings[0]).endswith(f'"{key}" is missing. Add it.')


def test_a_task_without_an_amount_says_which_amounts_there_are() -> None:
    text = changed("reps = [21, 15, 9]\n", "")
    row = text.split("\n").index("[[workouts.w1.blocks.tasks]]") + 1
    findings = refused(read_event, text.encode())
    assert ("toml.amount_missing", row, "1") in places(findings)


@pytest.mark.parametrize("table", ["event", "categories", "divisions", "floors", "workouts"])
def test_a_missing_table_is_one_fault(table: str) -> None:
    lines = SMALL_EVENT.split("\n\n")
    kept = [part for part in lines if not part.lstrip("[").startswith(table)]
    rules = places(refused(read_event, "\n\n".join(kept).encode()))
    assert [rule for rule, _, _ in rules].count("toml.key_missing") == 1
    assert rules[0][0] == "toml.key_missing"


def test_keys_of_a_part_do_not_stand_beside_parts() -> None:
    text, row, column = marked(
        SMALL_EVENT.partition('result = "time"')[0]
        + f"""{HERE}cap = "9:00"
[workouts.w1.parts.a]
result = "work"
cap = "4:00"
[[workouts.w1.parts.a.blocks]]
tasks = [{{ movement = "row", calories = 5 }}]
"""
    )
    findings = refused(read_event, text.encode())
    assert places(findings) == [("toml.belongs_in_part", row, str(column))]


def test_times_that_the_clocks_skip_or_repeat_are_refused() -> None:
    # Source: IANA zone Europe/Berlin, forward on 28 March and back on 31 October 2027.
    for day, rule in (("2027-03-28", "toml.clock_absent"), ("2027-10-31", "toml.clock_doubled")):
        text = SMALL_EVENT.replace("2027-03-13", day).replace("09:00", "02:30")
        rules = [found.rule for found in refused(read_event, text.encode())]
        assert rules[0] == rule


def test_a_repeated_time_can_be_given_in_utc() -> None:
    text = SMALL_EVENT.replace("2027-03-13", "2027-10-31")
    text = text.replace('floor = "main"', 'floor = "main"\nrelease = 2027-10-31 01:30:00Z')
    assert event(text).workouts[0].release_s == int(-6.5 * 3600)


def test_every_fault_comes_at_once() -> None:
    text = SMALL_EVENT
    for old, new in (
        ('cap = "10:00"', 'capp = "10:00"'),
        ("lanes = 4", "lanes = 0"),
        ('finish_by = "12:00"', 'finish_by = "noon"'),
        ('"most_firsts"', '"best_in:w9"'),
        ("women = 1,", 'women = "1",'),
        ('id = "small"\n', ""),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    findings = refused(read_event, text.encode())
    assert {found.rule for found in findings} == {
        "toml.key_missing",
        "toml.key_unknown_near",
        "toml.no_whole",
        "toml.bounds",
        "toml.no_clock",
        "rules.tie_workout_unknown",
    }
    assert all(found.facts["row"] for found in findings)


def test_a_fault_hides_no_sense_elsewhere_and_makes_none_up() -> None:
    text = changed('cap = "10:00"', 'cap = "ten"').replace('length = "30 min"', 'length = "0 s"')
    rules = [found.rule for found in refused(read_event, text.encode())]
    assert rules == ["toml.no_duration", "wishes.pause_without_length"]
