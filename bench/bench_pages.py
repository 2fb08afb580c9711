"""Pages: how heavy the public ones are at first, how long the director's take, how quick check-in is.

``page_weight_kb_max``: the first load of any public page over the wire, in thousands of bytes:
the page, its styles, scripts, picture and every font that it needs a character of, each with its
headers, compressed as a browser asks for it.

``page_ms_p95``: from asking a real server on a real book to the last byte of a page of the
director's, desk's or head judge's, at 120 teams after their whole day; the 95th percentile over
every address without a variable in it and some with one. Before each round something is stored,
so that nothing is answered from a State before. ``page_ms_max`` is the slowest of them.

``touch_ms_p95``: a heat moved by hand in a draft of the plan, until the picture drawn anew, with
what comes of the move, is there.

``check_in_keys_per_athlete``: what two people type and touch to check 50 teams of four in: the
first letters of words of the name until it is found alone, Enter, and Enter on the button.
``check_in_busy_percent``: the server's part of the 30 minutes that two people have for 200
athletes, both at once against the same server.
"""

import asyncio
import itertools
import json
import re
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urljoin

import httpx

from callroom.bootstrap.books import open_book
from callroom.views.check_in import check_in_desk, found_by_name
from callroom.web.app import addresses
from pages_book import make_book

PASSPHRASE = "seven green bottles"  # noqa: S105 - of a book that lives for a minute
CHECK_IN_S = 30 * 60
TEAM_SIZE, TEAMS_IN = 4, 50
PUBLIC = ("/", "/timetable", "/standings", "/workouts", "/rulings", "/changes", "/board", "/enter")
BY_ROLE = ("/director", "/desk", "/judge", "/check-in", "/line-ups", "/board", "/floor")
FILES = (".pdf", ".zip", ".txt", ".csv", "/codes", "/book")


def figures(*, quick: bool) -> dict[str, float]:
    """Make the book, play its day, and measure on both."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.book"
        make_book(path, teams=120, plan_s=5 if quick else 10)
        keys = _keys(path)
        with _served(path) as url:
            busy_s = _checked_in(url, path)
        subprocess.run(
            [sys.executable, "-m", "callroom", "rehearse", str(path), "--json"],
            check=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        played = path.with_name(f"{path.name}.rehearsal")
        with _served(played) as url:
            weights = dict(_weights(url, _public(played)))
            times = _times(url, _private(played), rounds=2 if quick else 5)
            touched = sorted(_touches(url, 10 if quick else 40))
    every = sorted(itertools.chain.from_iterable(times.values()))
    slowest = sorted(times, key=lambda one: -max(times[one]))[:5]
    heaviest = max(weights, key=lambda one: weights[one])
    print(f"  heaviest: {heaviest}; slowest: {', '.join(slowest)}", file=sys.stderr)
    return {
        "page_weight_kb_max": weights[heaviest] / 1000,
        "page_ms_p95": every[int(len(every) * 0.95)],
        "page_ms_median": statistics.median(every),
        "page_ms_max": every[-1],
        "touch_ms_p95": touched[int(len(touched) * 0.95)],
        "check_in_keys_per_athlete": keys / (TEAMS_IN * TEAM_SIZE),
        "check_in_busy_percent": 100 * busy_s / (2 * CHECK_IN_S),
    }


# ---- a server and those who ask it ---------------------------------------------------------------


@contextmanager
def _served(path: Path) -> Iterator[str]:
    """Serve a book by a process of its own; its director has a passphrase."""
    book = open_book(path)
    asyncio.run(book.doors.set_passphrase(PASSPHRASE))
    book.close()
    words = ["serve", str(path), "--port", "0", "--no-browser", "--json"]
    server = subprocess.Popen(
        [sys.executable, "-m", "callroom", *words], stdout=subprocess.PIPE, text=True
    )
    try:
        assert server.stdout is not None
        said = "".join(iter(server.stdout.readline, "}\n")) + "}"
        yield json.loads(said)["url"].replace("127.0.0.1", "localhost")
    finally:
        server.terminate()
        server.communicate()


@contextmanager
def _director(url: str) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=url, headers={"accept": "text/html"}, timeout=60) as browser:
        sent = {"passphrase": PASSPHRASE, "form_token": _token(browser.get("/sign-in").text)}
        browser.post("/sign-in", data=sent)
        yield browser


def _token(page: str) -> str:
    return page.partition('name="form_token" value="')[2].partition('"')[0]


def _one_of(path: Path) -> dict[str, str]:
    """Return something that there is, for the variables of addresses."""
    book = open_book(path, writing=False)
    try:
        state = book.state
        event = state.event
        if event is None or state.plan is None:
            raise SystemExit("the book of the benchmark is empty")
        team = next(iter(state.teams.values()))
        return {
            "team_id": team.id,
            "division_id": team.division,
            "workout_id": event.workouts[0].id,
            "heat_id": state.plan.heats[0].id,
            "person": team.athletes[0].person,
            "movement_id": event.workouts[0].parts[0].blocks[0].tasks[0].movement,
            "floor_id": event.floors[0].id,
        }
    finally:
        book.close()


def _addresses(path: Path) -> list[str]:
    """Return every address of a page, its variables filled in where we know something."""
    known, found = _one_of(path), []
    for route in addresses().routes:
        if "GET" not in getattr(route, "methods", ()) or route.path.endswith(FILES):
            continue
        filled = re.sub(
            r"\{(\w+):str\}", lambda name: known.get(name.group(1), name.group(0)), route.path
        )
        if "{" not in filled:
            found.append(filled)
    return found


def _private(path: Path) -> list[str]:
    return sorted(one for one in _addresses(path) if one.startswith(BY_ROLE))


def _public(path: Path) -> list[str]:
    wanted = [*PUBLIC, "/team/", "/standings/", "/workouts/", "/movements/", "/enter/", "/raised"]
    left_out = ("/calendar.ics",)
    return sorted(
        one
        for one in _addresses(path)
        if not one.endswith(left_out) and (one in PUBLIC or one.startswith(tuple(wanted[1:])))
    )


# ---- weight --------------------------------------------------------------------------------------


def _weights(url: str, paths: list[str]) -> Iterator[tuple[str, int]]:
    """Give the bytes that the first load of each page brings over the wire."""
    with httpx.Client(base_url=url, headers={"accept": "text/html"}, timeout=60) as browser:
        for path in paths:
            page = browser.get(path)
            if page.status_code != 200:
                continue
            asked = re.findall(r'<(?:link|script)[^>]+(?:href|src)="(/static/[^"]+)"', page.text)
            parts = [browser.get(one) for one in dict.fromkeys(asked)]
            styles = [one for one in parts if "text/css" in one.headers["content-type"]]
            fonts = {
                urljoin(str(style.url.copy_with(query=None)), name)
                for style in styles
                for name, wanted in _fonts(style.text)
                if any(ord(one) in wanted for one in set(page.text))
            }
            parts += [browser.get(font) for font in fonts]
            yield path, sum(_bytes(one) for one in [page, *parts])


def _bytes(answer: httpx.Response) -> int:
    head = sum(len(name) + len(value) + 4 for name, value in answer.headers.raw)
    return answer.num_bytes_downloaded + head


def _fonts(style: str) -> Iterator[tuple[str, set[int]]]:
    """Give each font of a stylesheet with the characters for which a browser fetches it."""
    for face in re.findall(r"@font-face\s*\{(.*?)\}", style, re.DOTALL):
        name = re.search(r"url\([\"']?([^)\"']+)", face)
        spans = re.findall(r"[Uu]\+([0-9A-Fa-f]+)(?:-([0-9A-Fa-f]+))?", face)
        if name is not None:
            wanted = {
                code
                for first, last in spans
                for code in range(int(first, 16), int(last or first, 16) + 1)
            }
            yield name.group(1), wanted


# ---- time ----------------------------------------------------------------------------------------


def _times(url: str, paths: list[str], *, rounds: int) -> dict[str, list[float]]:
    """Return how long each page took each time [ms]."""
    taken: dict[str, list[float]] = {}
    with _director(url) as browser:
        for turn in range(rounds):
            _store_something(browser, turn)
            for path in paths:
                began = time.perf_counter()
                answer = browser.get(path)
                took_ms = (time.perf_counter() - began) * 1000
                if answer.status_code == 200:
                    taken.setdefault(path, []).append(took_ms)
    return taken


def _store_something(browser: httpx.Client, turn: int) -> None:
    page = browser.get("/director/devices").text
    token = re.findall(r'<meta name="form-token" content="([^"]+)"', page)[0]
    heads = {"idempotency-key": f"bench-{turn}", "x-form-token": token}
    entry = {"kind": "desk.set", "data": {"double_entry": turn % 2 == 0}}
    browser.post("/entries", json=entry, headers=heads).raise_for_status()


def _touches(url: str, count: int) -> Iterator[float]:
    """Move the last heat of a draft later, minute by minute; give how long each took [ms]."""
    with _director(url) as browser:
        token = _token(browser.get("/director/plan").text)
        sent = {"form_token": token}
        begun = browser.post("/director/plan/in-force/touch", data=sent, follow_redirects=True)
        last = re.findall(r'data-heat="([^"]+)" data-start="(\d+)"', begun.text)
        heat = max(last, key=lambda one: int(one[1]))[0]
        for turn in range(count):
            move = sent | {"do": "move 60", "heat": heat, "turn": str(turn)}
            began = time.perf_counter()
            answer = browser.post(begun.url.path, data=move, headers={"hx-request": "true"})
            took_ms = (time.perf_counter() - began) * 1000
            answer.raise_for_status()
            yield took_ms


# ---- check-in ------------------------------------------------------------------------------------


def _fours(path: Path) -> list[tuple[str, str]]:
    """Return the teams of four to check in, each with the shortest that finds it alone."""
    book = open_book(path, writing=False)
    desk = check_in_desk(book.state, {})
    book.close()
    fours = [one for one in desk.teams if len(one.athletes) >= TEAM_SIZE][:TEAMS_IN]
    found = []
    for one in fours:
        words = one.open.name.split()
        tries = [
            " ".join(word[:letters] for word in words[:count])
            for letters, count in itertools.product((3, 4, 5, 20), range(1, len(words) + 1))
        ]
        alone = [typed for typed in tries if len(found_by_name(desk, typed)) == 1]
        found.append((one.open.team, min(alone, key=len) if alone else one.open.team))
    return found


def _keys(path: Path) -> int:
    return sum(len(typed) + 2 for _, typed in _fours(path))


def _checked_in(url: str, path: Path) -> float:
    """Check all in by two devices at once; return how long they waited together [s]."""
    fours, waited = _fours(path), []

    def check_in(mine: list[tuple[str, str]]) -> None:
        with _director(url) as browser:
            for team, typed in mine:
                began = time.perf_counter()
                page = browser.get("/check-in", params={"find": typed}, follow_redirects=True)
                sent = {"form_token": _token(page.text), "do": "whole", "key": f"bench-{team}"}
                done = browser.post(f"/check-in/{team}", data=sent, follow_redirects=True)
                done.raise_for_status()
                waited.append(time.perf_counter() - began)

    devices = [threading.Thread(target=check_in, args=(fours[start::2],)) for start in (0, 1)]
    for device in devices:
        device.start()
    for device in devices:
        device.join()
    if len(waited) != len(fours):
        raise SystemExit("not every team was checked in")
    return sum(waited)
