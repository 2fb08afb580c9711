"""The page of the wishes about the day: what the planner keeps to."""

from callroom.model import Event, Team
from callroom.web.event_pages.asked import Choices, Field, Group, Part, Rows, Text


def wishes_part(event: Event, teams: tuple[Team, ...], _: Text) -> Part:
    """Return the page; choices are the event's own floors, workouts, divisions and teams."""
    names = _Names(event, teams)
    return Part(
        name="wishes",
        title=_("How the day runs"),
        says=_("From when to when, rests and pauses: what the plan keeps to."),
        groups=(
            _hours(_),
            _pauses(names, _),
            _rests(names, _),
            _judges(_),
            _heats(names, _),
            _teams(names, _),
            _more(names, _),
        ),
    )


class _Names:
    """What can be chosen."""

    def __init__(self, event: Event, teams: tuple[Team, ...]) -> None:
        self.workouts: Choices = tuple((one.id, one.name) for one in event.workouts)
        self.floors: Choices = tuple((one.id, one.name) for one in event.floors)
        self.divisions: Choices = tuple((one.id, one.name) for one in event.divisions)
        self.teams: Choices = tuple(
            (one.id, one.name) for one in sorted(teams, key=lambda team: team.name.casefold())
        )


def _w(key: str, label: str, **more: object) -> Field:
    return Field(key=f"wishes.{key}", label=label, **more)  # type: ignore[arg-type]


def _hours(_: Text) -> Group:
    return Group(
        title=_("From when to when"),
        fields=(
            _w(
                "first_heat",
                _("First heat, not before"),
                kind="moment",
                help=_("Leave time for doors, check-in and the briefing."),
            ),
            _w(
                "finish_by",
                _("Last heat over by"),
                kind="moment",
                help=_("Awards and clearing away come after. Empty: as soon as it goes."),
            ),
            _w(
                "warm_up",
                _("Warm-up of each heat"),
                kind="span",
                usual="0 min",
                help=_("Part of the rest; 0: teams warm up by themselves."),
            ),
            _w(
                "briefing",
                _("Briefing of each heat"),
                kind="span",
                usual="0 min",
                help=_("Right before it walks on, one heat at a time."),
            ),
            _w(
                "warm_up_heats",
                _("Heats that warm up at a time"),
                kind="whole",
                usual="0",
                help=_("0: as many as come."),
            ),
        ),
    )


def _pauses(names: _Names, _: Text) -> Group:
    return Group(
        title=_("Lunch, briefing, awards"),
        rows=(
            Rows(
                key="wishes.pauses",
                title=_("Pinned in the day"),
                one_more=_("One more"),
                help=_("While it lasts, the floors it names rest; none named: all."),
                fields=(
                    Field(key="name", label=_("What")),
                    Field(key="at", label=_("At"), kind="moment"),
                    Field(key="length", label=_("How long"), kind="span"),
                    Field(key="floors", label=_("Floors"), kind="ticks", choices=names.floors),
                ),
            ),
        ),
    )


def _rests(names: _Names, _: Text) -> Group:
    change = _("Work on the floor between two heats: plates, machines, sweeping.")
    return Group(
        title=_("Rests and changeovers"),
        fields=(
            _w(
                "rest",
                _("Rest of a team between workouts"),
                kind="span",
                usual="30 min",
                help=_(
                    "From leaving a floor to the next heat; safety first, it is never planned shorter."
                ),
            ),
            _w(
                "changeover.same",
                _("Between heats of a workout and division"),
                kind="span",
                usual="2 min",
                help=change,
            ),
            _w("changeover.division", _("Before another division"), kind="span", usual="5 min"),
            _w("changeover.workout", _("Before another workout"), kind="span", usual="10 min"),
        ),
        rows=(
            Rows(
                key="wishes.rests",
                title=_("Other rests"),
                one_more=_("One more"),
                help=_("Between two workouts, where the usual rest is too long or too short."),
                by_id=False,
                named="rest",
                fields=(
                    Field(key="before", label=_("After"), kind="choice", choices=names.workouts),
                    Field(key="after", label=_("Before"), kind="choice", choices=names.workouts),
                    Field(key="rest", label=_("Rest"), kind="span"),
                ),
            ),
        ),
    )


def _judges(_: Text) -> Group:
    return Group(
        title=_("Judges"),
        fields=(
            _w(
                "judges_at_once",
                _("Judges at a time"),
                kind="whole",
                help=_(
                    "No more lanes run at once than there are judges. Empty: enough for all lanes."
                ),
            ),
            _w(
                "judges_from_crew",
                _("As many as the crew list has at the time"),
                kind="tick",
                help=_("Hour by hour; athletes who also judge are not counted."),
            ),
        ),
        rows=(
            Rows(
                key="wishes.judges",
                title=_("Times with fewer judges, or more"),
                one_more=_("One more"),
                help=_("Over lunch, say."),
                by_id=False,
                named="judges",
                fields=(
                    Field(key="from", label=_("From"), kind="moment"),
                    Field(key="until", label=_("Until"), kind="moment"),
                    Field(key="judges", label=_("Judges"), kind="whole"),
                ),
            ),
        ),
    )


def _heats(names: _Names, _: Text) -> Group:
    order = (
        ("kept", _("the same heats all day")),
        ("neighbours", _("one heat up or down")),
        ("reseeded", _("anew from the standings")),
    )
    return Group(
        title=_("Heats and lanes"),
        folded=True,
        fields=(
            _w(
                "order",
                _("Teams meet in"),
                kind="choice",
                usual="kept",
                choices=order,
                help=_(
                    "The same heats are the simplest to tell people; seeding anew makes last heats a race."
                ),
            ),
            *(
                _w(
                    f"orders.{one}",
                    _("Into {workout}").format(workout=name),
                    kind="choice",
                    choices=order,
                )
                for one, name in names.workouts
            ),
            _w(
                "finals_last",
                _("Finals: the best heats of the last workout come last"),
                kind="tick",
            ),
            _w(
                "workout_order",
                _("Workouts are done"),
                kind="choice",
                usual="listed",
                choices=(("listed", _("in the order listed")), ("free", _("in any order"))),
            ),
            _w(
                "mixed_heats",
                _("What is left of two divisions may share a heat"),
                kind="tick",
            ),
            _w(
                "least_per_heat",
                _("Fewest teams in a heat"),
                kind="whole",
                usual="3",
                help=_("No team should be alone on the floor."),
            ),
            _w(
                "heat_pattern",
                _("Who is in which heat"),
                kind="choice",
                usual="best_last",
                choices=(
                    ("best_last", _("rank by rank, the best last")),
                    ("circle", _("the last three heats dealt round")),
                    ("circle_last_two", _("the last two heats dealt round")),
                    ("to_and_fro", _("even heats, in drawn order")),
                ),
            ),
            _w(
                "lane_pattern",
                _("Who is in which lane"),
                kind="choice",
                usual="centre_out",
                choices=(
                    ("centre_out", _("the best in the centre")),
                    ("drawn_groups", _("drawn within groups of ranks")),
                    ("numbered", _("rank by rank from the first lane")),
                ),
            ),
            _w(
                "constant_rhythm",
                _("Heats of a block follow each other at one spacing"),
                kind="tick",
                usual="yes",
                help=_("Easy to keep to, for everybody."),
            ),
            _w(
                "slot",
                _("Heats start on multiples of"),
                kind="span",
                usual="1 min",
                help=_("A minute keeps sheets clean."),
            ),
            _w(
                "draw_seed",
                _("Number of the draw"),
                kind="whole",
                usual="1",
                help=_("Another number draws anew; the same one draws the same."),
            ),
        ),
    )


def _teams(names: _Names, _: Text) -> Group:
    return Group(
        title=_("Wishes of teams"),
        folded=True,
        rows=(
            Rows(
                key="wishes.team_hours",
                title=_("Comes late, or has to leave"),
                one_more=_("One more"),
                help=_("The plan keeps the team's heats within these hours."),
                by_id=False,
                named="team",
                fields=(
                    Field(key="team", label=_("Team"), kind="choice", choices=names.teams),
                    Field(key="from", label=_("From"), kind="moment"),
                    Field(key="until", label=_("Until"), kind="moment"),
                ),
            ),
            Rows(
                key="wishes.apart",
                title=_("Never on a floor at the same time"),
                one_more=_("One more"),
                help=_("They share a coach, an athlete or a child to mind."),
                by_id=False,
                named="teams",
                fields=(
                    Field(
                        key="teams", label=_("Teams"), kind="picks", picks=4, choices=names.teams
                    ),
                    Field(key="gap", label=_("Time between"), kind="span"),
                ),
            ),
            Rows(
                key="wishes.locks",
                title=_("Fixed by hand"),
                one_more=_("One more"),
                help=_(
                    "A team, or one of a division's heats by its number: its time, floor, heat or lane. A lock is easier made on the plan's picture."
                ),
                by_id=False,
                named="",
                fields=(
                    Field(key="workout", label=_("Workout"), kind="choice", choices=names.workouts),
                    Field(key="team", label=_("Team"), kind="choice", choices=names.teams),
                    Field(
                        key="division", label=_("Division"), kind="choice", choices=names.divisions
                    ),
                    Field(key="heat", label=_("Heat"), kind="whole"),
                    Field(key="at", label=_("At"), kind="moment"),
                    Field(key="floor", label=_("Floor"), kind="choice", choices=names.floors),
                    Field(key="lane", label=_("Lane"), kind="whole"),
                ),
            ),
        ),
    )


def _more(names: _Names, _: Text) -> Group:
    return Group(
        title=_("Several days, floors, waves, shared kit"),
        folded=True,
        fields=(
            _w(
                "early",
                _("As early in the day as goes"),
                kind="ticks",
                choices=names.divisions,
                help=_("Juniors, say, or who has far to go home."),
            ),
            *(
                _w(
                    f"waves.{one}",
                    _("Wave of {division}").format(division=name),
                    kind="whole",
                    help=_("All of wave 1 is through before wave 2 begins. Empty: none."),
                )
                for one, name in names.divisions
            ),
            *(
                _w(
                    f"floors.{one}",
                    _("Floors for {workout}").format(workout=name),
                    kind="ticks",
                    choices=names.floors,
                    help=_("Where it may be run, its own included. None: only its own."),
                )
                for one, name in names.workouts
            ),
        ),
        rows=(
            Rows(
                key="wishes.days",
                title=_("Days, of an event of several"),
                one_more=_("One more day"),
                help=_(
                    "With all times as a day and a time. The first heat and the end above are left empty then."
                ),
                fields=(
                    Field(key="name", label=_("Name")),
                    Field(key="opens", label=_("Opens"), kind="moment"),
                    Field(key="closes", label=_("Closes"), kind="moment"),
                    Field(
                        key="workouts", label=_("Workouts"), kind="ticks", choices=names.workouts
                    ),
                ),
            ),
            Rows(
                key="wishes.kit",
                title=_("Kit shared by all floors"),
                one_more=_("One more"),
                help=_(
                    "Of which there are only so many pieces: no more lanes that need it run at once."
                ),
                fields=(
                    Field(key="name", label=_("Name")),
                    Field(key="count", label=_("Pieces"), kind="whole"),
                    *(
                        Field(
                            key=f"per_lane.{one}",
                            label=_("Each lane in {workout}").format(workout=name),
                            kind="whole",
                        )
                        for one, name in names.workouts
                    ),
                ),
            ),
        ),
    )
