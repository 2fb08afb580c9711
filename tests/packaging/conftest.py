import tarfile
import zipfile
from pathlib import Path

import pytest

import build_frontend
from tests.packaging.building import build


@pytest.fixture(scope="session")
def unpacked_sdist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the source distribution from this tree and unpack it."""
    scratch = tmp_path_factory.mktemp("sdist")
    if not build_frontend.is_fresh():
        build_frontend.build()
    name = build(build_frontend.ROOT, "build_sdist", scratch)
    with tarfile.open(scratch / name) as archive:
        archive.extractall(scratch, filter="data")
    return scratch / name.removesuffix(".tar.gz")


@pytest.fixture(scope="session")
def wheel(unpacked_sdist: Path, tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """Build the wheel from the source distribution, as an index would serve it."""
    scratch = tmp_path_factory.mktemp("wheel")
    return zipfile.ZipFile(scratch / build(unpacked_sdist, "build_wheel", scratch))
