"""Copies of the public pages as files, for a folder or any static host.

Decides: which pages are copied, under which names, and when a file is written anew.
Never does: render a page its own way; each is asked of the application as the public asks.
May import: everything a face may.
"""

from callroom.web.copies.copier import Copier
from callroom.web.copies.folder import CopyFolder, NotACopy
from callroom.web.copies.pages import public_files

__all__ = ["Copier", "CopyFolder", "NotACopy", "public_files"]
