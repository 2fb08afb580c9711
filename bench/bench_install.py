"""How long it takes to install what was published.

``install_from_sdist_s``: the source distribution into a new environment with ``uv``, which the
README names, with every wheel it needs in the cache already; the command answers afterwards.
``install_from_sdist_pip_s``: the same with ``pip``, which also compiles every module it installs.
Each installs it once before, which fills its cache.
"""

import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def figures(*, quick: bool) -> dict[str, float]:
    """Build the source distribution, install it, and install it again [s]."""
    del quick  # there is no smaller one
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        build = [sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", str(folder)]
        subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
        (source,) = folder.glob("*.tar.gz")
        return {
            "install_from_sdist_s": _second_time(source, folder, "uv"),
            "install_from_sdist_pip_s": _second_time(source, folder, "pip"),
        }


def _second_time(source: Path, folder: Path, by: str) -> float:
    _installed(source, folder / f"{by}-first", by)
    started_s = time.perf_counter()
    command = _installed(source, folder / f"{by}-second", by)
    took_s = time.perf_counter() - started_s
    subprocess.run([str(command), "--version"], check=True, capture_output=True)
    return took_s


def _installed(source: Path, folder: Path, by: str) -> Path:
    """Install into a new environment and return its command."""
    scripts = folder / ("Scripts" if sys.platform == "win32" else "bin")
    python = str(scripts / "python")
    if by == "uv":
        uv = [sys.executable, "-m", "uv"]
        subprocess.run([*uv, "venv", "--quiet", str(folder)], check=True)
        command = [*uv, "pip", "install", "--quiet", "--python", python, str(source)]
    else:
        venv.create(folder, with_pip=True)
        command = [python, "-m", "pip", "install", "--quiet", str(source)]
    subprocess.run(command, check=True, capture_output=True)
    return scripts / "callroom"
