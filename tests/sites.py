"""Sites that are built for tests, and served: one for all processes, or one that can be off."""

import os
import socket
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / ".work" / "test-site"
PORT = "HANDBOOK_TEST_PORT"
FIRST_PORT, PORTS = 8123, 20


def _free_port(first):
    """The first port that is free, so that a built site can stay: its address is in its list of
    pages, which the theme goes by.  None of those that connections going out may take.
    """
    for port in range(first, first + PORTS):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
    raise AssertionError(f"none of the ports {first} to {first + PORTS - 1} is free")


class Served:
    """A folder being served; it can be switched off, and on again with another folder."""

    def __init__(self, folder, port, base="/"):
        self.port, self.base, self.folder = port, base, folder
        self.url = f"http://127.0.0.1:{self.port}{base}"
        self._server = None
        self.on()

    def on(self, folder=None):
        from serve import server

        self.off()
        self.folder = folder or self.folder
        self._server = server(self.folder, self.port, self.base)
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def off(self):
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None


def first_served():
    """Serve the site at the first port that nobody has, another run that begins now neither."""
    for port in range(FIRST_PORT, FIRST_PORT + PORTS):
        with suppress(OSError):
            return Served(SITE, port)
    raise AssertionError(f"none of the ports {FIRST_PORT} to {FIRST_PORT + PORTS - 1} is free")


def build(folder, address):
    # One build at a time: site_build.py sees to that.
    done = subprocess.run(
        [sys.executable, str(ROOT / "build" / "site_build.py"), "--out", str(folder)],
        env={**os.environ, "SITE_URL": address},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return folder


def site_address(base="/"):
    """Return the address of the server that all processes share."""
    return f"http://127.0.0.1:{os.environ[PORT]}{base}"


def own_port(after=0):
    """Return a port for the server of a test that switches it off: each process has its own."""
    worker = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
    return _free_port(FIRST_PORT + PORTS * (worker + 1) + after)
