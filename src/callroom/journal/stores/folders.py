"""Folders that others write to as well: no place for a running book."""

from fnmatch import fnmatchcase
from pathlib import Path, PurePath

from callroom.journal.store.errors import UnsafeFolder

CLOUD_FOLDERS = (
    "cloudstorage",  # ~/Library/CloudStorage on macOS, whatever the service
    "com~apple~clouddocs",
    "mobile documents",
    "icloud*",
    "onedrive*",
    "dropbox*",
    "google drive*",
    "googledrive*",
    "nextcloud*",
    "owncloud*",
    "pcloud*",
    "syncthing*",
)
"""Names, in lower case, that services give to the folders they keep in step. From memory:
the default names of common services; a folder renamed by hand is not recognised."""

NETWORK_SYSTEMS = frozenset(
    {"9p", "afs", "cifs", "fuse.sshfs", "ncpfs", "nfs", "nfs4", "smb3", "smbfs", "webdav"}
)
"""File systems, as Linux names them in its table of mounts, that live on another machine."""

_MOUNTS = Path("/proc/self/mounts")
"""Linux only; elsewhere network drives are known by their path, if at all."""


def refuse_unsafe_folder(book: Path) -> None:
    """Refuse a book in a folder shared by a cloud service or over the network.

    Such a service copies the book's files one by one and at different moments, and puts
    them back the same way; a network file system does not keep the locks SQLite needs.

    Raises
    ------
    UnsafeFolder
        With the folder that was recognised and why (``"cloud"`` or ``"network"``).
    """
    resolved = book.resolve()
    folder = cloud_folder(resolved.parent)
    if folder is not None:
        raise UnsafeFolder(book, folder, "cloud")
    mounts = _MOUNTS.read_text("utf-8", "replace") if _MOUNTS.is_file() else ""
    folder = network_folder(resolved.parent, mounts)
    if folder is not None:
        raise UnsafeFolder(book, folder, "network")


def cloud_folder(folder: PurePath) -> str | None:
    """Return the part of the path which a cloud service keeps in step, or None."""
    for part in folder.parts:
        if any(fnmatchcase(part.lower(), pattern) for pattern in CLOUD_FOLDERS):
            return part
    return None


def network_folder(folder: PurePath, mounts: str) -> str | None:
    r"""Return the network drive that holds the folder, or None.

    Parameters
    ----------
    folder
        A resolved path. Windows resolves a mapped drive letter to ``\\server\share``.
    mounts
        The table of mounts as Linux writes it, one a line: device, place, file system, ….
    """
    if folder.drive.startswith(("\\\\", "//")):
        return folder.drive
    best, system = "", ""
    for line in mounts.splitlines():
        _, place, kind, *_ = (*line.split(" "), "", "", "")
        place = place.replace("\\040", " ")
        # A later line covers an earlier one on the same place.
        if place and folder.is_relative_to(place) and len(place) >= len(best):
            best, system = place, kind
    return best if system in NETWORK_SYSTEMS else None
