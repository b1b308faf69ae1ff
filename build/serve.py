"""A small server for this machine: the site with its headers, as a host would give it."""

import argparse
import gzip
import mimetypes
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import lru_cache, partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from socket import SHUT_RDWR, socket
from urllib.parse import unquote, urlsplit
from weakref import WeakSet

from watching import Rebuilding, builder, watch

PACKED = (".html", ".css", ".js", ".mjs", ".json", ".svg", ".xml", ".webmanifest")
mimetypes.add_type("text/javascript", ".mjs")
mimetypes.add_type("text/javascript", ".js")
mimetypes.add_type("application/manifest+json", ".webmanifest")
mimetypes.add_type("application/octet-stream", ".bin")
mimetypes.add_type("font/woff2", ".woff2")


def read_headers(site: Path) -> tuple[tuple[str, str], ...]:
    """Return the headers of the site's `_headers` file."""
    lines = (site / "_headers").read_text(encoding="utf-8").splitlines()[1:]
    parted = (line.strip().partition(": ") for line in lines)
    return tuple((name, value) for name, _, value in parted)


@lru_cache(maxsize=512)
def _gzipped(path: Path, _modified: int) -> bytes:
    return gzip.compress(path.read_bytes(), 6, mtime=0)


class Handler(SimpleHTTPRequestHandler):
    """Serves files below a base path, compressed where that helps."""

    protocol_version = "HTTP/1.1"

    def __init__(
        self, request: socket, client: object, server: "Server", *, site: Path, base: str
    ) -> None:
        self._site, self._base = site, base
        super().__init__(request, client, server, directory=str(site))

    def do_GET(self) -> None:
        """Answer with the file."""
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        """Answer with the headers alone."""
        self._answer(with_body=False)

    def _answer(self, with_body: bool) -> None:
        path = unquote(urlsplit(self.path).path)
        if not path.startswith(self._base):
            target = None
            if path + "/" == self._base:
                return self._redirect(self._base)
        else:
            target = self._file(path.removeprefix(self._base))
            if target is not None and target.is_dir():
                return self._redirect(path + "/")
        status = HTTPStatus.OK
        if target is None or not target.is_file():
            status, target = HTTPStatus.NOT_FOUND, self._site / "404.html"
        return self.send_file(status, target, with_body)

    def _file(self, relative: str) -> Path | None:
        if relative.endswith("/") or not relative:
            relative += "index.html"
        target = (self._site / relative).resolve()
        inside = target.is_relative_to(self._site.resolve())
        return target if inside and target.exists() else None

    def _redirect(self, where: str) -> None:
        query = urlsplit(self.path).query
        # One slash only: two would name another host.
        where = "/" + where.lstrip("/") + (f"?{query}" if query else "")
        self.send_response(HTTPStatus.MOVED_PERMANENTLY)
        self.send_header("Location", where)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def send_file(self, status: HTTPStatus, target: Path, with_body: bool) -> None:
        """Send a file with its headers; no more than these where the browser has it already."""
        packed = target.suffix in PACKED and "gzip" in self.headers.get("Accept-Encoding", "")
        state = target.stat()
        tag = f'"{state.st_mtime_ns:x}-{state.st_size:x}{"-gzip" if packed else ""}"'
        body = b""
        if status == HTTPStatus.OK and self.headers.get("If-None-Match") == tag:
            status = HTTPStatus.NOT_MODIFIED
        else:
            body = _gzipped(target, state.st_mtime_ns) if packed else target.read_bytes()
        self.send_response(status)
        self.send_header("ETag", tag)
        kind = mimetypes.guess_type(target.name)[0] or "application/octet-stream"
        text = kind.startswith("text/") or kind.endswith(("json", "xml"))
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if text else kind)
        if packed:
            self.send_header("Content-Encoding", "gzip")
        if status != HTTPStatus.NOT_MODIFIED:
            self.send_header("Content-Length", str(len(body)))
        for name, value in read_headers(self._site):
            self.send_header(name, value)
        self.end_headers()
        if with_body:
            self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Keep the terminal quiet."""


class Server(ThreadingHTTPServer):
    """Serves several requests at once and takes no port that is in use."""

    daemon_threads = True
    allow_reuse_address = sys.platform != "win32"

    def __init__(self, address: tuple[str, int], handler: Callable[..., Handler]) -> None:
        self._open: WeakSet[socket] = WeakSet()
        super().__init__(address, handler)

    def get_request(self) -> tuple[socket, object]:
        """Take a connection and remember it."""
        connection, address = super().get_request()
        self._open.add(connection)
        return connection, address

    def server_close(self) -> None:
        """Stop serving also those who are still connected."""
        super().server_close()
        for connection in list(self._open):
            with suppress(OSError):
                connection.shutdown(SHUT_RDWR)

    def handle_error(self, *_: object) -> None:
        """A reader who goes away in the middle is no news."""


def server(site: Path, port: int = 0, base: str = "/", handler: type[Handler] = Handler) -> Server:
    """Return a server on the loopback address; port 0 takes any that is free."""
    return Server(("127.0.0.1", port), partial(handler, site=site, base=base))


@contextmanager
def serving(site: Path, handler: type[Handler] = Handler) -> Iterator[str]:
    """Serve a folder beside what is done within; gives its address."""
    running = server(site, handler=handler)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{running.server_address[1]}/"
    finally:
        running.shutdown()
        running.server_close()


def main() -> int:
    """Serve until interrupted."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--port", type=int, default=8000)
    parser.add_argument("--base-path", default="/")
    parser.add_argument("--site", type=Path, required=True)
    parser.add_argument("--watch", action="store_true", help="rebuild when a file is changed")
    options = parser.parse_args()
    base = "/" + options.base_path.strip("/")
    base = base if base == "/" else base + "/"
    try:
        running = server(options.site, options.port, base)
    except (OSError, OverflowError):
        print(
            f"\nStopped: port {options.port} is taken or not permitted: run the same command "
            f"with another one, for example --port {options.port % 65000 + 1}.",
            file=sys.stderr,
        )
        return 1
    address = f"http://127.0.0.1:{options.port}{base}"
    print(f"\nThe handbook is at {address}\nPress Ctrl+C to stop.", flush=True)
    try:
        if options.watch:
            threading.Thread(target=running.serve_forever, daemon=True).start()
            watch(Rebuilding(options.site, builder(options.base_path, options.port)))
        else:
            running.serve_forever()
    except KeyboardInterrupt:
        print("\nStopped serving.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
