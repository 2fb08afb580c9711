"""Where a running book may not stand."""

from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from callroom.journal.store import UnsafeFolder
from callroom.journal.stores import create_book, load_book, open_book
from callroom.journal.stores.folders import cloud_folder, network_folder
from tests.journal.counting import READING, START_MS

MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
server:/gym /srv/gym nfs4 rw 0 0
//nas/share /media/the\\040nas cifs rw 0 0
/dev/sdb1 /srv/gym/local ext4 rw 0 0
proc /proc proc rw 0 0
"""


@pytest.mark.parametrize(
    ("folder", "expected"),
    [
        (PurePosixPath("/home/jo/Dropbox/gym"), "Dropbox"),
        (PurePosixPath("/home/jo/Nextcloud"), "Nextcloud"),
        (PurePosixPath("/Users/jo/Library/CloudStorage/Whatever-jo/gym"), "CloudStorage"),
        (
            PurePosixPath("/Users/jo/Library/Mobile Documents/com~apple~CloudDocs"),
            "Mobile Documents",
        ),
        (PureWindowsPath(r"C:\Users\Jo\OneDrive\Desktop"), "OneDrive"),
        (PureWindowsPath(r"C:\Users\Jo\OneDrive - The Gym\Events"), "OneDrive - The Gym"),
        (PureWindowsPath(r"G:\Google Drive\gym"), "Google Drive"),
        (PurePosixPath("/home/jo/Callroom"), None),
        (PurePosixPath("/home/jo/Documents/The Box/Games"), None),
        (PureWindowsPath(r"C:\Users\Jo\Documents"), None),
    ],
)
def test_folders_that_a_service_keeps_in_step(
    folder: PurePosixPath | PureWindowsPath, expected: str | None
) -> None:
    assert cloud_folder(folder) == expected


@pytest.mark.parametrize(
    ("folder", "expected"),
    [
        (PurePosixPath("/srv/gym/books"), "/srv/gym"),
        (PurePosixPath("/srv/gym"), "/srv/gym"),
        (PurePosixPath("/srv/gymnastics"), None),
        (PurePosixPath("/srv/gym/local/books"), None),
        (PurePosixPath("/media/the nas/books"), "/media/the nas"),
        (PurePosixPath("/home/jo"), None),
        (PureWindowsPath(r"\\nas\share\books"), r"\\nas\share"),
        (PureWindowsPath(r"C:\Users\Jo"), None),
    ],
)
def test_folders_on_another_machine(
    folder: PurePosixPath | PureWindowsPath, expected: str | None
) -> None:
    assert network_folder(folder, MOUNTS) == expected
    assert network_folder(PurePosixPath("/home/jo"), "") is None


@pytest.mark.store
def test_a_book_there_is_neither_made_nor_opened_nor_loaded(tmp_path: Path) -> None:
    folder = tmp_path / "Dropbox"
    folder.mkdir()
    through_link = tmp_path / "plain"
    through_link.symlink_to(folder, target_is_directory=True)
    for path in (folder / "gala.book", through_link / "gala.book"):
        for refused in (
            lambda path=path: create_book(path),
            lambda path=path: open_book(path, READING, clock=lambda: START_MS),
            lambda path=path: load_book(path, [], READING),
        ):
            with pytest.raises(UnsafeFolder) as fault:
                refused()
            assert fault.value.facts == {"path": str(path), "folder": "Dropbox", "why": "cloud"}
    assert list(folder.iterdir()) == []
