"""What a draft would be: its work, its standards and its forecast, or what must be mended."""

import hashlib

import msgspec
from msgspec.structs import replace

from callroom.actions.workouts import with_workout
from callroom.bootstrap.forecasting import forecast_draft
from callroom.model import Division, Event, Finding, State
from callroom.standards import Library, library_with
from callroom.views.forecast import ASKED_PERCENT, FloorOutlook
from callroom.views.guide import guide
from callroom.views.guide_text import StandardText, WorkoutText, standard_text, workout_text
from callroom.views.spread import PartPicture, pictures
from callroom.views.timetable import CREW
from callroom.views.work_wording import Speech
from callroom.web.builder.draft import DEEPEST, Node, nodes
from callroom.web.builder.faults import Fault, faults_of
from callroom.web.builder.read import Reading, read_workout


class Ways(msgspec.Struct, frozen=True, kw_only=True):
    """A task's variations to choose from, as ids, names and what is usual, at its `path`."""

    path: str
    node: Node
    variations: tuple[tuple[str, str, str], ...]


class Shown(msgspec.Struct, frozen=True, kw_only=True):
    """A draft without faults as it will be told, and how it is likely to go.

    `divisions` are the heads of the columns of loads; `asked_percent` how many teams in a
    hundred should finish by a recommended cap; `cautions` what the forecast makes one think
    about.
    """

    workout: WorkoutText
    divisions: tuple[str, ...]
    standards: tuple[StandardText, ...]
    asked_percent: int
    parts: tuple[PartPicture, ...]
    floors: tuple[FloorOutlook, ...]
    cautions: tuple[Finding, ...]


class Preview(msgspec.Struct, frozen=True, kw_only=True):
    """What is wrong with a draft; where nothing forbids it, what it would be (else None).

    `state` is the book as it would be with this workout, for naming what is in it.
    """

    state: State
    root: Node
    reading: Reading
    faults: tuple[Fault, ...]
    shown: Shown | None

    @property
    def divisions(self) -> tuple[Division, ...]:
        """The divisions of the event."""
        return self.state.event.divisions if self.state.event is not None else ()

    @property
    def version(self) -> str:
        """A short text that differs between drafts: a picture of another is fetched anew."""
        return hashlib.sha256(msgspec.json.encode(self.root)).hexdigest()[:12]

    @property
    def ways(self) -> tuple[Ways, ...]:
        """The variations of every task."""
        event = self.state.event
        library = library_with(event.movements if event is not None else ())
        return tuple(
            Ways(
                path=".".join(map(str, path)),
                node=node,
                variations=variations_of(library, node.text("movement")),
            )
            for path, node in nodes(self.root)
            if len(path) == DEEPEST
        )


def variations_of(library: Library, movement_id: str) -> tuple[tuple[str, str, str], ...]:
    """Return the variations of a movement as ids, names and what is usual."""
    known = library.movements.get(movement_id)
    variations = known.variations if known is not None else ()
    return tuple((one.id, one.name, one.usual) for one in variations)


def read_draft(state: State, event: Event, root: Node) -> Preview:
    """Return what is wrong with a draft, without the rest, which takes longer."""
    reading = read_workout(root, event)
    after = replace(state, event=with_workout(event, reading.workout))
    faults = faults_of(state, event, root, reading)
    return Preview(state=after, root=root, reading=reading, faults=faults, shown=None)


def with_forecast(preview: Preview, speech: Speech) -> Preview:
    """Return the preview with the work, the standards and the forecast, if nothing forbids it.

    It takes some tenths of a second, so it runs in a thread.
    """
    event = preview.state.event
    if event is None or any(fault.finding.severity == "error" for fault in preview.faults):
        return preview
    return replace(preview, shown=_shown(preview.state, event, preview.reading, speech))


def _shown(state: State, event: Event, reading: Reading, speech: Speech) -> Shown:
    workout = reading.workout
    alone = replace(state, event=replace(event, workouts=(workout,)))
    view = guide(alone, CREW)
    one = view.workout(workout.id)
    day = forecast_draft(event, workout.id)
    outlook = day.workout(workout.id)
    subject = f"workouts.{workout.id}"
    found = [found for programme in day.programmes for found in programme.programme.findings]
    return Shown(
        workout=workout_text(view, one, speech),
        divisions=view.divisions,
        standards=tuple(standard_text(needed, speech) for needed in view.standards_of(one)),
        asked_percent=ASKED_PERCENT,
        parts=pictures(outlook),
        floors=outlook.floors,
        cautions=tuple(
            finding
            for finding in found
            if finding.subject == subject
            or finding.subject.startswith(f"{subject}.")
            or finding.rule == "forecast.movement_volume"
        ),
    )
