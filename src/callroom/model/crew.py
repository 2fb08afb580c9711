"""Crew: all volunteers."""

import msgspec

POSTS = (
    "head_judge",
    "judge",
    "desk",
    "call",
    "floor",
    "kit",
    "announcer",
    "first_aid",
    "welcome",
)
"""What a volunteer can do: rule on a workout, judge a lane, type scores, call heats and check
teams, run the floor, move kit, speak, give first aid, greet guests. Common practice, no
source."""


class CrewMember(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A volunteer, under the id of a person.

    `posts` are what they can do (some of :data:`POSTS`); `team` is the team
    they compete in, if they do; `family_in` names the teams in which they have family, and
    which they therefore never judge; `free_from_s` and `free_until_s` bound when they are
    free [s from the day's start]; None: all day.
    """

    person: str
    posts: tuple[str, ...]
    team: str = ""
    family_in: tuple[str, ...] = ()
    gym: str = ""
    experienced: bool = False
    free_from_s: int | None = None
    free_until_s: int | None = None
