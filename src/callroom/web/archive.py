"""The public pages for keeps: a folder that needs no server and is not made anew."""

import asyncio
from pathlib import Path

from callroom.web.app import make_app
from callroom.web.copies import Copier, CopyFolder
from callroom.web.ports import Book
from callroom.web.settings import WebSettings


def write_archive(book: Book, folder: Path) -> int:
    """Write what the public sees of `book` into `folder`; returns how many files changed.

    Raises
    ------
    NotACopy
        If something else is in the folder, or it cannot be made.
    OSError
        If it cannot be written.
    """
    site = make_app(book, WebSettings(kept=True))
    return asyncio.run(Copier(site, site.house, CopyFolder(folder)).copy())
