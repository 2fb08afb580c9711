"""Rules for what is said about safety: figures that can be true, incidents that exist."""

from callroom.actions.case import Case
from callroom.journal.entries import safety_bodies as bodies
from callroom.model import BadInput, Finding, Refusal
from callroom.model.safety import SafetyFacts

MOST_PEOPLE, MOST_AREA_M2, MOST_WIDTH_MM, MOST_WALK_S = 200_000, 1_000_000, 100_000, 3_600


def safety_set(case: Case, body: bodies.SafetySet) -> None:
    """Every figure must be one that a venue can have."""
    del case
    found = facts_faults(body.facts)
    if found:
        raise BadInput(found)


def facts_faults(facts: SafetyFacts) -> tuple[Finding, ...]:
    """Return which figures no venue has, each with its place."""
    figures = [
        ("first_aiders", facts.first_aiders, 0, MOST_PEOPLE),
        ("spectators", facts.spectators or 0, 0, MOST_PEOPLE),
        ("aed_walk_s", facts.aed_walk_s or 0, 0, MOST_WALK_S),
        *(
            (f"area-{place}", area.area_m2, 1, MOST_AREA_M2)
            for place, area in enumerate(facts.areas)
        ),
        *(
            (f"exit-{place}", way.width_mm, 1, MOST_WIDTH_MM)
            for place, way in enumerate(facts.exits)
        ),
    ]
    return tuple(
        Finding(
            rule="safety.figure",
            severity="error",
            subject=subject,
            facts={"given": given, "least": least, "most": most},
        )
        for subject, given, least, most in figures
        if not least <= given <= most
    )


def incident_followed(case: Case, body: bodies.IncidentFollowed) -> None:
    """The incident must be one that was noted."""
    if str(body.number) not in case.state.incidents:
        raise Refusal("incident.unknown", number=body.number)
