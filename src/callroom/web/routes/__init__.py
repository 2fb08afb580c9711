"""Addresses and their handlers: each parses, calls one action, and chooses one view."""

from callroom.web.routes import (
    board,
    desk,
    director,
    doors,
    entries,
    files,
    guide,
    forecast,
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
)

HANDLERS = (
    *public.HANDLERS,
    *guide.HANDLERS,
    *board.HANDLERS,
    *desk.HANDLERS,
    *judge.HANDLERS,
    *rulings.HANDLERS,
    *teams.HANDLERS,
    *scores.HANDLERS,
    *pad.HANDLERS,
    *lane.HANDLERS,
    *director.HANDLERS,
    *files.HANDLERS,
    *doors.HANDLERS,
    *entries.HANDLERS,
    *owner.HANDLERS,
    *forecast.HANDLERS,
    *live.HANDLERS,
    *static.HANDLERS,
)

__all__ = ["HANDLERS"]
