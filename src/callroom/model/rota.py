"""The rota: who of the crew does what, when."""

import msgspec


class Shift(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One post to be held by one person for one span.

    A judge's shift is one heat in one lane (`seat` counts the judges of the lane); another
    post's is a stretch of the day. `start_s` and `end_s` count from the day's start [s].
    """

    id: str
    post: str
    start_s: int
    end_s: int
    floor: str = ""
    heat: str = ""
    lane: int | None = None
    seat: int = 1

    @property
    def station(self) -> tuple[str, str, int, int]:
        """Where it is held: staying there from one shift to the next spares a walk."""
        return self.post, self.floor, self.lane or 0, self.seat


class Duty(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A shift, and the person who holds it."""

    shift: str
    person: str


class Rota(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who does what on a day, for one revision of its plan.

    Every shift the day needs is listed, held or not; `duties` are in the order of shifts.
    """

    plan_revision: int
    shifts: tuple[Shift, ...]
    duties: tuple[Duty, ...]

    def holder_of(self, shift_id: str) -> str | None:
        """Return who holds a shift, or None."""
        return next((duty.person for duty in self.duties if duty.shift == shift_id), None)

    def shifts_of(self, person: str) -> tuple[Shift, ...]:
        """Return a person's shifts in time order."""
        mine = {duty.shift for duty in self.duties if duty.person == person}
        held = (shift for shift in self.shifts if shift.id in mine)
        return tuple(sorted(held, key=lambda shift: (shift.start_s, shift.id)))

    def with_duties(self, changed: tuple[Duty, ...]) -> "Rota":
        """Return the rota with these shifts held by others, or (no person) by nobody."""
        held = {duty.shift: duty.person for duty in self.duties}
        held |= {duty.shift: duty.person for duty in changed}
        duties = (Duty(shift=shift.id, person=held.get(shift.id, "")) for shift in self.shifts)
        return msgspec.structs.replace(self, duties=tuple(duty for duty in duties if duty.person))

    def open_shifts(self) -> tuple[Shift, ...]:
        """Return the shifts that nobody holds."""
        held = {duty.shift for duty in self.duties}
        return tuple(shift for shift in self.shifts if shift.id not in held)


class PostWish(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How many people a post other than judging needs, and for how much of the day.

    `count` is for the whole event, or for each floor in use (`each_floor`). It is held
    from `from_s` to `until_s` [s from the day's start]; None: from half an hour before the
    first heat, until the last heat is over. Pauses of all floors are free. A longer stretch
    is cut into shifts of at most `shift_s` [s].
    """

    post: str
    count: int = 1
    each_floor: bool = False
    from_s: int | None = None
    until_s: int | None = None
    shift_s: int = 5400


class Owing(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A team that owes the event a judge, for so many heats."""

    team: str
    heats: int


USUAL_POSTS = (
    PostWish(post="head_judge"),
    PostWish(post="first_aid"),
    PostWish(post="desk"),
    PostWish(post="call"),
    PostWish(post="announcer"),
    PostWish(post="floor", each_floor=True),
    PostWish(post="kit"),
)
"""What a day usually needs besides judges. Common practice, no source."""


class RotaRules(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the rota keeps to; the defaults are common practice, no source.

    Attributes
    ----------
    most_in_a_row, break_s
        Nobody judges more than so many heats without a break of at least `break_s` [s]
        between one duty and the next, on whichever floors they are.
    warm_up_s, recover_s
        Who competes is free for that long before their heat starts and after it ends [s].
    move_s
        Least time between duties at two different floors [s].
    experienced_workouts
        Workouts that only experienced judges may judge.
    posts
        What is needed besides judges.
    owing
        Teams that owe a judge.
    """

    most_in_a_row: int = 4
    break_s: int = 600
    warm_up_s: int = 1200
    recover_s: int = 900
    move_s: int = 120
    experienced_workouts: tuple[str, ...] = ()
    posts: tuple[PostWish, ...] = USUAL_POSTS
    owing: tuple[Owing, ...] = ()
