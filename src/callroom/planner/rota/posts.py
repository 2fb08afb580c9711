"""Which shifts a planned day needs."""

from collections.abc import Iterator

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.rota import PostWish, Shift
from callroom.model.team import Team

EARLY_S = 1800
"""Posts are held this long before the first heat, unless wished otherwise [s]."""
MINUTE_S = 60


def judging_shifts(event: Event, teams: dict[str, Team], plan: Plan) -> tuple[Shift, ...]:
    """Return a shift for every judge of every lane in which a team of `teams` stands."""
    found: list[Shift] = []
    for heat in plan.heats:
        judges = event.workout(heat.workout).judges_per_lane
        for place in heat.lanes:
            if place.team in teams:
                found.extend(_in_lane(heat, place.lane, judges))
    return tuple(found)


def _in_lane(heat: Heat, lane: int, judges: int) -> Iterator[Shift]:
    for seat in range(1, judges + 1):
        yield Shift(
            id=f"{heat.id}/{lane}" if judges == 1 else f"{heat.id}/{lane}/{seat}",
            post="judge",
            start_s=heat.start_s,
            end_s=heat.end_s,
            floor=heat.floor,
            heat=heat.id,
            lane=lane,
            seat=seat,
        )


def post_shifts(plan: Plan, wishes: tuple[PostWish, ...]) -> tuple[Shift, ...]:
    """Return the shifts of the posts that are held for stretches of the day."""
    if not plan.heats:
        return ()
    found: list[Shift] = []
    for wish in wishes:
        floors = sorted({heat.floor for heat in plan.heats}) if wish.each_floor else [""]
        for floor in floors:
            spans = tuple(_spans(plan, wish, floor))
            for seat in range(1, wish.count + 1):
                found.extend(
                    Shift(
                        id=f"{wish.post}/{floor}/{seat}/{number}",
                        post=wish.post,
                        start_s=start_s,
                        end_s=end_s,
                        floor=floor,
                        seat=seat,
                    )
                    for number, (start_s, end_s) in enumerate(spans, 1)
                )
    return tuple(found)


def _spans(plan: Plan, wish: PostWish, floor: str) -> Iterator[tuple[int, int]]:
    """Yield the open stretches of a post's day, cut into shifts of whole minutes."""
    heats = [heat for heat in plan.heats if not floor or heat.floor == floor]
    first_s = max(min(heat.start_s for heat in heats) - EARLY_S, 0)
    start_s = first_s if wish.from_s is None else wish.from_s
    end_s = max(heat.end_s for heat in heats) if wish.until_s is None else wish.until_s
    for open_s, close_s in _without_pauses(plan, start_s, end_s):
        pieces = -(-(close_s - open_s) // wish.shift_s)
        cuts = [
            open_s + (close_s - open_s) * piece // pieces // MINUTE_S * MINUTE_S
            for piece in range(1, pieces)
        ]
        yield from zip((open_s, *cuts), (*cuts, close_s), strict=True)


def _without_pauses(plan: Plan, start_s: int, end_s: int) -> Iterator[tuple[int, int]]:
    for pause in sorted(plan.pauses, key=lambda pause: pause.start_s):
        if pause.floors or pause.start_s + pause.length_s <= start_s or end_s <= pause.start_s:
            continue
        if start_s < pause.start_s:
            yield start_s, pause.start_s
        start_s = pause.start_s + pause.length_s
    if start_s < end_s:
        yield start_s, end_s
