"""Which passphrases are too easily thought of."""

import pytest

from callroom.bootstrap.plain_words import is_plain


@pytest.mark.parametrize(
    "text",
    [
        "aaaaaaaaaaaa", "1234567890", "abcdefghijkl", "Password12345", "long table day",
        "Long-Table-Day 2027", "121212121212", "LETMEIN 12345!", "The Old Tram Shed",
    ],
)  # fmt: skip
def test_what_anybody_would_try_first(text: str) -> None:
    assert is_plain(text, ("Long Table Day 2027", "The Old Tram Shed"))


@pytest.mark.parametrize(
    "text",
    [
        "seven wet ropes in a row",
        "seven green bottles",
        "kettle lamp 12 wednesday",
        "ñandú y té 9?",
    ],
)
def test_a_few_words_of_ones_own(text: str) -> None:
    assert not is_plain(text, ("Long Table Day", ""))
