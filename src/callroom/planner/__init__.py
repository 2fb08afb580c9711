"""The day as a plan: timetable, seeding, lanes, rota, kit and repair.

Decides: which team is in which heat and lane and when, and (separately, in ``check``)
whether a plan keeps every rule. ``solve`` proposes, ``check`` judges, and they share
nothing. ``solve`` and its solver are not imported here: they load only when asked for.
Never does: read a clock or a file; forecasts arrive as values.
May import: ``model``; ``solve`` alone imports ortools.
"""
