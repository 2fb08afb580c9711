"""The pages, the lane pad and the live stream.

Decides: addresses, forms, sign-in and how a view becomes HTML. A handler parses, calls
one action and chooses one view.
Never does: decide a rule or derive a figure.
May import: ``bootstrap``, ``paper``, ``actions``, ``views``, ``model``, litestar, jinja2.
"""
