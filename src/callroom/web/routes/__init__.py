"""Addresses and their handlers: each parses, calls one action, and chooses one view."""

from callroom.web.routes import (
    board,
    desk,
    director,
    doors,
    entries,
    judge,
    lane,
    live,
    owner,
    pad,
    public,
    scores,
    static,
)

HANDLERS = (
    *public.HANDLERS,
    *board.HANDLERS,
    *desk.HANDLERS,
    *judge.HANDLERS,
    *scores.HANDLERS,
    *pad.HANDLERS,
    *lane.HANDLERS,
    *director.HANDLERS,
    *doors.HANDLERS,
    *entries.HANDLERS,
    *owner.HANDLERS,
    *live.HANDLERS,
    *static.HANDLERS,
)

__all__ = ["HANDLERS"]
