"""Which texts can name a thing."""


def usable_id(text: str) -> bool:
    """Return whether `text` can name a thing: not empty, no white space, no ``/`` or ``:``.

    Keys of sheets and items of the tie chain are put together from ids with those signs.
    """
    return bool(text) and not any(sign.isspace() or sign in "/:" for sign in text)
