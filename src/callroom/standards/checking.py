"""What must fit together in a movement that was read."""

import re
from collections.abc import Mapping

from callroom.model.movement import LONGEST_LABEL, THROUGHOUT, Angle, Movement
from callroom.standards.pose import Pose
from callroom.standards.reading import Place, nearest, shown

LONGEST_NAME = 40
LONGEST_TEXT = 400
_ID = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")


def check_movement(movement: Movement, poses: Mapping[str, Pose], place: Place) -> None:
    """Note everything that does not fit together in `movement`."""
    check_id(movement.id, place.below("id"))
    _check_texts(movement, place)
    for name in ("points", "no_reps", "counting", "cadence", "capacities"):
        if not getattr(movement, name):
            place.below(name).fault("standards.list_empty")
    _check_figures(movement, poses, place)
    _check_points(movement, place)
    _check_references(movement, place)
    _check_numbers(movement, place)


def check_id(given: str, place: Place) -> None:
    """Note an id that is not lower-case words joined by underscores."""
    if not _ID.fullmatch(given) or len(given) > LONGEST_NAME:
        place.fault("standards.id_form", given=shown(given))


def _check_texts(movement: Movement, place: Place) -> None:
    texts = {
        "name": (movement.name, LONGEST_NAME),
        "many": (movement.many, LONGEST_NAME),
        "start": (movement.start, LONGEST_TEXT),
        "finish": (movement.finish, LONGEST_TEXT),
        "judge, stands": (movement.judge.stands, LONGEST_TEXT),
        "judge, watches": (movement.judge.watches, LONGEST_TEXT),
    }
    for number, reason in enumerate(movement.no_reps, start=1):
        texts[f"no_reps {number}, label"] = (reason.label, LONGEST_LABEL)
        texts[f"no_reps {number}, says"] = (reason.says, LONGEST_TEXT)
    for number, point in enumerate(movement.points, start=1):
        texts[f"points {number}, says"] = (point.says, LONGEST_TEXT)
    for number, variation in enumerate(movement.variations, start=1):
        texts[f"variations {number}, name"] = (variation.name, LONGEST_NAME)
        texts[f"variations {number}, says"] = (variation.says, LONGEST_TEXT)
    for name, (text, most) in texts.items():
        at = place.below(name)
        if not text.strip():
            at.fault("standards.text_empty")
        elif len(text) > most:
            at.fault("standards.text_long", given=shown(text), length=len(text), most=most)


def _check_figures(movement: Movement, poses: Mapping[str, Pose], place: Place) -> None:
    _once([figure.stage for figure in movement.figures], place.below("figures"))
    for number, figure in enumerate(movement.figures, start=1):
        if figure.pose not in poses:
            at = place.below(f"figures {number}", "pose")
            near = nearest(figure.pose, tuple(poses))
            at.fault("standards.no_such_pose", given=shown(figure.pose), near=near)
        if not 1 <= figure.people <= 8:
            at = place.below(f"figures {number}", "people")
            at.fault("standards.number_bounds", given=str(figure.people), least=1, most=8)


def _check_points(movement: Movement, place: Place) -> None:
    stages = ["start", "finish", *(figure.stage for figure in movement.figures), THROUGHOUT]
    for number, point in enumerate(movement.points, start=1):
        at = place.below(f"points {number}")
        if point.at not in stages:
            listed = ", ".join(dict.fromkeys(stages))
            at.below("at").fault("standards.no_such_stage", given=shown(point.at), stages=listed)
        for count, measure in enumerate(point.measures, start=1):
            if isinstance(measure, Angle):
                _check_angle(measure, at.below(f"measures {count}"))


def _check_angle(angle: Angle, place: Place) -> None:
    bent = angle.reads in {"flexion", "interior"}
    if bent != (angle.joint in {"knee", "hip", "elbow", "shoulder"}):
        place.fault("standards.reading_unfit", joint=angle.joint, reads=angle.reads)
    least, most = angle.at_least_deg, angle.at_most_deg
    if least is None and most is None:
        place.fault("standards.no_bound")
    elif least is not None and most is not None and least > most:
        place.fault("standards.bounds_crossed", least=str(least), most=str(most))


def _check_references(movement: Movement, place: Place) -> None:
    variations = tuple(variation.id for variation in movement.variations)
    _once(list(variations), place.below("variations"))
    _once([reason.id for reason in movement.no_reps], place.below("no_reps"))
    named = [
        (f"{group} {number}", key, getattr(one, key))
        for group in ("points", "no_reps")
        for number, one in enumerate(getattr(movement, group), start=1)
        for key in ("unless", "only_with")
    ]
    for name, key, given in named:
        if given and given not in variations:
            place.below(name, key).fault(
                "standards.no_such_variation",
                given=shown(given),
                variations=", ".join(variations) or "–",
            )


def _check_numbers(movement: Movement, place: Place) -> None:
    for number, rate in enumerate(movement.cadence, start=1):
        at = place.below(f"cadence {number}")
        if not rate.source.strip():
            at.below("source").fault("standards.text_empty")
        if not 0 < rate.low <= rate.high:
            at.fault("standards.bounds_crossed", least=str(rate.low), most=str(rate.high))
    for name in ("length_m", "width_m", "height_m"):
        metres = getattr(movement.space, name)
        if not 0 < metres <= 100:
            at = place.below("space", name)
            at.fault("standards.number_bounds", given=str(metres), least=0, most=100)
    for number, variation in enumerate(movement.variations, start=1):
        if not 10 <= variation.strain_percent <= 1000:
            at = place.below(f"variations {number}", "strain_percent")
            given = str(variation.strain_percent)
            at.fault("standards.number_bounds", given=given, least=10, most=1000)
    for number, counting in enumerate(movement.counting, start=1):
        if not 1 <= counting.mark <= 1000:
            at = place.below(f"counting {number}", "mark")
            at.fault("standards.number_bounds", given=str(counting.mark), least=1, most=1000)


def _once(names: list[str], place: Place) -> None:
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            place.fault("standards.id_twice", given=shown(name))
