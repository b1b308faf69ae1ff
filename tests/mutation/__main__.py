"""By hand: change formulas and see whether the tests notice."""

import argparse
import ast
import json
import sys
import time
from collections import Counter
from pathlib import Path

if sys.version_info < (3, 12):
    sys.exit("This needs Python 3.12 or newer, which tells which test reaches a line.")

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from mutation.places import Place  # noqa: E402
from mutation.trying import ENOUGH_S, LONGEST_S, Trials, standard  # noqa: E402


def main():
    """Read the arguments, try, print."""
    parser = argparse.ArgumentParser(prog="tests/mutation", description=__doc__)
    parser.add_argument("--changes", type=int, default=40)
    parser.add_argument("--seed", default="mutation")
    parser.add_argument("--modules", help="only those whose path this regular expression finds")
    parser.add_argument("--all", action="store_true", help="print those that are caught as well")
    parser.add_argument(
        "--replace",
        nargs=3,
        action="append",
        metavar=("FILE", "TEXT", "NEW"),
        help="try a change of a text; may be given several times",
    )
    parser.add_argument("--tests", default="", help="only the tests' files whose name this finds")
    parser.add_argument(
        "--longest", type=float, default=LONGEST_S, help="seconds that a test function may take"
    )
    parser.add_argument(
        "--enough", type=float, default=ENOUGH_S, help="seconds of tests for one change"
    )
    parser.add_argument("--report", type=Path, help="a JSON file for the verdicts")
    options = parser.parse_args()
    begun = time.monotonic()
    if options.replace:
        replaced(options.replace, Trials(options.tests, options.longest, options.enough))
        return
    done, baseline_s = standard(
        options.changes,
        options.seed,
        options.modules,
        lambda trial: (options.all or trial.verdict != "caught") and say(trial),
        tests=options.tests,
        longest_s=options.longest,
        enough_s=options.enough,
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


def replaced(wanted, trials):
    """Try changes of texts, each of which stands once in its file."""
    changes = []
    for name, text, new in wanted:
        source = (ROOT / name).read_text(encoding="utf-8")
        assert source.count(text) == 1, f"{name} holds the text {source.count(text)} times"
        first = source[: source.index(text)].count("\n") + 1
        lines = sum(1 << first + more for more in range(text.count("\n") + 1))
        place = Replaced(name, 0, f"{text} → {new}", first, lines)
        changes.append((place, name, ast.parse(source.replace(text, new))))
    for trial in trials.verdicts(changes):
        say(trial)
    trials.close()


class Replaced(Place):
    """A text that is replaced by hand."""

    def __str__(self):
        return f"{self.module}:{self.line}: {self.what}"


if __name__ == "__main__":
    main()
