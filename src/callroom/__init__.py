"""Callroom: plan and run a one-day team fitness competition for a good cause.

One journal, folded into one state; pure functions over the state; thin faces on top.
The packages are layers, lowest first: ``model``, ``standards``, ``forecast``, then
``planner``, ``scoring``, ``safety``, ``funds``, ``exchange`` and ``journal`` side by side,
``actions`` and ``views``, ``paper`` and ``bootstrap``, ``web``, ``cli``. An upper one may
import a lower one, never the other way round; ``.importlinter`` states it so that
``make check`` can test it.
"""
