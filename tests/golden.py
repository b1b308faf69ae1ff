"""The golden corpus: what every calculator replied, to hold a rebuilding of the inside against.

    python tests/golden.py make FOLDER [NAME …]     draw requests, store them with today's replies
    python tests/golden.py check FOLDER [NAME …]    ask them again, tell which replies differ

Make it at the commit before the rebuilding, into a folder outside the repository; then `check`
after each step.  A NAME is a calculator's; without one, all.  `--quick` asks every tenth request,
`--jobs 2` works in two processes, `--show 9` shows so many differences of each calculator.  The
exit status is 1 where any reply differs.  A change that is meant shows as differences too: look at
them, then make the corpus of the calculators that it is about anew.

A calculator's file holds 200 valid, 50 spoilt and 400 loose inputs (drawn without making fields
agree), each as a page's answer, and some of them as opened link, text, JSON, CSV and command line;
those of the whole job hold systems with figures changed and taken away besides.  `NAME.exchange`
holds what a calculator takes from systems and gives back.  The files are compressed lines of JSON:
a request, the reply and its SHA-256.

`check` knows nothing of the inside of `calc`: only `calc.app.page.respond` and
`calc.__main__.main`.  `make` draws with `golden_requests.py`.  pytest does not collect either file.
"""

import argparse
import difflib
import hashlib
import io
import json
import lzma
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
TESTS = ROOT / "tests"
sys.path[:0] = [str(ROOT), str(TESTS)]

LONGEST_KEPT = 400_000  # characters of a reply; of a longer one, such as a sound, only the sum
EXCHANGE, ENDING = ".exchange", ".jsonl.xz"
PARTS = 4  # of a file that several processes work at

Request = dict[str, Any]

# ---- asking: all that a check needs of `calc` ---------------------------------------------------


def reply_to(request: Request) -> str:
    """Return what the handbook replies to a stored request; what it raises is a reply too."""
    try:
        if "command" in request:
            return _command_line(request["command"])
        if "stream" in request:
            return _streamed(**request["stream"])
        return _page(**request)
    except Exception as error:
        return f"raised {type(error).__name__}: {error}"


def _page(**request: Any) -> str:
    from calc.app.page import respond

    return respond(json.dumps(request))


def _command_line(arguments: list[str]) -> str:
    from calc.__main__ import main

    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status: Any = main(arguments)
        except SystemExit as stop:
            status = stop.code
    return json.dumps({"exit": status, "out": out.getvalue(), "err": err.getvalue()})


def _streamed(calculator: str, inputs: Any) -> str:
    """Return the first, the stopped and the last reply: those between depend on the machine."""
    ask = {"kind": "stream", "calculator": calculator, "inputs": inputs}
    # One long answer is kept from request to request; what was asked before must not matter.
    _page(**{**ask, "inputs": {}}, first=True)
    first = _page(**ask, first=True)
    replies = [first, _page(**ask, first=False, stop=True)]
    last = first
    while json.loads(last).get("more"):
        last = _page(**ask, first=False)
    return json.dumps([*replies, last])


# ---- making and checking ------------------------------------------------------------------------


def _sum(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def make(folder: str, stem: str) -> tuple[str, int, float]:
    """Store a file's requests and replies; returns its stem, their number and the seconds."""
    import golden_requests as drawn

    start = time.process_time()
    name = stem.removesuffix(EXCHANGE)
    draw = drawn.exchange_of if stem.endswith(EXCHANGE) else drawn.requests_of
    path, count = Path(folder) / f"{stem}{ENDING}", 0
    # A drawer asks again what it has just yielded.
    replied = lru_cache(maxsize=2)(lambda text: reply_to(json.loads(text)))
    unfinished = path.with_suffix(".part")
    with lzma.open(unfinished, "wt", preset=1, encoding="ascii") as file:
        for request in draw(name, lambda request: replied(json.dumps(request))):
            text = json.dumps(request)
            reply = replied(text)
            kept = reply if len(reply) <= LONGEST_KEPT else None
            line = {"request": json.loads(text), "sha256": _sum(reply), "reply": kept}
            file.write(json.dumps(line) + "\n")
            count += 1
    unfinished.rename(path)
    return stem, count, time.process_time() - start


@dataclass(frozen=True)
class Checked:
    """What a part of a file came to."""

    stem: str
    asked: int
    different: tuple[str, ...]  # each told, the first with what differs
    seconds: float


def check(folder: str, stem: str, part: int, every: int, show: int) -> Checked:
    """Ask one part of a file's requests again."""
    start, asked, different = time.process_time(), 0, []
    with lzma.open(Path(folder) / f"{stem}{ENDING}", "rt", encoding="ascii") as file:
        for at, text in enumerate(file):
            if at % every or at // every % PARTS != part:
                continue
            line = json.loads(text)
            asked += 1
            reply = reply_to(line["request"])
            if _sum(reply) != line["sha256"]:
                is_shown = len(different) < show
                different.append(_difference(line, reply, at) if is_shown else "")
    return Checked(stem, asked, tuple(different), time.process_time() - start)


def _difference(line: Request, reply: str, at: int) -> str:
    request = json.dumps(line["request"])
    head = f"request {at}: {request if len(request) < 3000 else request[:3000] + ' …'}"
    if line["reply"] is None:
        return f"{head}\n(a long reply, of which only the sum was kept)"
    before, after = _lines(line["reply"]), _lines(reply)
    found = list(difflib.unified_diff(before, after, "before", "now", n=2, lineterm=""))
    found = [one if len(one) < 400 else one[:400] + " …" for one in found[:40]]
    return "\n".join([head, *found])


def _lines(reply: str) -> list[str]:
    """Return a reply in lines that a person can compare."""
    return reply.replace("><", ">\n<").replace("\\n", "\n").replace('", "', '",\n"').split("\n")


def _stems(names: list[str], known: list[str]) -> list[str]:
    wrong = [name for name in names if name not in known]
    if wrong:
        sys.exit(f"There is nothing of {', '.join(wrong)}. Use one of {', '.join(known)}.")
    return names or known


def _make_all(options: argparse.Namespace) -> int:
    Path(options.folder).mkdir(parents=True, exist_ok=True)
    import golden_requests as drawn

    names = _stems(options.names, drawn.names())
    stems = [stem for name in names for stem in (name, f"{name}{EXCHANGE}")]
    with ProcessPoolExecutor(options.jobs) as pool:
        for stem, count, seconds in pool.map(make, [options.folder] * len(stems), stems):
            print(f"{stem:28} {count:5} requests {seconds:6.1f} s", flush=True)
    return 0


def _check_all(options: argparse.Namespace) -> int:
    there = sorted(
        path.name.removesuffix(ENDING) for path in Path(options.folder).glob(f"*{ENDING}")
    )
    names = _stems(options.names, [stem for stem in there if not stem.endswith(EXCHANGE)])
    stems = [stem for stem in there if stem.removesuffix(EXCHANGE) in names]
    if not stems:
        sys.exit(f"There is no corpus in {options.folder}.")
    every = 10 if options.quick else 1
    bad = 0
    with ProcessPoolExecutor(options.jobs) as pool:
        ahead = {
            stem: [
                pool.submit(check, options.folder, stem, part, every, options.show)
                for part in range(PARTS)
            ]
            for stem in stems
        }
        for stem, parts in ahead.items():
            done = [part.result() for part in parts]
            different = [text for one in done for text in one.different]
            asked, seconds = sum(one.asked for one in done), sum(one.seconds for one in done)
            print(f"{stem:28} {asked - len(different):5} of {asked:5} agree {seconds:6.1f} s")
            for text in sorted(different, reverse=True)[: options.show]:
                print(text, end="\n\n")
            sys.stdout.flush()
            bad += len(different)
    print(f"{bad} replies differ." if bad else "Every reply is as it was.")
    return 1 if bad else 0


def main() -> int:
    """Run the command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("command", choices=["make", "check"])
    parser.add_argument("folder")
    parser.add_argument("names", nargs="*", help="calculators; all without a name")
    parser.add_argument("--quick", action="store_true", help="every tenth request")
    parser.add_argument("--jobs", type=int, default=1, help="processes")
    parser.add_argument("--show", type=int, default=3, help="differences shown of each")
    options = parser.parse_args()
    return _make_all(options) if options.command == "make" else _check_all(options)


if __name__ == "__main__":
    sys.exit(main())
