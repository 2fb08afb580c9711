"""The drill's server: ``python -m tests.chaos.drill_serving BOOK PORT AT_MS``, until it dies.

Its clock begins at AT_MS and runs; each line on its input moves it on by so many milliseconds.
"""

import sys
from pathlib import Path

from callroom.bootstrap.books import open_book
from callroom.bootstrap.clocks import FastClock
from callroom.cli.rehearsal import Stage


class MovedClock(FastClock):
    """A clock that runs, and can be moved on."""

    def move_on(self, by_ms: int) -> None:
        """Go forward by `by_ms`."""
        self._start_ms += by_ms


def main() -> None:
    """Serve a book on a port until whoever started it is gone."""
    clock = MovedClock(int(sys.argv[3]), 1)
    book = open_book(Path(sys.argv[1]), clock=clock)
    with Stage(book, port=int(sys.argv[2])):
        sys.stdout.write("serving\n")
        sys.stdout.flush()
        for line in sys.stdin:
            clock.move_on(int(line))
            sys.stdout.write("moved\n")
            sys.stdout.flush()
    book.close()


if __name__ == "__main__":
    main()
