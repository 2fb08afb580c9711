"""The code of an address: read back exactly, refused when mistyped."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.views.codes import ALPHABET, BadCode
from callroom.views.place_code import place_code, read_place

addresses = st.builds(
    lambda ip, port: f"http://{ip}:{port}",
    st.ip_addresses(v=4),
    st.integers(1, 65_535),
)


@given(addresses)
def test_a_code_is_read_back_in_any_case_and_spacing(address: str) -> None:
    code = place_code(address)
    assert len(code) == 13
    assert read_place(code) == address
    assert read_place(code.lower().replace("-", " ")) == address


@given(addresses, st.integers(0, 10), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_noticed(address: str, at: int, sign: str) -> None:
    code = place_code(address).replace("-", "")
    typed = code[:at] + sign + code[at + 1 :]
    if typed != code:
        with pytest.raises(BadCode):
            read_place(typed)


@given(addresses, st.integers(0, 9))
def test_two_characters_exchanged_are_noticed(address: str, at: int) -> None:
    code = place_code(address).replace("-", "")
    typed = code[:at] + code[at + 1] + code[at] + code[at + 2 :]
    if typed != code:
        with pytest.raises(BadCode):
            read_place(typed)


@pytest.mark.parametrize("address", ["", "http://hall.local:8000", "https://10.0.0.1:8000"])
def test_what_cannot_be_put_into_a_code_has_none(address: str) -> None:
    assert place_code(address) == ""


@pytest.mark.parametrize("typed", ["", "1234", "OOOO-OOOO-OOO", "2222-2222-2222"])
def test_what_is_no_code_is_refused(typed: str) -> None:
    with pytest.raises(BadCode):
        read_place(typed)


def test_an_address_has_the_code_it_always_had() -> None:
    assert place_code("http://192.168.1.21:8000") == "PEQD-3WYE-KG2"
