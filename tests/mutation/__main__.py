"""By hand: change formulas and see whether the tests notice."""

import argparse
import ast
import json
import sys
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from mutation.places import Place  # noqa: E402
from mutation.trying import Trials, standard  # noqa: E402


def main():
    """Read the arguments, try, print."""
    parser = argparse.ArgumentParser(prog="tests/mutation", description=__doc__)
    parser.add_argument("--changes", type=int, default=40)
    parser.add_argument("--seed", default="mutation")
    parser.add_argument("--modules", help="only those whose path this regular expression finds")
    parser.add_argument("--all", action="store_true", help="print those that are caught as well")
    parser.add_argument(
        "--replace", nargs=3, metavar=("FILE", "TEXT", "NEW"), help="try one change of a text"
    )
    parser.add_argument("--tests", default="", help="only the tests' files whose name this finds")
    parser.add_argument("--report", type=Path, help="a JSON file for the verdicts")
    options = parser.parse_args()
    begun = time.monotonic()
    if options.replace:
        print(replaced(*options.replace, options.tests))
        return
    done, baseline_s = standard(
        options.changes,
        options.seed,
        options.modules,
        lambda trial: (options.all or trial.verdict != "caught") and say(trial),
        options.tests,
    )
    if options.report:
        verdicts = [{"verdict": trial.verdict, "place": str(trial.place)} for trial in done]
        options.report.write_text(json.dumps(verdicts), encoding="utf-8")
    print(Counter(trial.verdict for trial in done))
    spent = sum(trial.seconds for trial in done)
    print(f"baseline {baseline_s:.0f} s, changes {spent:.0f} s of processor time")
    print(f"{time.monotonic() - begun:.0f} s by the clock")


def say(trial):
    """Print a trial on one line."""
    print(f"{trial.verdict} ({trial.seconds:.1f} s): {trial.place}: {trial.note}", flush=True)


def replaced(name, text, new, tests):
    """Try a change of a text that stands once in a file."""
    source = (ROOT / name).read_text(encoding="utf-8")
    assert source.count(text) == 1, f"{name} holds the text {source.count(text)} times"
    before = source.index(text)
    first = source[:before].count("\n") + 1
    lines = sum(1 << first + more for more in range(text.count("\n") + 1))
    place = Place(name, 0, f"{text} → {new}", first, lines)
    trials = Trials(tests)
    (trial,) = trials.verdicts([(place, name, ast.parse(source.replace(text, new)))])
    trials.close()
    return f"{trial.verdict}: {trial.note}"


if __name__ == "__main__":
    main()
