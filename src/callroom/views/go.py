"""Go or no-go: every point of the morning, each with its number and what mends it."""

from collections.abc import Iterator
from datetime import timedelta

import msgspec

from callroom.model import Fact, Finding, State, milliseconds
from callroom.model.checks import Tick
from callroom.model.finding import Severity
from callroom.model.going import GoDecision
from callroom.model.money import Counted
from callroom.views.check_in import CheckInDesk
from callroom.views.weather_watch import weather_now

COPY_IS_OLD_MS = 2 * 60_000
"""A rolling copy is made every half minute at least."""

CLOCK_OFF_MS = 500
LEAST_DISK_MB = 1_000
MORNING_MS = int(timedelta(hours=12).total_seconds() * 1000)
"""What somebody looked at counts for so long before the day begins."""


class SeenNow(msgspec.Struct, frozen=True, kw_only=True):
    """What the server knows and the book does not.

    Attributes
    ----------
    now_ms
        The time [ms, UTC].
    kit_short
        What the kit of the plan lacks; None: that is still being worked out.
    safety_open
        Points of the safety plan that are not settled.
    address
        Where cards and codes lead phones; empty: nowhere was said.
    phone_ms
        When another machine last opened a page there [ms, UTC]; None: none did.
    clocks_off
        Devices seen whose clock may be wrong by more than half a second.
    devices
        Devices seen since the server began.
    copy_ms
        When the copy for another laptop was made [ms, UTC]; None: none is kept.
    copy_failing
        Why the last try did not succeed; empty: it did.
    disk_mb
        What is free on the disk of the book [MB]; None: it is in a database.
    """

    now_ms: int
    kit_short: int | None = None
    safety_open: int = 0
    address: str = ""
    phone_ms: int | None = None
    clocks_off: int = 0
    devices: int = 0
    copy_ms: int | None = None
    copy_failing: str = ""
    disk_mb: int | None = None


class GoPoint(msgspec.Struct, frozen=True, kw_only=True):
    """One line: what was found, and where it is mended.

    `said` has the rule and facts of its sentence; ``note``: green. `confirm` is the point of the
    checklists that somebody ticks who looked; empty: nobody needs to. `confirmed` by whom.
    """

    id: str
    said: Finding
    link: str
    confirm: str = ""
    confirmed: Tick | None = None

    @property
    def green(self) -> bool:
        """Whether nothing is left to do."""
        return self.said.severity == "note"


class GoPage(msgspec.Struct, frozen=True, kw_only=True):
    """The morning's page: the points, and what was decided so far, the last first."""

    points: tuple[GoPoint, ...]
    decisions: tuple[GoDecision, ...]

    @property
    def open(self) -> tuple[str, ...]:
        """The ids of the points that ask for attention."""
        return tuple(one.id for one in self.points if not one.green)


def go_page(state: State, desk: CheckInDesk, seen: SeenNow) -> GoPage:
    """Return the points of the morning, and the decisions that stand."""
    points = (
        *_plan(state),
        *_crew(state),
        *_kit(state, seen),
        *_teams(desk),
        *_sheets(state, seen),
        *_safety(state, seen),
        *_machine(seen),
        *_money(state),
        *_power(state, seen),
    )
    return GoPage(points=points, decisions=state.go_decisions[::-1])


def sheets_check(state: State) -> str:
    """Return the point by which somebody says that the sheets laid out are these of this plan."""
    revision = state.plan.revision if state.plan is not None else 0
    return f"go/sheets/{revision}-{len(state.amendments)}"


def _plan(state: State) -> Iterator[GoPoint]:
    if state.plan is None:
        yield _point("plan", "plan_none", "warning", "/director/plan")
        return
    yield _point("plan", "plan_ok", "note", "/director/plan", revision=state.plan.revision)


def _crew(state: State) -> Iterator[GoPoint]:
    rota, plan = state.rota, state.plan
    if rota is None or plan is None:
        yield _point("judges", "rota_none", "warning", "/director/rota")
        return
    if rota.plan_revision != plan.revision:
        yield _point(
            "judges",
            "rota_old",
            "warning",
            "/director/rota",
            revision=rota.plan_revision,
            plan=plan.revision,
        )
        return
    without = rota.open_shifts()
    lanes = sum(one.post == "judge" for one in without)
    yield _counted("judges", "judges", lanes, "/director/rota")
    yield _counted("posts", "posts", len(without) - lanes, "/director/rota")


def _kit(state: State, seen: SeenNow) -> Iterator[GoPoint]:
    if state.plan is None:
        return
    if seen.kit_short is None:
        yield _point("kit", "kit_waits", "warning", "/director/kit")
    else:
        yield _counted("kit", "kit", seen.kit_short, "/director/kit")


def _teams(desk: CheckInDesk) -> Iterator[GoPoint]:
    teams = [one.open for one in desk.teams]
    signatures = sum(one.consents_missing + one.guardians_missing for one in teams)
    yield _counted("consents", "consents", signatures, "/director/teams?only=open")
    unpaid = sum(bool(one.owed) for one in teams)
    yield _counted("payments", "payments", unpaid, "/director/money/entries")
    short = sum(bool(one.places_open) for one in teams)
    yield _counted("line_ups", "line_ups", short, "/director/teams?only=open")
    unplanned = sum(one.first is None for one in desk.teams)
    yield _counted("no_heat", "no_heat", unplanned, "/director/plan")


def _sheets(state: State, seen: SeenNow) -> Iterator[GoPoint]:
    if state.plan is not None:
        facts = {"revision": state.plan.revision, "amendments": len(state.amendments)}
        yield _looked(state, seen, "sheets", sheets_check(state), "/director/files", **facts)


def _safety(state: State, seen: SeenNow) -> Iterator[GoPoint]:
    yield _looked(
        state,
        seen,
        "first_aid",
        "go/first-aid",
        "/director/safety",
        count=state.safety.first_aiders,
    )
    yield _looked(
        state, seen, "exits", "go/exits", "/director/safety", count=len(state.safety.exits)
    )
    yield _counted("safety", "safety", seen.safety_open, "/director/safety")
    told = weather_now(state, state.event, seen.now_ms) if state.event is not None else ()
    alarming = sum(one.alarming for one in told)
    outdoors = state.event is not None and any(one.outdoor for one in state.event.floors)
    if told or outdoors:
        rule = "weather_none" if not told else ("weather" if alarming else "weather_ok")
        severity: Severity = "note" if told and not alarming else "warning"
        yield _point("weather", rule, severity, "/safety/weather", count=alarming)


def _machine(seen: SeenNow) -> Iterator[GoPoint]:
    if not seen.address:
        yield _point("phone", "phone_nowhere", "warning", "/director/devices")
    elif seen.phone_ms is None or seen.now_ms - seen.phone_ms > MORNING_MS:
        yield _point("phone", "phone", "warning", "/director/devices", address=seen.address)
    else:
        yield _point("phone", "phone_ok", "note", "/director/devices", address=seen.address)
    off: Severity = "warning" if seen.clocks_off else "note"
    rule = "clocks" if seen.clocks_off else "clocks_ok"
    facts = {"count": seen.clocks_off, "devices": seen.devices}
    yield _point("clocks", rule, off, "/director/devices", **facts)
    yield _copy(seen)
    if seen.disk_mb is not None:
        full = seen.disk_mb < LEAST_DISK_MB
        rule = "disk" if full else "disk_ok"
        yield _point("disk", rule, "warning" if full else "note", "", mb=seen.disk_mb)


def _copy(seen: SeenNow) -> GoPoint:
    link = "/director/standby"
    if seen.copy_ms is None and not seen.copy_failing:
        return _point("copy", "copy_none", "warning", link)
    if seen.copy_failing or seen.copy_ms is None:
        return _point("copy", "copy_failing", "warning", link, reason=seen.copy_failing)
    age_ms = max(0, seen.now_ms - seen.copy_ms)
    old = age_ms > COPY_IS_OLD_MS
    rule = "copy_old" if old else "copy_ok"
    return _point("copy", rule, "warning" if old else "note", link, age_s=age_ms // 1000)


def _money(state: State) -> Iterator[GoPoint]:
    tills = [one.id for one in state.budget.places if one.sort == "cash"] if state.budget else []
    if not tills or state.event is None:
        return
    counted = {
        one.deed.place
        for one in state.bookings.values()
        if one.stands and isinstance(one.deed, Counted) and one.deed.day == state.event.day
    }
    left = sum(one not in counted for one in tills)
    yield _counted("floats", "floats", left, "/director/money/book/counted")


def _power(state: State, seen: SeenNow) -> Iterator[GoPoint]:
    yield _looked(state, seen, "power", "go/power", "")


def _looked(
    state: State, seen: SeenNow, point: str, check: str, link: str, **facts: Fact
) -> GoPoint:
    """Return a point that is green once somebody ticked it on the morning of the day."""
    tick = state.ticks.get(check)
    event = state.event
    from_ms = milliseconds(event.starts_at) - MORNING_MS if event is not None else 0
    # Before the morning a tick stands for as long as itself: the page can be tried out.
    fresh = tick if tick is not None and (tick.at_ms >= from_ms or seen.now_ms < from_ms) else None
    rule = f"{point}_ok" if fresh is not None else point
    made = _point(point, rule, "note" if fresh is not None else "warning", link, **facts)
    return msgspec.structs.replace(made, confirm=check, confirmed=fresh)


def _counted(point: str, rule: str, count: int, link: str) -> GoPoint:
    severity: Severity = "warning" if count else "note"
    return _point(point, rule if count else f"{rule}_ok", severity, link, count=count)


def _point(point: str, rule: str, severity: Severity, link: str, **facts: Fact) -> GoPoint:
    said = Finding(rule=f"go.{rule}", severity=severity, subject=f"go.{point}", facts=facts)
    return GoPoint(id=point, said=said, link=link)
