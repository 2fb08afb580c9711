"""The director's own movements as a form: a standard typed into fields, and read back.

Decides: which fields there are, how a measure is typed, and which field a fault concerns.
Never does: judge a movement; ``standards`` and ``actions`` do.
May import: ``model``, ``standards``, and ``web.forms``.
"""

from callroom.web.movements.form import MovementForm, form_of, typed_form
from callroom.web.movements.read import ReadForm, read_form

__all__ = ["MovementForm", "ReadForm", "form_of", "read_form", "typed_form"]
