"""The drawn athlete: segment lengths as published, and the flesh around the bones.

Lengths are fractions of stature from Drillis and Contini, "Body Segment Parameters",
Technical Report 1166.03, New York University, 1966, as reproduced in Winter,
"Biomechanics and Motor Control of Human Movement", 4th ed., Wiley, 2009, figure 4.1
(the figures agree in several public restatements of that table; the book itself was not
at hand). One average body stands for everyone: it decides no athlete's repetition.
"""

import msgspec


class Body(msgspec.Struct, frozen=True, kw_only=True):
    """Segment lengths [m] of an athlete of the given stature.

    `ankle_height` is the ankle joint above the sole, `trunk` runs from hip to shoulder,
    `hip_half` and `shoulder_half` from the middle of the body to a joint.
    """

    stature: float
    ankle_height: float
    foot: float
    shank: float
    thigh: float
    trunk: float
    neck: float
    head: float
    upper_arm: float
    forearm: float
    hand: float
    hip_half: float
    shoulder_half: float


# Fractions of stature. Hip, knee, ankle, shoulder and chin are heights above the floor when
# standing: 0.530, 0.285, 0.039, 0.818 and 0.870; a segment is the difference of two of them.
# Hips are 0.191 broad over the flesh; the joints lie inside, at about 0.55 of that (by eye).
FRACTION = {
    "ankle_height": 0.039,
    "foot": 0.152,
    "shank": 0.285 - 0.039,
    "thigh": 0.530 - 0.285,
    "trunk": 0.818 - 0.530,
    "neck": 0.870 - 0.818,
    "head": 1.000 - 0.870,
    "upper_arm": 0.186,
    "forearm": 0.146,
    "hand": 0.108,
    "hip_half": 0.191 / 2 * 0.55,
    "shoulder_half": 0.259 / 2,
}

# What the table does not hold; chosen by eye for the drawing, common practice, no source.
# Where the ankle stands over the foot and where the toes bend, from the heel, as a share of
# the foot; where the hand grips, from the wrist, as a share of the hand.
ANKLE_ON_FOOT = 0.27
TOES_BEND_ON_FOOT = 0.72
GRIP_ON_HAND = 0.42

# Radius of the flesh around the bones, as a fraction of stature.
FLESH = {
    "hip": 0.053,
    "waist": 0.045,
    "chest": 0.058,
    "shoulder": 0.036,
    "elbow": 0.025,
    "wrist": 0.018,
    "hand": 0.023,
    "palm": 0.018,
    "fingers": 0.010,
    "groin": 0.050,
    "knee": 0.035,
    "calf": 0.036,
    "ankle": 0.022,
    "heel": 0.018,
    "toes": 0.013,
    "front_foot": 0.026,
    "neck": 0.030,
    "skull": 0.057,
    "cheek": 0.042,
    "jaw": 0.030,
}


def body_of(stature_m: float = 1.75) -> Body:
    """Return the segment lengths of an athlete `stature_m` tall.

    Example: a thigh is 0.245 of the stature, so 0.429 m at 1.75 m.
    """
    lengths = {name: share * stature_m for name, share in FRACTION.items()}
    return Body(stature=stature_m, **lengths)
