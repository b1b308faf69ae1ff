"""Rebuilds the handbook while it is served, whenever one of its files is changed.

The pages come first, in some seconds, with the Python that they have; the page's own Python, whose
image takes longer, follows by itself.
"""

import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from steps import ROOT, WORK, say

SOURCES = (
    ROOT / "calc",
    ROOT / "docs",
    ROOT / "build",
    ROOT / "shared",
    ROOT / "mkdocs.yml",
    ROOT / "pyproject.toml",
)
_PASSED_OVER = {"node_modules", "__pycache__"}
_LOOK_S, _QUIET_S = 0.5, 0.3
NEXT = WORK / "next-site"

State = Mapping[Path, tuple[int, int]]


def state_of(sources: Sequence[Path]) -> State:
    """Return the files of the sources, each with when it was changed and its size."""
    files: dict[Path, tuple[int, int]] = {}
    waiting = list(sources)
    while waiting:
        path = waiting.pop()
        try:
            if path.is_dir():
                waiting += [each for each in path.iterdir() if each.name not in _PASSED_OVER]
            else:
                status = path.stat()
                files[path] = (status.st_mtime_ns, status.st_size)
        except OSError:
            continue  # it went away while it was looked at
    return files


def changed(before: State, after: State) -> list[Path]:
    """Return the files that were changed, added or taken away."""
    every = before.keys() | after.keys()
    return sorted(path for path in every if before.get(path) != after.get(path))


class Rebuilding:
    """The rebuilding of one site: pages at once, the page's Python after them.

    build : starts a build into a folder and returns its process
    """

    def __init__(
        self, site: Path, build: Callable[[Path, bool], "subprocess.Popen[bytes]"]
    ) -> None:
        self._site = site
        self._build = build
        self._following: subprocess.Popen[bytes] | None = None

    def begin(self) -> None:
        """Build the pages anew and put them in place; then begin with all the rest."""
        self.stop()
        begun = time.monotonic()
        if self._build(NEXT, True).wait():
            say("The pages are as they were: mend what is told above.")
            return
        self._put_in_place()
        seconds = time.monotonic() - begun
        say(f"The pages are up to date after {seconds:.0f} s; their Python follows.")
        self._following = self._build(NEXT, False)

    def go_on(self) -> None:
        """Put the whole in place when it is done."""
        if self._following is None or self._following.poll() is None:
            return
        is_done, self._following = self._following.returncode == 0, None
        if is_done:
            self._put_in_place()
            say("The pages’ Python is up to date, too.")

    def stop(self) -> None:
        """Give up what is being built: its sources have changed."""
        if self._following is not None:
            self._following.terminate()
            self._following.wait()
            self._following = None

    def _put_in_place(self) -> None:
        """Swap the site for the one that was built; whoever reads meanwhile finds one of them."""
        before = WORK / "site-before"
        shutil.rmtree(before, ignore_errors=True)
        self._site.rename(before)
        NEXT.rename(self._site)
        shutil.rmtree(before, ignore_errors=True)


def builder(base: str, port: int) -> Callable[[Path, bool], "subprocess.Popen[bytes]"]:
    """Return what starts a build into a folder: of the pages alone, or of everything."""

    def build(folder: Path, for_reading: bool) -> "subprocess.Popen[bytes]":
        command = [sys.executable, str(ROOT / "build" / "site_build.py"), "--out", str(folder)]
        command += ["--base-path", base, "--port", str(port)]
        return subprocess.Popen([*command, *(["--for-reading"] if for_reading else [])], cwd=ROOT)

    return build


def watch(rebuilding: Rebuilding, sources: Sequence[Path] = SOURCES) -> None:
    """Look at the sources until interrupted, and rebuild when they have come to rest."""
    known = state_of(sources)
    try:
        while True:
            time.sleep(_LOOK_S)
            now = state_of(sources)
            if now == known:
                rebuilding.go_on()
                continue
            while True:  # an editor writes several files, or one of them several times
                time.sleep(_QUIET_S)
                later = state_of(sources)
                if later == now:
                    break
                now = later
            files = changed(known, now)
            more = f" and {len(files) - 1} more" if files[1:] else ""
            say(f"→ {files[0].relative_to(ROOT)}{more} changed: building the pages …")
            known = now
            rebuilding.begin()
    finally:
        rebuilding.stop()
