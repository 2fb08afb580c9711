"""Addresses and their handlers: each parses, calls one action, and chooses one view."""

from callroom.web.routes import (
    amendments,
    board,
    desk,
    director,
    doors,
    entries,
    files,
    forecast,
    guide,
    judge,
    lane,
    live,
    owner,
    pad,
    public,
    rulings,
    scores,
    static,
    teams,
    training,
)

HANDLERS = (
    *public.HANDLERS,
    *guide.HANDLERS,
    *training.HANDLERS,
    *board.HANDLERS,
    *desk.HANDLERS,
    *judge.HANDLERS,
    *rulings.HANDLERS,
    *amendments.HANDLERS,
    *teams.HANDLERS,
    *scores.HANDLERS,
    *pad.HANDLERS,
    *lane.HANDLERS,
    *director.HANDLERS,
    *forecast.HANDLERS,
    *files.HANDLERS,
    *doors.HANDLERS,
    *entries.HANDLERS,
    *owner.HANDLERS,
    *live.HANDLERS,
    *static.HANDLERS,
)

__all__ = ["HANDLERS"]
