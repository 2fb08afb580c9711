"""What the director is told about the address that phones are sent to."""

import pytest

from callroom.cli.verbs.serving import _for_phones
from callroom.web.settings import WebSettings

HERE = WebSettings(hosts=("10.0.0.7", "laptop"), port=8000)


@pytest.mark.parametrize(
    ("address", "said"),
    [
        ("http://10.0.0.7:8000", "Phones find it at http://10.0.0.7:8000."),
        ("", "start with --address, before"),
        ("http://10.0.0.8:8000", "that is not here. It answers at http://10.0.0.7:8000"),
    ],
)
def test_an_address_that_leads_elsewhere_is_said(address: str, said: str) -> None:
    assert said in _for_phones(address, HERE)
