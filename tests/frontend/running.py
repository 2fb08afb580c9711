"""Runs the browser's pure functions in Node, which reads TypeScript as it is."""

import json
import subprocess
from pathlib import Path
from typing import Any

import build_frontend
import callroom.web

FRONTEND = Path(callroom.web.__file__).parent / "frontend"


def evaluate(module: str, expression: str) -> Any:
    """The value of an expression in which a front-end module is called ``it``."""
    node, _ = build_frontend._find_node()
    address = (FRONTEND / module).as_uri()
    script = (
        f"const it = await import({json.dumps(address)});"
        f"process.stdout.write(JSON.stringify({expression}));"
    )
    done = subprocess.run(
        [str(node), "--input-type=module", "-e", script],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
