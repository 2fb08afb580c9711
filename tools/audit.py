"""Ask an advisory database about every package that is locked; fail on a known vulnerability.

Without a network, or where the registry knows no advisories, it says that nothing was asked and
does not fail: a laptop on a train can still be worked on, and whoever publishes is on a network.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

LOCK = Path(__file__).resolve().parent.parent / "requirements.lock"
PATIENCE_S = 60


def main() -> int:
    """Return 1 if a package has a known vulnerability."""
    command = [
        sys.executable, "-m", "pip_audit", "--requirement", str(LOCK), "--no-deps",
        "--disable-pip", "--format", "json", "--progress-spinner", "off", "--timeout", "5",
    ]  # fmt: skip
    try:
        asked = subprocess.run(command, capture_output=True, check=False, timeout=PATIENCE_S)
        found = json.loads(asked.stdout)["dependencies"]
    except (subprocess.TimeoutExpired, ValueError, KeyError):
        print("audit: the advisory database did not answer; nothing was asked")
        return 0
    answered = [one for one in found if "skip_reason" not in one]
    weak = [one for one in answered if one["vulns"]]
    for one in weak:
        named = ", ".join(vulnerability["id"] for vulnerability in one["vulns"])
        print(f"audit: {one['name']} {one['version']}: {named}", file=sys.stderr)
    print(f"audit: {len(answered)} of {len(found)} packages asked about, {len(weak)} vulnerable")
    return 1 if weak else 0


if __name__ == "__main__":
    sys.exit(main())
