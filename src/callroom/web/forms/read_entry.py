"""From a posted entry form to results, or every fault with the field it concerns."""

import msgspec

from callroom.model import BadInput, CallroomError, Division, Fact, Finding, Lift, Part, Result
from callroom.model.mass import MassUnit
from callroom.model.score import Outcome
from callroom.model.steps import rounds_and_counts
from callroom.web.forms.entry import EntryForm, PartEntry
from callroom.web.forms.posted import Posted
from callroom.web.forms.typed import read_count, read_mass, read_time_ms

_ENDINGS: dict[str, Outcome] = {"did_not_start": "did_not_start", "withdrew": "withdrew"}


class PartResult(msgspec.Struct, frozen=True, kw_only=True):
    """The result that was typed for one part."""

    part: str
    result: Result


def read_entry(
    form: EntryForm,
    posted: Posted,
    division: Division,
    *,
    need_all: bool = False,
    asking: bool = False,
) -> tuple[PartResult, ...]:
    """Return the result of every part in which something was typed.

    Parameters
    ----------
    need_all
        A part in which nothing was typed is a fault, not left for later.
    asking
        What is past the cap, or more than there is to do, is read all the same: it will be
        asked about.

    Raises
    ------
    BadInput
        With every fault; a finding's subject is the name of its field.
    """
    faults: list[Finding] = []
    results = []
    for entry in form.parts:
        reader = _Reader(entry, posted, form.unit, division, faults, asking=asking)
        result = reader.result()
        if result is not None:
            results.append(PartResult(part=entry.view.ref.part, result=result))
        elif need_all:
            reader.fault("ending", "entry.empty")
    if not results and not faults:
        first = form.parts[0]
        faults.append(_finding(first.name(_main_field(first)), "entry.empty"))
    if faults:
        raise BadInput(tuple(faults))
    return tuple(results)


class _Reader:
    """Reads one part's fields; notes faults and goes on."""

    def __init__(
        self,
        entry: PartEntry,
        posted: Posted,
        unit: MassUnit,
        division: Division,
        faults: list[Finding],
        *,
        asking: bool,
    ) -> None:
        self._entry = entry
        self._asking = asking
        self._posted = posted
        self._unit = unit
        self._division = division
        self._faults = faults
        self._part: Part = entry.view.work.part

    def result(self) -> Result | None:
        """Return what was typed; None if nothing was, or if it is faulty."""
        before = len(self._faults)
        ending = _ENDINGS.get(self._text("ending"))
        if ending is not None:
            typed = [name for name in self._all_fields() if self._posted.text(name)]
            if typed:
                self._faults.append(_finding(typed[0], "entry.ending_and_result"))
                return None
            return Result(outcome=ending)
        result, split_ms = self._by_kind(), self._split()
        modified = self._posted.ticked(self._entry.name("modified"))
        medical_stop = self._posted.ticked(self._entry.name("medical_stop"))
        if len(self._faults) > before:
            return None
        if result is None:
            if split_ms is not None or modified or medical_stop:
                self.fault(_main_field(self._entry), "entry.result_missing")
            return None
        return msgspec.structs.replace(
            result, tiebreak_ms=split_ms, modified=modified, medical_stop=medical_stop
        )

    def _by_kind(self) -> Result | None:
        if self._part.kind == "time":
            return self._time_part()
        if self._part.kind == "work":
            return self._work_part()
        if self._part.kind == "load":
            return self._load_part()
        return self._distance_part()

    def _time_part(self) -> Result | None:
        time_ms, work = self._time("time"), self._work()
        if time_ms is not None and work is not None:
            self.fault("time", "entry.time_and_work")
            return None
        if time_ms is not None:
            cut_ms = self._cut(time_ms)
            if cut_ms > self._part.cap_s * 1000 and not self._asking:
                self.fault("time", "entry.past_cap", given_ms=cut_ms, cap_s=self._part.cap_s)
            return Result(outcome="finished", time_ms=time_ms)
        return Result(outcome="capped", work=work) if work is not None else None

    def _cut(self, time_ms: int) -> int:
        return time_ms - time_ms % self._part.resolution_ms

    def _work_part(self) -> Result | None:
        work = self._work()
        return Result(outcome="worked", work=work) if work is not None else None

    def _distance_part(self) -> Result | None:
        metres = self._count("metres")
        return Result(outcome="covered", distance_m=metres) if metres is not None else None

    def _load_part(self) -> Result | None:
        lifts = []
        for field in self._entry.lifts:
            text = self._posted.text(field.name)
            if not text:
                continue
            mass = read_mass(text, self._unit)
            if mass is None:
                self._faults.append(_finding(field.name, "entry.load_unreadable", given=text))
                continue
            good = self._posted.ticked(f"{field.name}.good")
            lifts.append(Lift(task=field.task.id, mass=mass, good=good))
        return Result(outcome="lifted", lifts=tuple(lifts)) if lifts else None

    def _split(self) -> int | None:
        split_ms = self._time("split") if self._part.tiebreak is not None else None
        late = split_ms is not None and self._cut(split_ms) > self._part.cap_s * 1000
        if late and not self._asking:
            self.fault("split", "entry.split_past_cap", given_ms=split_ms, cap_s=self._part.cap_s)
        return split_ms

    def _work(self) -> int | None:
        """Return the work done, typed as one count or as rounds and counts."""
        total = self._count("work")
        rounds, counts = self._count("rounds"), self._count("counts")
        if rounds is None and counts is None:
            return self._within(total)
        try:
            work = rounds_and_counts(self._part, self._division, rounds or 0, counts or 0)
        except CallroomError as fault:
            self._faults.append(_finding(self._entry.name("rounds"), fault.rule, **fault.facts))
            return None
        if total is not None and total != work:
            self.fault("work", "entry.rounds_differ", given=total, rounds=work)
        return self._within(work)

    def _within(self, work: int | None) -> int | None:
        most = self._entry.view.work.total
        if work is not None and most is not None and work > most and not self._asking:
            self.fault("work", "entry.more_than_all", given=work, most=most)
        return work

    def _count(self, field: str) -> int | None:
        text = self._text(field)
        if not text:
            return None
        count = read_count(text)
        if count is None:
            self.fault(field, "entry.count_unreadable", given=text)
        return count

    def _time(self, field: str) -> int | None:
        text = self._text(field)
        if not text:
            return None
        time_ms = read_time_ms(text)
        if time_ms is None:
            self.fault(field, "entry.time_unreadable", given=text)
        return time_ms

    def _text(self, field: str) -> str:
        return self._posted.text(self._entry.name(field))

    def _all_fields(self) -> list[str]:
        plain = ("time", "work", "rounds", "counts", "metres", "split")
        names = [self._entry.name(field) for field in plain]
        return names + [field.name for field in self._entry.lifts]

    def fault(self, field: str, rule: str, **facts: Fact) -> None:
        """Note what is wrong with one field."""
        self._faults.append(_finding(self._entry.name(field), rule, **facts))


def _main_field(entry: PartEntry) -> str:
    kinds = {"time": "time", "work": "work", "load": "ending", "distance": "metres"}
    return kinds[entry.view.work.kind]


def _finding(subject: str, rule: str, **facts: Fact) -> Finding:
    return Finding(rule=rule, severity="error", subject=subject, facts=facts)
