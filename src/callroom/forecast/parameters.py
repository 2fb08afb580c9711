"""The parameters of the athlete model, read from ``data``; docs/forecast.md explains them."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import msgspec


class Levels(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The usual level of a division, and how athletes spread about it [levels]."""

    usual: float
    team_sd: float
    athlete_sd: float
    own_sd: float
    form_sd: float
    source: str


class CategoryBody(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Strength [kg], critical power [W] and the reserve above it [J] of a category at level 0."""

    clean_kg: float
    critical_w: float
    reserve_j: float
    source: str

    @property
    def span_s(self) -> float:
        """The reserve in seconds of critical power: W' / CP [s]."""
        return self.reserve_j / self.critical_w


class Growth(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a level more is worth, as a natural logarithm."""

    strength: float
    endurance: float
    hold: float
    repetitions: float
    one_figure: float
    source: str


class Fatigue(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How work drains the reserve and slows the pace, as shares; times in [s]."""

    rest_ratio: float
    fade: float
    kept: float
    least_set: float
    most_needed: float
    heavy_from: float
    heavy_slows: float
    engine_load_slows: float
    engine_effort_s: float
    muscle_back_s: float
    source: str


class Teamwork(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How teams take turns [s] and what they lift; shares of a maximum lift."""

    turn_s: float
    engine_turn_s: float
    alone_turn_s: float
    handover_s: float
    engine_handover_s: float
    hand_tag_s: float
    transition_s: float
    team_transition_s: float
    in_step: float
    attempt_sd: float
    attempt_share: float
    source: str


class AthleteModel(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """All parameters of athletes and teams."""

    levels: Levels
    categories: Mapping[str, CategoryBody]
    growth: Growth
    fatigue: Fatigue
    teamwork: Teamwork

    def body(self, category: str) -> CategoryBody:
        """Return the figures of `category`; those of ``other`` for one that is not listed."""
        return self.categories.get(category, self.categories["other"])


class FreshRepetitions(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Repetitions in one go without load at level 0."""

    women: float
    men: float

    def of(self, category: str) -> float:
        """Return those of `category`; halfway for one that is neither."""
        known = {"women": self.women, "men": self.men}
        return known.get(category, (self.women + self.men) / 2)


class WorkModel(msgspec.Struct, frozen=True, kw_only=True):
    """What movements ask: tables by capacity, and by movement where it differs.

    Attributes
    ----------
    effort
        Power as a multiple of critical power.
    most
        The most moved once, as a share of the most cleaned once.
    fresh
        Repetitions in one go without load.
    able_from
        The level of skill from which a movement can be done at all.
    """

    effort: Mapping[str, float]
    most: Mapping[str, float]
    fresh: Mapping[str, FreshRepetitions]
    effort_order: tuple[str, ...]
    most_order: tuple[str, ...]
    fresh_order: tuple[str, ...]
    effort_of: Mapping[str, float]
    most_of: Mapping[str, float]
    fresh_of: Mapping[str, FreshRepetitions]
    able_from: Mapping[str, float]


@cache
def athlete_model() -> AthleteModel:
    """Return the parameters of ``data/athletes.toml``."""
    return msgspec.convert(_read("athletes.toml"), AthleteModel)


@cache
def work_model() -> WorkModel:
    """Return the parameters of ``data/work.toml``."""
    tables = _read("work.toml")
    for name in ("effort", "most", "fresh"):
        tables[f"{name}_order"] = tables[name].pop("order")
    return msgspec.convert(tables, WorkModel)


def _read(name: str) -> dict[str, Any]:
    text = (files("callroom.forecast") / "data" / name).read_text(encoding="utf-8")
    return tomllib.loads(text)
