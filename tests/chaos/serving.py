"""The server that is killed: ``python -m tests.chaos.serving BOOK PORT``, until it dies."""

import sys
import threading
from pathlib import Path

from callroom.bootstrap.books import open_book
from callroom.cli.rehearsal import Stage
from tests.chaos.book import clock_at_the_end


def main() -> None:
    """Serve a book on a port for as long as this process lives and its input is open."""
    book = open_book(Path(sys.argv[1]), clock=clock_at_the_end())
    with Stage(book, port=int(sys.argv[2])):
        sys.stdout.write("serving\n")
        sys.stdout.flush()
        # When whoever started it is gone, so is this.
        threading.Thread(target=sys.stdin.read, daemon=True).run()
    book.close()


if __name__ == "__main__":
    main()
