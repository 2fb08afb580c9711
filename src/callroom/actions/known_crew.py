"""The crew as the rota knows it: those who passed the self-check count as experienced."""

from collections.abc import Iterable

from msgspec.structs import replace

from callroom.model import CrewMember, State


def known_crew(state: State, members: Iterable[CrewMember] | None = None) -> tuple[CrewMember, ...]:
    """Return the volunteers of a book, or these `members`, with what they are known to know.

    Whose last self-check of the standards went well needs nobody beside them, as somebody who
    has judged before does not.
    """
    crew = state.crew.values() if members is None else members
    return tuple(
        replace(member, experienced=member.experienced or state.is_trained(member.person))
        for member in crew
    )
