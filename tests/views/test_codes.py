"""The check character, the stability of codes, and how a code is read."""

import itertools

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Rerun, State
from callroom.views.codes import (
    ALPHABET,
    BadCode,
    CardRef,
    card_address,
    card_code,
    cards_in,
    check_character,
    read_code,
    spaced,
    tidied,
)
from tests.views.building import example_event, example_state, example_teams

ids = st.text(min_size=1, max_size=12)
refs = st.builds(CardRef, workout=ids, team=ids, attempt=st.integers(1, 9))
codes = st.builds(
    lambda body: body + check_character(body),
    st.text(alphabet=ALPHABET, min_size=7, max_size=7),
)


def test_the_alphabet_has_no_twins() -> None:
    assert not set(ALPHABET) & set("0O1ILSU")
    assert len(ALPHABET) == len(set(ALPHABET)) == 29


def test_every_single_error_changes_the_sum() -> None:
    """Exhaustive in what matters: the sum is linear, so one body stands for all others.

    Changing a character adds weight x difference; all positions and all differences are tried.
    """
    body = "2" * 7
    for position, sign in itertools.product(range(7), ALPHABET[1:]):
        changed = body[:position] + sign + body[position + 1 :]
        assert check_character(changed) != check_character(body)


def test_every_adjacent_pair_of_characters_is_told_from_its_exchange() -> None:
    """Exhaustive: every place in the body, every pair; then body and check character."""
    for position, (one, other) in itertools.product(range(6), itertools.permutations(ALPHABET, 2)):
        rest = "2" * 5
        right = rest[:position] + one + other + rest[position:]
        wrong = rest[:position] + other + one + rest[position:]
        assert check_character(right) != check_character(wrong)
    for first, last in itertools.product(ALPHABET, ALPHABET):
        body = f"{first}22222{last}"
        check = check_character(body)
        assert check == last or check_character(f"{body[:6]}{check}") != last


@given(codes, st.integers(0, 7), st.sampled_from(ALPHABET))
def test_a_single_wrong_character_is_noticed(code: str, position: int, sign: str) -> None:
    wrong = code[:position] + sign + code[position + 1 :]
    if wrong == code:
        assert tidied(wrong) == code
    else:
        with pytest.raises(BadCode, match=r"code\.mistyped"):
            tidied(wrong)


@given(codes, st.integers(0, 6))
def test_two_neighbours_exchanged_are_noticed(code: str, position: int) -> None:
    wrong = code[:position] + code[position + 1] + code[position] + code[position + 2 :]
    if wrong != code:
        with pytest.raises(BadCode, match=r"code\.mistyped"):
            tidied(wrong)


@given(codes)
def test_typing_habits_do_not_matter(code: str) -> None:
    for typed in (
        spaced(code).lower(),
        f"  {code[:4]} {code[4:]} ",
        code.replace("5", "s").replace("V", "U"),
        card_address("https://harbour.example:8000/", code) + "\n",
        "".join(chr(ord(sign) + 0xFEE0) for sign in code),  # full width
    ):
        assert tidied(typed) == code


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [("7KQF-2MX", ""), ("", ""), ("7KQF-2MX0", "0"), ("7KQl-2MXR", "L"), ("?", "?")],
)
def test_what_cannot_be_a_code_is_refused_with_the_wrong_sign(typed: str, wrong: str) -> None:
    with pytest.raises(BadCode, match=r"code\.unreadable") as refusal:
        tidied(typed)
    assert refusal.value.facts["wrong"] == wrong


@given(refs, refs)
def test_different_cards_have_different_codes(one: CardRef, other: CardRef) -> None:
    assert (card_code("e", one) == card_code("e", other)) == (one == other)


@given(refs)
def test_event_and_rehearsal_make_other_codes(ref: CardRef) -> None:
    assert len({card_code("a", ref), card_code("b", ref), card_code("a", ref, rehearsal=True)}) == 3


def test_a_code_is_what_it_was_when_it_was_printed() -> None:
    """A change here makes every card on paper worthless: do not adjust, find out why."""
    assert card_code("example-2026", CardRef(workout="w1", team="T01")) == "953NADRE"


def test_every_card_of_the_book_is_read_back() -> None:
    state = example_state()
    cards = cards_in(state)
    assert len(cards) == 16 * 5
    for card in cards:
        assert read_code(card_code("example-2026", card), state) == card


def test_a_code_survives_another_plan_and_other_teams() -> None:
    card = CardRef(workout="w4", team="T09")
    code = card_code("example-2026", card)
    teams = dict(reversed(example_teams().items()))
    del teams["T01"]
    event = example_event()
    event = msgspec.structs.replace(event, workouts=event.workouts[::-1])
    assert read_code(code, example_state(event, teams=teams, plan=None)) == card


def test_a_re_run_has_a_card_of_its_own() -> None:
    rerun = Rerun(seq=9, workout="w1", team="T01", attempt=2, counts="better", reason="lane")
    state = example_state(reruns={"w1/T01": (rerun,)})
    second = CardRef(workout="w1", team="T01", attempt=2)
    assert read_code(card_code("example-2026", second), state) == second
    with pytest.raises(BadCode, match=r"code\.unknown"):
        read_code(card_code("example-2026", second), example_state())


def test_a_card_of_the_rehearsal_opens_nothing_on_the_day() -> None:
    card = CardRef(workout="w1", team="T01")
    code = card_code("example-2026", card, rehearsal=True)
    with pytest.raises(BadCode, match=r"code\.of_rehearsal"):
        read_code(code, example_state())
    assert read_code(code, example_state(rehearsal=True)) == card


def test_the_days_own_cards_can_be_practised_with() -> None:
    card = CardRef(workout="w1", team="T01")
    code = card_code("example-2026", card)
    assert read_code(code, example_state(rehearsal=True)) == card


def test_an_empty_book_knows_no_card() -> None:
    with pytest.raises(BadCode, match=r"code\.unknown"):
        read_code(card_code("", CardRef(workout="w1", team="T01")), State())


def test_without_an_address_the_qr_code_says_the_bare_code() -> None:
    assert card_address("", "953NADRE") == "953NADRE"


def test_two_cards_with_one_code_are_refused_by_name(monkeypatch: pytest.MonkeyPatch) -> None:
    """No such pair is known, so the digest is made blind to the team."""
    one = CardRef(workout="w1", team="T01")
    code = card_code("example-2026", one)
    monkeypatch.setattr(
        "callroom.views.codes.card_code",
        lambda _event, ref, *, rehearsal: code if ref.workout == "w1" and not rehearsal else "",
    )
    with pytest.raises(BadCode, match=r"code\.ambiguous") as refusal:
        read_code(code, example_state())
    assert "T01/w1, T02/w1" in str(refusal.value.facts["cards"])
