"""Every text of the pad's scripts is among those that the server translates, and no other."""

import re

from callroom.web.pad_words import PAD_WORDS
from tests.frontend.running import FRONTEND

# Chosen between before they are looked up, so not written as an argument.
CHOSEN = {
    "One more", "The next mark is passed", "Ruling {n}", "Ruling {n} no longer holds",
    "delivered", "refused", "waits",
}  # fmt: skip


def test_the_words_of_the_pad_are_the_words_of_the_server() -> None:
    used = set(CHOSEN)
    for path in [*(FRONTEND / "pad").glob("*.ts"), FRONTEND / "entries" / "pad.ts"]:
        used |= set(re.findall(r'words\(\s*"([^"]+)"', path.read_text(encoding="utf-8")))
    assert used == set(PAD_WORDS)
