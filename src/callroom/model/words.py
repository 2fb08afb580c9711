"""The marker for texts a person will read.

Findings and refusals carry facts; the sentence is made at the face. A text that is
defined here below the faces is marked with :func:`N_` so that it is found for
translation, and translated only when it is shown.
"""


def N_(text: str) -> str:  # noqa: N802 - the customary gettext marker
    """Mark `text` for translation and return it unchanged."""
    return text
