"""The page of the rules."""

from callroom.model import Event
from callroom.web.event_pages.asked import Field, Group, Part, Text


def rules_part(event: Event, _: Text) -> Part:
    """Return the page of the rules; choices are the event's own workouts."""
    f = Field
    workouts = tuple((one.id, one.name) for one in event.workouts)
    ties = (
        ("most_firsts", _("more first places, then seconds, …")),
        *(
            (f"best_in:{one}", _("better in {workout}").format(workout=name))
            for one, name in workouts
        ),
        ("shared", _("shared")),
    )
    up = (("keep", _("others stay where they are")), ("move_up", _("others move up")))
    below = (("below", _("ranked below all others")), ("unranked", _("not ranked")))
    return Part(
        name="rules",
        title=_("Rules"),
        says=_(
            "How places become an overall order, and what holds in special cases. Publish them before the day."
        ),
        groups=(
            Group(
                title=_("The overall order"),
                fields=(
                    f(
                        key="rules.points.kind",
                        label=_("Counted by"),
                        kind="choice",
                        usual="places",
                        choices=(
                            ("places", _("the sum of places, least is best")),
                            ("linear", _("points, so many less for each place")),
                            ("table", _("points from a list")),
                            ("formula", _("a formula")),
                        ),
                        help=_("The sum of places is the easiest to follow from the stands."),
                    ),
                    f(
                        key="rules.points.first",
                        label=_("Points of the first place"),
                        kind="number",
                        usual="100",
                    ),
                    f(
                        key="rules.points.step",
                        label=_("Less for each place"),
                        kind="number",
                        usual="5",
                    ),
                    f(
                        key="rules.tie_chain",
                        label=_("Ties are broken by"),
                        kind="picks",
                        picks=3,
                        choices=ties,
                        usual="most_firsts",
                        help=_("In this order; what is level after it is shared."),
                    ),
                    f(
                        key="rules.appeal_window",
                        label=_("Time for appeals"),
                        kind="span",
                        usual="15 min",
                        help=_("After results are posted."),
                    ),
                ),
            ),
            Group(
                title=_("Line-ups"),
                fields=(
                    f(
                        key="rules.substitution_deadline",
                        label=_("Line-ups close"),
                        kind="span",
                        usual="0 min",
                        help=_("So long before a team reports."),
                    ),
                    f(
                        key="rules.substitutions",
                        label=_("Substitutions in a day"),
                        kind="whole",
                        help=_("Empty: any number."),
                    ),
                    f(
                        key="rules.short_handed",
                        label=_("A team with too few athletes is"),
                        kind="choice",
                        usual="unranked",
                        choices=(
                            ("unranked", _("on the floor, not ranked")),
                            ("ranked", _("ranked")),
                            ("withdrawn", _("withdrawn")),
                        ),
                    ),
                ),
            ),
            Group(
                title=_("Special cases"),
                folded=True,
                fields=(
                    f(
                        key="rules.absent_overall",
                        label=_("A team without a place in some workout is"),
                        kind="choice",
                        usual="below",
                        choices=below,
                    ),
                    f(
                        key="rules.after_withdrawal",
                        label=_("When a team withdraws"),
                        kind="choice",
                        usual="keep",
                        choices=up,
                        help=_("In workouts it had already done."),
                    ),
                    f(
                        key="rules.after_disqualification",
                        label=_("When a team is disqualified"),
                        kind="choice",
                        usual="move_up",
                        choices=up,
                    ),
                    f(
                        key="rules.modified_work",
                        label=_("Work done lighter or easier is"),
                        kind="choice",
                        usual="below",
                        choices=below,
                    ),
                    f(
                        key="rules.rerun_counts",
                        label=_("Of a re-run"),
                        kind="choice",
                        usual="replaces",
                        choices=(
                            ("replaces", _("the new result counts")),
                            ("better", _("the better result counts")),
                        ),
                    ),
                    f(
                        key="rules.late_appeals",
                        label=_("A late appeal is"),
                        kind="choice",
                        usual="refused",
                        choices=(
                            ("refused", _("refused")),
                            ("marked", _("heard, and marked as late")),
                        ),
                    ),
                    f(
                        key="rules.embargo",
                        label=_("Results kept from the public"),
                        kind="ticks",
                        choices=workouts,
                        help=_("Until you let them out, for suspense before the awards."),
                    ),
                    f(
                        key="rules.keep_people_days",
                        label=_("Personal details are erased after"),
                        kind="days",
                        usual="90",
                        help=_("Days after the event; empty: until you erase them."),
                    ),
                    f(
                        key="rules.points.table",
                        label=_("List of points"),
                        kind="numbers",
                        help=_(
                            "From the first place, with commas: 100, 94, 88. Only for points from a list."
                        ),
                    ),
                    f(
                        key="rules.points.formula",
                        label=_("Formula"),
                        help=_(
                            "With place, teams and result: 1000 * (teams - place) / teams. Only for a formula."
                        ),
                    ),
                ),
            ),
        ),
    )
