"""The two commands of this project, and what they share.

    python3 build/run.py serve    set up, build the handbook, serve it on this machine
    python3 build/run.py test     set up, build, run every test

Also: `build` (set up and build only), `print` (PDFs of chapters, handouts and the book) and
`bench` (measure).  See --help.
"""

import sys

NEEDED = (3, 11)
WILL_DO = ("3.13", "3.14", "3.12", "3.11")  # the project is developed with the first

if sys.version_info < (3, 8):
    sys.exit("This needs Python 3.11 or newer: install it and run the command again with it.")

import argparse
import os
import shutil
import signal
import subprocess
from pathlib import Path

sys.dont_write_bytecode = True
sys.path.insert(0, str(Path(__file__).resolve().parent))


def switch_python() -> int:
    """Run the same command with a Python that is new enough and return its status."""
    programs = [shutil.which("python" + each) for each in WILL_DO]
    found = [[program] for program in programs if program]
    if sys.platform == "win32" and shutil.which("py"):
        found.append(["py", "-3"])  # the newest that is there
    if not found or os.environ.get("HANDBOOK_SWITCHED"):
        print(
            "This needs Python %d.%d or newer, and this is Python %d.%d: install one (a program "
            "such as python%s must be found) and run the same command again."
            % (*NEEDED, *sys.version_info[:2], WILL_DO[0]),
            file=sys.stderr,
        )
        return 2
    env = dict(os.environ, HANDBOOK_SWITCHED="1")
    return subprocess.call([*found[0], *sys.argv], env=env)


def arguments() -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(
        prog="build/run.py",
        description="Build, serve and test the handbook.",
        allow_abbrev=False,
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    serve = commands.add_parser("serve", help="set up, build and serve on a loopback address")
    serve.add_argument("--port", type=int, default=8000, help="port to serve on (8000)")
    build = commands.add_parser("build", help="set up and build into site/")
    for command in (serve, build):
        command.add_argument(
            "--base-path", default="/", help="sub-path of the host, e.g. /handbook/"
        )
    stick = commands.add_parser("folder", help="build, and make a zip that opens from a folder")
    stick.set_defaults(base_path="/")
    paper = commands.add_parser("print", help="build, and print PDFs that the pages link")
    paper.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper (a4)")
    test = commands.add_parser("test", help="set up, build and run every test")
    test.add_argument("--long", action="store_true", help="the full counts")
    test.add_argument("rest", nargs="*", help="further arguments for pytest, after --")
    bench = commands.add_parser("bench", help="measure start-up, sizes and answers")
    bench.add_argument("--runs", type=int, default=7, help="how often each start is measured")
    return parser.parse_args()


def main() -> int:
    """Run one command; what stops it is told in a sentence."""
    options = arguments()
    if sys.version_info[:2] < NEEDED:
        return switch_python()
    import commands
    from steps import WORK, Stop

    # What the children import is compiled once, into this folder, whatever is usual here.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = str(WORK / "pycache")
    # A polite end of this process ends its children too.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        return commands.COMMANDS[options.command](options)
    except Stop as stop:
        print("\nStopped: %s" % stop, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nInterrupted. Run the same command again to go on.", file=sys.stderr)
        return 130
    except OSError as error:
        from steps import cannot_write

        print("\nStopped: %s" % cannot_write(error), file=sys.stderr)
        return 1


if __name__ == "__main__":
    sys.exit(main())
