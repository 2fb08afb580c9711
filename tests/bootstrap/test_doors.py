"""The director comes in by passphrase, crew by a code that works once."""

import asyncio
from pathlib import Path

import pytest

from callroom.bootstrap.clocks import SteppedClock
from callroom.bootstrap.doors import CODE_LIFE_MS, SESSION_LIFE_MS
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import file_of
from callroom.model import Refusal
from callroom.views.codes import BadCode
from tests.bootstrap.day_books import START_MS, day_book

pytestmark = pytest.mark.store

PASSPHRASE = "seven wet ropes in a row"


@pytest.fixture
def clock() -> SteppedClock:
    return SteppedClock(START_MS)


@pytest.fixture
def book(tmp_path: Path, clock: SteppedClock) -> OpenBook:
    return day_book(tmp_path / "day.book", clock)


def test_the_passphrase_opens_and_is_not_kept(book: OpenBook) -> None:
    asyncio.run(book.doors.set_passphrase(PASSPHRASE))
    token = asyncio.run(book.doors.sign_in(PASSPHRASE, "here"))
    actor = book.doors.holder(token)
    assert actor is not None
    assert actor.role == "director"
    book.close()
    stored = file_of(book.path).read_bytes()
    assert PASSPHRASE.encode() not in stored
    assert token.encode() not in stored


def test_a_wrong_passphrase_is_refused_and_soon_asked_to_wait(
    book: OpenBook, clock: SteppedClock
) -> None:
    asyncio.run(book.doors.set_passphrase(PASSPHRASE))
    rules = []
    for _ in range(7):
        with pytest.raises(Refusal) as refused:
            asyncio.run(book.doors.sign_in("not the passphrase", "there"))
        rules.append(refused.value.rule)
    assert rules[:5] == ["passphrase.wrong"] * 5
    assert rules[5:] == ["guesses.too_many"] * 2
    # Others may still come in, and so may the guesser after the wait.
    assert asyncio.run(book.doors.sign_in(PASSPHRASE, "here"))
    clock.wait_until(START_MS + 3_000)
    assert asyncio.run(book.doors.sign_in(PASSPHRASE, "there"))
    book.close()


def test_a_short_passphrase_is_refused(book: OpenBook) -> None:
    with pytest.raises(Refusal, match="length"):
        asyncio.run(book.doors.set_passphrase("short"))
    assert not book.doors.has_passphrase()
    book.close()


def test_a_code_lets_one_device_in_once(book: OpenBook) -> None:
    code = book.doors.make_code("judge", "Lane 3")
    device, token = asyncio.run(book.doors.join(code.lower(), "Sam's phone", "here"))
    actor = book.doors.holder(token)
    assert actor is not None
    assert (actor.role, actor.device) == ("judge", device)
    assert book.doors.label_of(device) == "Sam's phone"
    assert not any(b"Sam" in entry.data for entry in book.store.entries())
    with pytest.raises(Refusal, match="used_or_unknown"):
        asyncio.run(book.doors.join(code, "another", "here"))
    book.close()


def test_two_devices_racing_with_one_code(book: OpenBook) -> None:
    code = book.doors.make_code("judge", "")

    async def race() -> list[object]:
        tries = (book.doors.join(code, f"phone {number}", "here") for number in range(6))
        return list(await asyncio.gather(*tries, return_exceptions=True))

    outcomes = asyncio.run(race())
    assert sum(isinstance(outcome, tuple) for outcome in outcomes) == 1
    assert len(book.state.devices) == 1
    book.close()


def test_a_code_expires(book: OpenBook, clock: SteppedClock) -> None:
    code = book.doors.make_code("desk", "")
    clock.wait_until(START_MS + CODE_LIFE_MS + 1)
    with pytest.raises(Refusal, match="expired"):
        asyncio.run(book.doors.join(code, "late", "here"))
    book.close()


def test_a_mistyped_code_is_known_as_mistyped_and_costs_no_try(book: OpenBook) -> None:
    code = book.doors.make_code("desk", "")
    other = "3" if code[0] == "2" else "2"
    for _ in range(20):
        with pytest.raises(BadCode):
            asyncio.run(book.doors.join(other + code[1:], "slip", "here"))
    assert asyncio.run(book.doors.join(code, "desk", "here"))
    book.close()


def test_a_session_ends_by_itself_and_by_leaving(book: OpenBook, clock: SteppedClock) -> None:
    asyncio.run(book.doors.set_passphrase(PASSPHRASE))
    kept = asyncio.run(book.doors.sign_in(PASSPHRASE, "here"))
    left = asyncio.run(book.doors.sign_in(PASSPHRASE, "here"))
    book.doors.leave(left)
    assert book.doors.holder(left) is None
    assert book.doors.holder(kept) is not None
    clock.wait_until(START_MS + SESSION_LIFE_MS + 1)
    assert book.doors.holder(kept) is None
    book.close()


def test_a_proof_lets_the_same_device_in_once(book: OpenBook) -> None:
    code = book.doors.make_code("judge", "")
    device, token = asyncio.run(book.doors.join(code, "", "there"))
    proof = book.doors.proof_of(token)
    taken = asyncio.run(book.doors.take_over(proof, "elsewhere"))
    actor = book.doors.holder(taken)
    assert actor is not None
    assert (actor.role, actor.device) == ("judge", device)
    with pytest.raises(Refusal, match=r"proof\.used_or_unknown"):
        asyncio.run(book.doors.take_over(proof, "elsewhere"))
    # The next move needs the next proof.
    assert asyncio.run(book.doors.take_over(book.doors.proof_of(taken), "elsewhere"))
    book.close()
    stored = file_of(book.path).read_bytes()
    assert proof.encode() not in stored


def test_the_director_has_no_proof_and_guessing_one_is_slowed(book: OpenBook) -> None:
    asyncio.run(book.doors.set_passphrase(PASSPHRASE))
    session = asyncio.run(book.doors.sign_in(PASSPHRASE, "here"))
    rules = []
    for proof in (book.doors.proof_of(session), *(f"guess {number}" for number in range(6))):
        with pytest.raises(Refusal) as refused:
            asyncio.run(book.doors.take_over(proof, "there"))
        rules.append(refused.value.rule)
    assert rules[0] == "proof.used_or_unknown"
    assert rules[-1] == "guesses.too_many"
    book.close()


def test_other_sessions_of_the_director_end_and_unused_codes_open_nothing(book: OpenBook) -> None:
    doors = book.doors
    asyncio.run(doors.set_passphrase(PASSPHRASE))
    mine, other = (asyncio.run(doors.sign_in(PASSPHRASE, "here")) for _ in range(2))
    judge = asyncio.run(doors.join(doors.make_code("judge", ""), "", "here"))[1]
    code = doors.make_code("crew", "")
    assert (doors.end_other_directors(mine), doors.drop_codes("crew")) == (1, 1)
    assert [doors.holder(one) is not None for one in (mine, other, judge)] == [True, False, True]
    with pytest.raises(Refusal, match=r"code\.used_or_unknown"):
        asyncio.run(doors.join(code, "", "here"))
    book.close()
