"""Settings that hold for every test."""

import os

from hypothesis import settings

# Several programs share a test machine, so no example is judged by the clock. Where a failing
# example would stop other people's work, the examples are the same every time.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")
