"""Built files of the browser."""

from litestar import Response, get
from litestar.params import FromPath, FromQuery

from callroom.model import NotFound
from callroom.web.given import InHouse


@get("/static/{name:path}")
async def send_asset(
    house: InHouse, name: FromPath[str], v: FromQuery[str] = ""
) -> Response[bytes]:
    """Send one file; under its versioned address it may be kept for ever."""
    asset = house.assets.get(name.lstrip("/"))
    if asset is None:
        raise NotFound("web.no_page")
    return Response(
        asset.content,
        media_type=asset.media_type,
        headers={"cache-control": house.assets.cache_rule(asset, v)},
    )


HANDLERS = (send_asset,)
