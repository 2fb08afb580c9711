"""A server in a process of its own that is killed without warning and started again."""

import socket
import subprocess
import sys
import threading
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


class Killed:
    """One book's server; always the same port, as a laptop keeps its address."""

    def __init__(self, book: Path) -> None:
        """Choose a port, and start."""
        self._book = book
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port: int = free.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self.kills = 0
        self._changing = threading.Lock()
        self._process = self._started()

    def _started(self) -> "subprocess.Popen[bytes]":
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.chaos.serving", str(self._book), str(self.port)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        assert process.stdout is not None
        said = process.stdout.readline()
        assert said == b"serving\n", said
        return process

    def kill(self) -> None:
        """Kill it in the middle of whatever it does, and start it again."""
        with self._changing:
            self._end(self._process)
            self.kills += 1
            self._process = self._started()

    def stop(self) -> None:
        """Kill it for good."""
        with self._changing:
            self._end(self._process)

    @staticmethod
    def _end(process: "subprocess.Popen[bytes]") -> None:
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                pipe.close()
