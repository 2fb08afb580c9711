"""From touches to a tally, to what is noted at once, and to the log that travels along."""

import json
from typing import Any

from tests.frontend.running import evaluate

ZERO = 10_000


def step(task: str, counts: int, **changed: Any) -> dict[str, Any]:
    return {
        "task": task, "round_number": 1, "strand": 0, "says": task, "minds": [], "counts": counts,
        "mark": 1, "unit": "reps", "carried": False, "split": False,
    } | changed  # fmt: skip


RUN = step("run", 4, mark=25, unit="metres", carried=True, split=True)
PART = {
    "id": "a", "name": "A", "kind": "time", "cap_ms": 600_000, "starts_ms": 0, "total": 14,
    "rounds": [{"block": "b", "name": "", "number": 1, "of": 1, "repeats": False,
                "steps": [step("squat", 10), RUN]}],
    "lifts": [], "split_wanted": True, "split_each_round": False,
}  # fmt: skip
PAD = {"heat": "w1-1", "workout": "w1", "team": "T1", "lane": 2, "attempt": 1, "amendment": 0}

MARKS: list[dict[str, Any]] = [
    {"does": "count", "at": ZERO + 1_000, "n": 5, "strand": 0},
    {"does": "norep", "at": ZERO + 2_000, "task": "squat", "reason": "Not deep enough",
     "cost": "repetition"},
    {"does": "fill", "at": ZERO + 9_000, "task": "squat", "rounds_done": 0, "strand": 0},
    {"does": "hand", "at": ZERO + 9_500, "task": "run", "place": "A"},
    {"does": "count", "at": ZERO + 20_000, "n": 1, "strand": 0},
    {"does": "norep", "at": ZERO + 21_000, "task": "run", "reason": "", "cost": "stretch"},
    {"does": "hand", "at": ZERO + 22_000, "task": "run", "place": "B"},
    {"does": "judge", "at": ZERO + 25_000},
    {"does": "count", "at": ZERO + 60_000, "n": 3, "strand": 0},
    {"does": "finish", "at": ZERO + 61_500},
]  # fmt: skip


def tally(marks: list[dict[str, Any]]) -> Any:
    given = f"it.fold({json.dumps(PART)}, {json.dumps(marks)})"
    return evaluate(
        "pad/tally.ts",
        f"(() => {{ const t = {given}; return {{ ...t, no_reps: [...t.no_reps], "
        f"total: it.total(t), metres: it.metres(t) }}; }})()",
    )


def notes(before: list[dict[str, Any]], after: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
    given = ", ".join(json.dumps(one) for one in (PAD, PART, before, after))
    said = evaluate("pad/notes.ts", f"it.notesOf({given}, {ZERO})")
    sent = [json.loads(one) for one in said]
    assert {one["kind"] for one in sent} <= {"lane.noted"}
    data = [one["data"] for one in sent]
    return [(one["what"], one["mark"], one["task"], one["said"]) for one in data]


def report(marks: list[dict[str, Any]]) -> Any:
    given = ", ".join(json.dumps(one) for one in (PAD, PART, marks, ZERO, True))
    return evaluate("pad/report.ts", f"it.reportOf({given})")


def test_a_fault_counts_nothing_and_says_what_it_costs() -> None:
    after = tally(MARKS[:6])
    assert (after["total"], after["fault"]) == (11, "stretch")
    assert tally(MARKS[:7])["fault"] is None
    assert dict(after["no_reps"]) == {"squat\nNot deep enough": 1, "run\n": 1}


def test_the_object_is_followed_from_hand_to_hand() -> None:
    first = tally(MARKS[:4])
    assert (first["carrier"], first["handed"]) == ("A", 0)
    second = tally(MARKS[:7])
    assert (second["carrier"], second["handed"]) == ("B", 1)


def test_the_last_mark_of_the_run_stamps_the_split() -> None:
    assert tally(MARKS[:8])["split"] is None
    assert tally(MARKS)["split"] == ZERO + 60_000


def test_what_is_worth_telling_is_noted_and_counts_are_not() -> None:
    told = [notes(MARKS[:size], MARKS[: size + 1]) for size in range(len(MARKS))]
    assert told == [
        [],
        [("no_rep", 1, "squat", "Not deep enough")],
        [],
        [("object", 3, "run", "A")],
        [],
        [("no_rep", 5, "run", "")],
        [("object", 6, "run", "B")],
        [("judge", 7, "", "")],
        [("split", 8, "", "")],
        [("finish", 9, "", "")],
    ]


def test_an_undo_takes_back_what_was_noted_and_nothing_else() -> None:
    assert notes(MARKS, MARKS[:-1]) == [("taken_back", 9, "", "")]
    assert notes(MARKS[:9], MARKS[:8]) == [("taken_back", 8, "", "")]
    assert notes(MARKS[:1], []) == []
    # A start that did not count takes all of it back.
    assert [mark for _, mark, _, _ in notes(MARKS, [])] == [1, 3, 5, 6, 7, 8, 9]


def test_the_report_brings_the_time_the_no_reps_and_every_touch() -> None:
    said = report(MARKS)
    assert said["result"] == {"outcome": "finished", "time_ms": 61_500, "tiebreak_ms": 60_000}
    assert said["no_reps"] == [
        {"task": "squat", "count": 1, "reason": "Not deep enough"},
        {"task": "run", "count": 1, "reason": ""},
    ]
    assert said["log"] == [
        [1_000, "count", 5, "", ""],
        [2_000, "no_rep", 0, "squat", "Not deep enough"],
        [9_000, "fill", 5, "squat", ""],
        [9_500, "object", 0, "run", "A"],
        [20_000, "count", 1, "", ""],
        [21_000, "no_rep", 0, "run", ""],
        [22_000, "object", 0, "run", "B"],
        [25_000, "judge", 0, "", ""],
        [60_000, "count", 3, "", ""],
        [61_500, "finish", 0, "", ""],
    ]


def test_a_time_read_from_the_halls_clock_counts_as_typed() -> None:
    typed = [*MARKS[:-1], {"does": "finish", "at": ZERO + 90_000, "time_ms": 62_000}]
    assert report(typed)["result"]["time_ms"] == 62_000


def test_times_are_read_as_people_type_them() -> None:
    given = ["7:32", "732", "45", "7:32.4", "12:05,25", "7:62", "", "x", "123456"]
    read = evaluate("pad/more.ts", f"{json.dumps(given)}.map(it.readTime)")
    assert read == [452_000, 452_000, 45_000, 452_400, 725_250, None, None, None, None]
