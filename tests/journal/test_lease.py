"""One process has a book; it says where its server answers."""

import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from callroom.journal.store import BookInUse
from callroom.journal.stores import lease_of
from tests.journal.counting import count
from tests.journal.disk import WAIT_S, mode_of, opened

pytestmark = pytest.mark.store


HOLDER = """
import sys
from pathlib import Path
from tests.journal.disk import opened

store = opened(Path(sys.argv[1]))
store.announce(8080, "a-token")
print("open", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "gala.book"


def test_a_book_in_use_is_refused_with_the_port_of_its_server(path: Path) -> None:
    with closing(opened(path)) as store:
        with pytest.raises(BookInUse) as silent:
            opened(path)
        assert silent.value.facts == {"path": str(path), "port": None}
        lease = store.announce(8080, "a-token")
        with pytest.raises(BookInUse) as serving:
            opened(path)
        assert serving.value.facts["port"] == 8080
        assert lease_of(path) == lease
        assert (lease.port, lease.token) == (8080, "a-token")
        assert mode_of(path.with_name("gala.book-lease")) == 0o600
        store.announce(8081, "another")
        found = lease_of(path)
        assert found is not None
        assert found.port == 8081
    assert lease_of(path) is None
    opened(path).close()


def test_the_same_book_by_another_name_is_the_same_book(path: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.book"
    with closing(opened(path)) as store:
        store.announce(8080, "a-token")
        link.symlink_to(path)
        with pytest.raises(BookInUse):
            opened(link)
        found = lease_of(link)
        assert found is not None
        assert found.token == "a-token"


def test_other_processes_are_kept_out_and_a_dead_one_is_not(path: Path) -> None:
    opened(path).close()
    child = subprocess.Popen(
        [
            sys.executable,
            "-c",
            HOLDER,
            str(path),
        ],
        cwd=Path(__file__).parents[2],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    try:
        assert child.stdout is not None
        assert child.stdout.readline() == b"open\n"
        with pytest.raises(BookInUse) as refused:
            opened(path)
        assert refused.value.facts["port"] == 8080
        with closing(opened(path, writing=False)) as view:
            assert view.state.seq == 0
    finally:
        child.kill()
        child.communicate()
    assert lease_of(path) is not None  # left behind by the crash …
    with closing(opened(path)) as store:
        assert lease_of(path) is None  # … and cleared by whoever has the book now
        store.submit(count("1", 1)).result(WAIT_S)


def test_a_lease_that_cannot_be_read_is_none(path: Path) -> None:
    assert lease_of(path) is None
    path.with_name("gala.book-lease").write_text("{half a")
    assert lease_of(path) is None
