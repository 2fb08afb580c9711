"""Stylesheets, scripts and fonts: read once, addressed by content so that they keep for ever."""

import mimetypes
from importlib.resources import files
from pathlib import Path

import msgspec

from callroom.model import CallroomError

_FOR_EVER = "public, max-age=31536000, immutable"
_A_DAY = "public, max-age=86400"
mimetypes.add_type("font/woff2", ".woff2")
mimetypes.add_type("text/javascript", ".js")  # some Windows registries say text/plain


class AssetsMissing(CallroomError):
    """The browser's files were not built."""


class Asset(msgspec.Struct, frozen=True):
    """One file: its bytes, media type, and the digits of its digest in its address."""

    content: bytes
    media_type: str
    digits: str


class Assets:
    """The built files of ``static/``."""

    def __init__(self, folder: Path | None = None) -> None:
        """Read every file the manifest lists; AssetsMissing if they were not built."""
        folder = folder or Path(str(files("callroom.web") / "static"))
        try:
            manifest = msgspec.json.decode((folder / "manifest.json").read_bytes())
        except OSError as fault:
            raise AssetsMissing("web.assets_missing", folder=str(folder)) from fault
        self._assets = {
            name.removeprefix("web/static/"): self._read(folder, name, digest)
            for name, digest in manifest["files"].items()
            if name.startswith("web/static/")
        }

    @staticmethod
    def _read(folder: Path, name: str, digest: str) -> Asset:
        path = folder / name.removeprefix("web/static/")
        media_type = mimetypes.guess_type(path.name)[0] or "text/plain"
        return Asset(path.read_bytes(), media_type, digest[:12])

    def address(self, name: str) -> str:
        """Return the address of a file; KeyError if there is none."""
        return f"/static/{name}?v={self._assets[name].digits}"

    def names(self) -> tuple[str, ...]:
        """Return the name of every file."""
        return tuple(self._assets)

    def get(self, name: str) -> Asset | None:
        """Return a file, or None."""
        return self._assets.get(name)

    @staticmethod
    def cache_rule(asset: Asset, asked: str) -> str:
        """Return how long a browser may keep an answer to a request for version `asked`."""
        return _FOR_EVER if asked == asset.digits else _A_DAY
