"""Hatchling's build hook: the browser's assets and the catalogues are built into sdist and wheel."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

sys.path.insert(0, str(Path(__file__).resolve().parent / "tools"))

import build_frontend
import catalogues


class FrontendBuildHook(BuildHookInterface[Any]):
    """Build the assets when they are stale, and ask for Node only then."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """Node and babel from the package index, unless what they make is there already."""
        node = [] if build_frontend.is_fresh() else [build_frontend.NODE_REQUIREMENT]
        return node + ([catalogues.BABEL_REQUIREMENT] if catalogues.stale() else [])

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Build before hatchling collects the files."""
        if not build_frontend.is_fresh():
            build_frontend.build()
        catalogues.compile_stale()
