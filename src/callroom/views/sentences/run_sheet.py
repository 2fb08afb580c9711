"""Sentences of the run sheet: what each line of the day is."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "run.set_up": N_("Set up: lanes, kit, tables, sound, ways out walked"),
        "run.doors": N_("Doors open"),
        "run.check_in": N_("Teams check in: consents, payments, packs"),
        "run.briefing": N_("Judges’ briefing at the lanes"),
        "run.heat": N_("{workout}, heat {number}: {teams} teams, called for {report_at_s}"),
        "run.changeover": N_("Change the floor over to {workout}"),
        "run.pause": N_("{name}"),
        "run.side": N_("{name}"),
        "run.release": N_("{workout} becomes public"),
        "run.posting": N_("{workout}: confirm the last heat, post the standings"),
        "run.shift": N_("On duty: {post}"),
        "run.shift_open": N_("Nobody yet for: {post}"),
        "run.pack": N_("Pack down: floor swept, tape off, kit sorted by lender"),
        "run.kit_back": N_("{count} pieces ready to go back to {lender}"),
    }
)
