"""What the director decides about a plan in force, each as the request it makes."""

from collections.abc import Mapping

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import CrewMember, Duty, Loss, LossKind, Plan, Rota, RotaRules

__all__ = [
    "change_rota",
    "end_loss",
    "freeze_plan",
    "note_loss",
    "publish_plan_with_rota",
    "publish_rota",
    "repair_plan",
    "thaw_plan",
]


def freeze_plan(revision: int) -> Request:
    """Keep the plan as it is from now on, but for what the day does to it."""
    return propose(bodies.PlanFrozen(revision=revision))


def thaw_plan(revision: int, reason: str) -> Request:
    """Let the plan be planned anew."""
    return propose(bodies.PlanThawed(revision=revision, reason=reason))


def repair_plan(before: Plan, after: Plan, why: str, rota: Request | None = None) -> Request:
    """Tell everyone how the day goes on; `rota` comes with it, all or none.

    Only the heats that differ are written.
    """
    was = {heat.id: heat for heat in before.heats}
    will = {heat.id for heat in after.heats}
    body = bodies.PlanRepaired(
        revision=after.revision,
        why=why,
        heats=tuple(heat for heat in after.heats if was.get(heat.id) != heat),
        removed=tuple(heat.id for heat in before.heats if heat.id not in will),
    )
    return propose(body, *(rota.proposals if rota is not None else ()))


def note_loss(
    kind: LossKind,
    why: str,
    *,
    floor: str = "",
    lane: int | None = None,
    workout: str = "",
    left: int | None = None,
    ready_s: int | None = None,
) -> Request:
    """Say what the day has to do without; see :class:`~callroom.model.Loss`."""
    return propose(
        bodies.LossNoted(
            kind=kind, why=why, floor=floor, lane=lane, workout=workout, left=left, ready_s=ready_s
        )
    )


def end_loss(loss: Loss) -> Request:
    """Say that it is there again."""
    return propose(bodies.LossOver(number=loss.number))


def publish_rota(rota: Rota, rules: RotaRules, basis: Mapping[str, int] | None = None) -> Request:
    """Tell the crew who does what."""
    return propose(bodies.RotaPublished(rota=rota, rules=rules), basis=basis)


def publish_plan_with_rota(plan: Plan, rota: Rota, rules: RotaRules) -> Request:
    """Tell everyone this plan, and the crew who does what in it: both or neither."""
    return propose(bodies.PlanPublished(plan=plan), bodies.RotaPublished(rota=rota, rules=rules))


def change_rota(
    duties: tuple[Duty, ...], why: str, members: tuple[CrewMember, ...] = ()
) -> Request:
    """Let shifts change hands, because (`members`) somebody is not there as long as they said."""
    told = tuple(bodies.CrewSet(member=member) for member in members)
    return propose(*told, bodies.RotaChanged(duties=duties, why=why))
