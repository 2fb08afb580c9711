"""Folding of what is decided about a plan in force: its repair, what is lost, the rota."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.journal.fold.setup import plan_changed
from callroom.model import Loss, PlanRepair


def plan_repaired(build: Builder, entry: Entry, body: bodies.PlanRepaired) -> None:
    """Change some heats of the plan, and keep the plan before, for who must be told what."""
    if build.plan is None:
        return
    repair = PlanRepair(
        revision=body.revision,
        seq=entry.seq,
        at_ms=entry.at_ms,
        why=body.why,
        before=build.plan,
        rota_before=build.rota,
    )
    build.repairs.put(str(body.revision), repair)
    plan_changed(build, entry, body)


def plan_frozen(build: Builder, _entry: Entry, _body: bodies.PlanFrozen) -> None:
    """Freeze the plan in force."""
    _freeze(build, frozen=True)


def plan_thawed(build: Builder, _entry: Entry, _body: bodies.PlanThawed) -> None:
    """Let the plan in force be planned anew."""
    _freeze(build, frozen=False)


def _freeze(build: Builder, *, frozen: bool) -> None:
    if build.plan_told is not None:
        build.plan_told = replace(build.plan_told, frozen=frozen)
    build.touch("plan")


def loss_noted(build: Builder, entry: Entry, body: bodies.LossNoted) -> None:
    """Give a loss the next number; none is ever taken out, so no number comes twice."""
    loss = Loss(
        number=1 + len(build.losses.view),
        seq=entry.seq,
        at_ms=entry.at_ms,
        kind=body.kind,
        floor=body.floor,
        lane=body.lane,
        workout=body.workout,
        left=body.left,
        ready_s=body.ready_s,
        why=body.why,
    )
    build.losses.put(str(loss.number), loss)
    build.touch(f"loss:{loss.number}", "losses")


def loss_over(build: Builder, _entry: Entry, body: bodies.LossOver) -> None:
    """Mark a loss as over."""
    loss = build.losses.get(str(body.number))
    if loss is not None:
        build.losses.put(str(body.number), replace(loss, over=True))
    build.touch(f"loss:{body.number}", "losses")


def rota_published(build: Builder, _entry: Entry, body: bodies.RotaPublished) -> None:
    """Replace the rota and its rules."""
    build.rota, build.rota_rules = body.rota, body.rules
    build.touch("rota")


def rota_changed(build: Builder, _entry: Entry, body: bodies.RotaChanged) -> None:
    """Let shifts change hands."""
    if build.rota is not None:
        build.rota = build.rota.with_duties(body.duties)
        build.touch("rota")
