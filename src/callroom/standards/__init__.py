"""The movement library: what each movement asks for, as data.

Decides: which movements exist, their points of performance, no-rep reasons, kit, space,
usual cadence and cautions, and the figures drawn from joint angles.
Never does: judge a result or forecast a pace; it only reads its own data files.
May import: ``model``.
"""
