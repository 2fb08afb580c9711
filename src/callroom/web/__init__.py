"""The pages, the lane pad and the live stream.

Decides: addresses, forms, sign-in and how a view becomes HTML. A handler parses, calls
one action and chooses one view.
Never does: decide a rule or derive a figure.
May import: ``bootstrap``, ``paper``, ``actions``, ``views``, ``model``, litestar, jinja2.
"""

from callroom.web.app import make_app
from callroom.web.serving import serve, server
from callroom.web.settings import WebSettings

__all__ = ["WebSettings", "make_app", "serve", "server"]
