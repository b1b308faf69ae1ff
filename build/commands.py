"""What each command of run.py does, step by step."""

import argparse
import os
import socket
import subprocess
import sys
from collections.abc import Callable, Mapping
from types import MappingProxyType

import environment
from steps import ROOT, Stop, say, venv_program


def _python(*parts: str) -> int:
    """Run a file of the project with the virtual environment's Python."""
    command = [str(venv_program("python")), *map(str, parts)]
    with subprocess.Popen(command, cwd=ROOT) as child:
        try:
            return child.wait()
        except KeyboardInterrupt:
            child.terminate()
            child.wait()
            raise


def _build(*options: str) -> int:
    return _python("build/site_build.py", *options)


def build(options: argparse.Namespace) -> int:
    """Set up and build into site/."""
    environment.set_up()
    return _build("--base-path", options.base_path)


def serve(options: argparse.Namespace) -> int:
    """Set up, build and serve."""
    _refuse_taken(options.port)
    environment.set_up()
    status = _build("--base-path", options.base_path, "--port", str(options.port))
    if status:
        return status
    try:
        return _python(
            "build/serve.py",
            "--site",
            str(ROOT / "site"),
            "--port",
            str(options.port),
            "--base-path",
            options.base_path,
            "--watch",
        )
    except KeyboardInterrupt:
        return 0  # that is how serving ends


def _refuse_taken(port: int) -> None:
    """Say at once that a port is taken, and not after the set-up."""
    with socket.socket() as probe:
        if sys.platform != "win32":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except (OSError, OverflowError) as error:
            raise Stop(
                f"port {port} is taken or not permitted: run the same command with "
                f"another one, for example --port {port % 65000 + 1}."
            ) from error


def test(options: argparse.Namespace) -> int:
    """Set up, find the programs, build a site for the tests, run every test."""
    environment.set_up(for_tests=True, with_engines=True)
    environment.debian_program("ngspice", "ngspice", "the tests hold circuits against it")
    chromium = environment.chromium()
    # The long run opens all pages in the whole browser, the other those of test_engines.py alone.
    shell = chromium if options.long else environment.chromium_shell()
    say(f"Browser: {chromium}" + (f", most pages in {shell}" if shell != chromium else ""))
    not_covered = environment.engines_not_covered()
    more = ["--long"] if options.long else []
    # Those that this process may use are known from Python 3.13 on.
    cores = getattr(os, "process_cpu_count", os.cpu_count)() or 1
    # Each process has a browser of its own: more than four are no gain.
    processes = min(cores, 4)
    # Whoever is done takes over tests of the others.
    shared = ["-n", str(processes), "--dist", "worksteal"] if processes > 1 else []
    say(f"→ Running the tests, {processes} at a time …")
    where = [] if any(not option.startswith("-") for option in options.rest) else ["tests"]
    # With an equals sign: pytest takes a path of its own for one of the tests.
    browser = ["--engine=chromium", f"--browser-path={shell}", f"--whole-browser-path={chromium}"]
    browser.append(f"--not-covered={','.join(not_covered)}")
    status = _python("-m", "pytest", *more, *shared, *browser, *where, *options.rest)
    not_covered.append("Safari on a device")
    if sys.version_info < (3, 12):
        not_covered.append("the trying of changes (it wants Python 3.12)")
    say(f"Not covered: {', '.join(not_covered)}.")
    return status


def print_pages(options: argparse.Namespace) -> int:
    """Build, print the pages to PDF, and build once more with links to the PDFs."""
    environment.set_up(for_tests=True)
    chromium = environment.chromium()
    status = _build() or _python(
        "build/printing.py", "--chromium", chromium, "--paper", options.paper
    )
    return status or _build()


def folder(options: argparse.Namespace) -> int:
    """Set up, build, and make the edition that opens from a folder."""
    return build(options) or _python("build/folder.py")


def bench(options: argparse.Namespace) -> int:
    """Measure; nothing is asserted."""
    environment.set_up(for_tests=True)
    environment.npm_packages(environment.LIGHTHOUSE)  # wanted for nothing else
    return _python(
        "build/bench.py", "--chromium", environment.chromium(), "--runs", str(options.runs)
    )


COMMANDS: Mapping[str, Callable[[argparse.Namespace], int]] = MappingProxyType(
    {
        "build": build,
        "serve": serve,
        "print": print_pages,
        "folder": folder,
        "test": test,
        "bench": bench,
    }
)
