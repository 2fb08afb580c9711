"""The pages of the event itself: name and day, floors, divisions."""

from callroom.model import Event
from callroom.web.event_pages.asked import Field, Group, Part, Rows, Text


def basics_part(event: Event, _: Text) -> Part:
    """Return the page of name, day, place, cause, money, language and units."""
    del event
    f = Field
    return Part(
        name="basics",
        title=_("Name, day and place"),
        says=_("What the event is called, when and where it is, and who gets the money."),
        groups=(
            Group(
                title=_("What and when"),
                fields=(
                    f(
                        key="event.name",
                        label=_("Name"),
                        help=_("As it stands on every page and sheet."),
                    ),
                    f(
                        key="event.day",
                        label=_("Day"),
                        kind="date",
                        help=_("The first day. Everything planned moves with it."),
                    ),
                    f(
                        key="event.start",
                        label=_("The day begins at"),
                        kind="moment",
                        help=_(
                            "When doors open. Times already set stay where they are on the clock."
                        ),
                    ),
                    f(
                        key="event.zone",
                        label=_("Time zone"),
                        help=_(
                            "By its city, such as Europe/Madrid. All times are told on its clock."
                        ),
                    ),
                    f(
                        key="event.venue",
                        label=_("Venue"),
                        help=_("Name and street, for letters and sheets."),
                    ),
                    f(
                        key="event.cause",
                        label=_("Who gets the money"),
                        help=_("The cause, in a line that can be read out."),
                    ),
                ),
            ),
            Group(
                title=_("Money, language, units"),
                folded=True,
                fields=(
                    f(
                        key="event.currency",
                        label=_("Currency"),
                        usual="EUR",
                        help=_("Three letters. It cannot change once money is booked."),
                    ),
                    f(
                        key="event.language",
                        label=_("Language"),
                        usual="en",
                        kind="choice",
                        choices=(("en", "English"), ("es", "Español")),
                        help=_("Of pages and sheets."),
                    ),
                    f(
                        key="event.mass_unit",
                        label=_("Loads first in"),
                        usual="kg",
                        kind="choice",
                        choices=(("kg", _("kilograms")), ("lb", _("pounds"))),
                        help=_("Loads that were given in both are shown in both."),
                    ),
                    f(
                        key="event.address",
                        label=_("Address at the venue"),
                        help=_(
                            "Where phones and printed codes find this laptop, http://192.168.1.20:8000. Print after it is set."
                        ),
                    ),
                ),
            ),
        ),
    )


def floors_part(event: Event, _: Text) -> Part:
    """Return the page of floors and lanes."""
    del event
    f = Field
    return Part(
        name="floors",
        title=_("Floors and lanes"),
        says=_("Where work is done, and how many teams at a time."),
        groups=(
            Group(
                title=_("Floors"),
                rows=(
                    Rows(
                        key="floors",
                        title=_("Floors"),
                        one_more=_("One more floor"),
                        help=_(
                            "A floor is an area with lanes; two floors can run two workouts at a time."
                        ),
                        fields=(
                            f(key="name", label=_("Name")),
                            f(
                                key="lanes",
                                label=_("Lanes"),
                                kind="whole",
                                help=_("Each needs a judge and its own kit."),
                            ),
                            f(
                                key="first_lane",
                                label=_("Number of the first lane"),
                                kind="whole",
                                usual="1",
                                help=_("As painted, counted from one side."),
                            ),
                            f(
                                key="held_lanes",
                                label=_("Closed lanes"),
                                kind="wholes",
                                help=_(
                                    "Their numbers, with commas: kept free for re-runs, or out of use."
                                ),
                            ),
                            f(
                                key="outdoor",
                                label=_("Outside"),
                                kind="tick",
                                help=_("Then lists speak of sun, rain and thunder."),
                            ),
                        ),
                    ),
                ),
            ),
        ),
    )


def divisions_part(event: Event, _: Text) -> Part:
    """Return the page of divisions, and of the categories their teams are made of."""
    f = Field
    team = tuple(
        f(
            key=f"team.{one.id}",
            label=_("{category} on the floor").format(category=one.name),
            kind="whole",
        )
        for one in event.categories
    )
    return Part(
        name="divisions",
        title=_("Divisions"),
        says=_("Who competes against whom, and how a team is made up."),
        groups=(
            Group(
                title=_("Divisions"),
                rows=(
                    Rows(
                        key="divisions",
                        title=_("Divisions"),
                        one_more=_("One more division"),
                        help=_(
                            "Teams of a division are ranked together. Loads of a new one are set where workouts are built."
                        ),
                        fields=(
                            f(key="name", label=_("Name")),
                            *team,
                            f(
                                key="reserves",
                                label=_("Reserves"),
                                kind="whole",
                                usual="0",
                                help=_("How many more a squad may name."),
                            ),
                            f(
                                key="team_limit",
                                label=_("Most teams"),
                                kind="whole",
                                usual="0",
                                help=_("0: no limit. Later ones wait in turn."),
                            ),
                        ),
                    ),
                ),
            ),
            Group(
                title=_("Categories"),
                folded=True,
                rows=(
                    Rows(
                        key="categories",
                        title=_("Categories"),
                        one_more=_("One more category"),
                        help=_(
                            "The classes that a team is composed of. Save a new one, then divisions can ask for it."
                        ),
                        fields=(f(key="", label=_("Name")),),
                        named="",
                    ),
                ),
            ),
        ),
    )
