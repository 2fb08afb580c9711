"""The director's own pages: at the machine itself or over TLS only."""

import asyncio
from collections import Counter
from typing import Any

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.digest import inputs_digest
from callroom.model import State
from callroom.views.home import division_links
from callroom.views.open_list import most_urgent
from callroom.views.score_list import score_list
from callroom.web.contexts import CodesPage, DevicesPage, DirectorPage
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.hosts import leads_here, open_to_phones
from callroom.web.house import ROLES_BY_CODE, Asked, House, need_director, new_key
from callroom.web.qr import qr_svg
from callroom.web.routes.open_list import open_items
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

MOST_CODES = 40


@get("/director")
async def show_director(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[Any]:
    """The event at a glance; of a book that has none, its first questions."""
    need_director(visitor)
    state = house.state
    if state.event is None:
        return Redirect("/director/event", status_code=303)
    still_open = open_items(house)
    in_force = [device for device in state.devices.values() if device.revoked_seq is None]
    page = DirectorPage(
        divisions=division_links(state),
        counts={
            "teams": len(state.teams) - len(state.team_status),
            "out": len(state.team_status),
            "crew": len(state.crew),
            "kit": len(state.kit),
            "workouts": len(state.event.workouts),
            "heats": len(state.plan.heats) if state.plan is not None else 0,
        },
        scores=score_list(state),
        devices=len(in_force),
        plan_is_old=_plan_is_old(state),
        urgent=most_urgent(still_open),
        open_count=len(still_open),
    )
    return house.show(request, visitor, page)


@get("/director/devices")
async def show_devices(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Devices that joined, and codes to let more in."""
    need_director(visitor)
    return _devices_page(request, house, visitor)


def _devices_page(
    request: Asked, house: House, visitor: Visitor, told: Told | None = None
) -> Response[str]:
    devices = sorted(house.state.devices.values(), key=lambda device: -device.joined_seq)
    labels = {device.id: house.book.doors.label_of(device.id) for device in devices}
    page = DevicesPage(
        devices=tuple(devices),
        trainings=house.state.trainings,
        labels=labels,
        roles=ROLES_BY_CODE,
        seen=house.seen.devices,
        in_force=Counter(one.role for one in devices if one.revoked_seq is None),
        key=new_key(),
        told=told,
    )
    return house.show(request, visitor, page)


@post("/director/devices", status_code=200)
async def revoke(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Take a device's role, or sign several out."""
    need_director(visitor)
    if form.text("do") == "sign_out":
        return _devices_page(request, house, visitor, await _sign_out(house, visitor, form))
    if visitor.actor is not None:
        asked = day.revoke_device(form.text("device"))
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/devices", status_code=303)


async def _sign_out(house: House, visitor: Visitor, form: Posted) -> Told:
    """Sign out everybody of a role, the director's other sessions, or all of them."""
    words, whose = house.words, form.text("whose")
    if not form.ticked("sure"):
        return Told(text=words.gettext("Nothing was done: tick that you mean it."), good=False)
    if whose not in {"all", "director", *ROLES_BY_CODE}:
        raise Unreadable("web.unknown_button", given=whose[:80])
    role = next((one for one in ROLES_BY_CODE if one == whose), None)
    gone = tuple(
        device.id
        for device in house.state.devices.values()
        if device.revoked_seq is None and whose in {"all", device.role}
    )
    if gone and visitor.actor is not None:
        key = form.text("key") or new_key()
        await house.book.ask(visitor.actor, day.revoke_devices(gone), key=key)
    ended, codes = 0, 0
    if whose in {"all", "director"}:
        ended = await asyncio.to_thread(house.book.doors.end_other_directors, visitor.token)
    if whose != "director":
        codes = await asyncio.to_thread(house.book.doors.drop_codes, role)
    said = words.gettext(
        "Signed out: {devices} devices, {directors} other sessions of the director. "
        "Unused codes that open nothing any more: {codes}."
    )
    return Told(text=said.format(devices=len(gone), directors=ended, codes=codes), good=True)


@get("/director/codes")
async def show_no_codes(visitor: ByVisitor) -> Response[Any]:
    """Lead back to the devices: codes are shown once, and a reload must not make new ones."""
    need_director(visitor)
    return Redirect("/director/devices", status_code=303)


@post("/director/codes", status_code=200)
async def make_codes(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[str]:
    """Make join codes and show them, once, with their QR codes."""
    need_director(visitor)
    role = next((role for role in ROLES_BY_CODE if role == form.text("role")), None)
    count = form.whole("count") or 1
    if role is None or not 1 <= count <= MOST_CODES:
        raise Unreadable("web.codes_impossible", given=form.text("count")[:20], most=MOST_CODES)
    label = form.text("label")[:80]
    address = _address(request, house)
    codes = [await asyncio.to_thread(house.book.doors.make_code, role, label) for _ in range(count)]
    page = CodesPage(
        role=role,
        label=label,
        codes=tuple((code, qr_svg(f"{address}/join/{code}")) for code in codes),
        address=address,
        reachable=leads_here(address, house.settings),
        elsewhere=open_to_phones(house.settings),
    )
    return house.show(request, visitor, page)


def _plan_is_old(state: State) -> bool:
    """Whether data changed since planning; on the day every start is such a change, and none."""
    if state.plan is None or any(run.started_ms is not None for run in state.heats.values()):
        return False
    return state.plan.inputs_digest != inputs_digest(state)


def _address(request: Asked, house: House) -> str:
    """Return where phones find this server: as set, else as the event says, else as asked."""
    event = house.state.event
    said = house.settings.address or (event.address if event is not None else "")
    return (said or str(request.base_url)).rstrip("/")


HANDLERS = (show_director, show_devices, revoke, make_codes, show_no_codes)
