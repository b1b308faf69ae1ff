"""Tries changes and gives the verdict on each."""

import hashlib
import importlib
import os
import pickle
import random
import re
import sys
import time
from dataclasses import dataclass

from mutation import loading, processes
from mutation.places import ROOT, change, codes, drawn_trees, places
from mutation.pytest_side import (
    NO_VERDICT,
    SURVIVED,
    Side,
    exchange,
    known_functions,
    run_pytest,
    test_files,
)
from mutation.reach import Reach, Watch, as_masks

KEPT = ROOT / ".work" / "reach.pickle"
# By the clock; the processor seconds of each test are bounded much more tightly.
BASELINE_LIMIT_S, CHANGE_LIMIT_S, IMPORT_LIMIT_S = 600, 300, 120
FIRST_FILES = 5
ENOUGH_S = 30.0  # of tests for one change
LONGEST_S = 3.0  # that a test function may take in the baseline, with all its cases


@dataclass(frozen=True)
class Trial:
    """A changed place, or a changed text, and what came of it."""

    place: object
    verdict: str
    note: str  # the test that failed, or how many did not, or why there is no verdict
    seconds: float


def drawn(count, seed, modules=None):
    """Yield places in the order in which they are tried: one of each module first."""
    rng = random.Random(seed)
    each = {
        module: rng.sample(found, len(found))
        for module, tree in drawn_trees().items()
        if (found := list(places(module, tree))) and re.search(modules or "", module)
    }
    first = rng.sample(sorted(each), len(each))
    yield from (each[module][0] for module in first)
    rest = [place for module in sorted(each) for place in each[module][1:]]
    yield from rng.sample(rest, len(rest))


class Trials:
    """The process that everything is imported in, and the baseline it made."""

    def __init__(self, tests="", longest_s=LONGEST_S, enough_s=ENOUGH_S):
        self._files = [path for path in test_files() if re.search(tests, path.name)]
        self._is_whole = not tests
        self._longest_s, self._enough_s = longest_s, enough_s
        self._mark = f"{longest_s} {_mark()}"
        self._asks, asked = os.pipe()
        self._to_warm = os.fdopen(asked, "wb")
        _, self._from_warm = processes.start(self._warm)
        self._answers = processes.received(self._from_warm)
        self.reach, self.baseline_s, libraries = self._answer()
        # So that the tests of changes on import need not begin with these.
        for name in libraries:
            importlib.import_module(name)

    def _answer(self):
        answer = next(self._answers, processes.Broken("it ended without a word"))
        if isinstance(answer, processes.Broken):
            raise AssertionError(answer)
        return answer

    def close(self):
        self._to_warm.close()

    def verdicts(self, changes):
        """Try changes, given as (place, module, changed tree); yield their trials."""
        late = []
        tests = [self.reach.tests(place) for place, _, _ in changes]
        warm = []
        for number, (place, _, _) in enumerate(changes):
            if not tests[number]:
                yield Trial(place, SURVIVED, "no test reaches it", 0)
            elif self.reach.is_for_import(place):
                late.append(number)
            else:
                warm.append(number)
        pickle.dump([(*changes[number][1:], tests[number]) for number in warm], self._to_warm)
        self._to_warm.flush()
        for _ in warm:
            at, result, seconds = self._answer()
            if result is None:
                late.append(warm[at])
            else:
                yield Trial(changes[warm[at]][0], *result, seconds)
        # First the few files whose tests come first: most changes are caught there.
        files = {number: list(dict.fromkeys(map(_file_of, tests[number]))) for number in late}
        while late:
            again = []
            jobs = [
                self._cold_job(*changes[number][1:], tests[number], files[number][:FIRST_FILES])
                for number in late
            ]
            for at, sent in processes.pool(jobs, IMPORT_LIMIT_S):
                number = late[at]
                result, seconds = _result(sent)
                del files[number][:FIRST_FILES]
                if result[0] == SURVIVED and files[number]:
                    again.append(number)
                else:
                    yield Trial(changes[number][0], *result, seconds)
            late = again

    # The process in which everything is imported

    def _warm(self, send):
        self._to_warm.close()
        watch = Watch()
        loading.install(watch=watch)
        known = set(sys.modules)
        begun = time.process_time()

        def work(side):
            for module in drawn_trees():
                importlib.import_module(module.removesuffix(".py").replace("/", "."))
            at_import = as_masks(watch.at_import)
            functions = known_functions()
            reach, seconds = self._baseline(side, watch, at_import)
            libraries = sorted(
                name
                for name, module in sys.modules.items()
                if name not in known and "site-packages" in str(getattr(module, "__file__", ""))
                if "." not in name and not name.startswith("_")
            )
            send((reach, seconds + time.process_time() - begun, libraries))
            watch.stop(code for module in loading.Loader.loaded.values() for code in codes(module))
            side.watch = None
            for changes in processes.received(os.fdopen(self._asks, "rb")):
                jobs = [self._warm_job(side, functions, reach, *each) for each in changes]
                for at, sent in processes.pool(jobs, CHANGE_LIMIT_S):
                    send((at, *_result(sent)))

        side = Side(work, watch, self._longest_s)
        status = run_pytest(self._files, side)
        if side.failed or not side.items:
            raise AssertionError(f"pytest's status {status}: {side.failed}")

    def _baseline(self, side, watch, at_import):
        if self._is_whole and KEPT.exists():
            kept_mark, reach, seconds = pickle.loads(KEPT.read_bytes())
            if kept_mark == self._mark:
                reach.at_import = at_import
                return reach, seconds
        files = {}
        for name, item in side.items.items():
            files.setdefault(_file_of(name), []).append(item)
        jobs = [lambda send, items=items: side.baseline(items, send) for items in files.values()]
        seconds, masks, total = {}, {}, 0
        for _, sent in processes.pool(jobs, BASELINE_LIMIT_S):
            for each in sent:
                if isinstance(each, processes.Broken):
                    raise AssertionError(f"the baseline is broken: {each}")
                if isinstance(each, float):
                    total += each
                else:
                    name, seconds[name], masks[name] = each
        reach = Reach(seconds, masks, at_import)
        if self._is_whole:
            KEPT.parent.mkdir(exist_ok=True)
            KEPT.write_bytes(pickle.dumps((self._mark, reach, total)))
        return reach, total

    def _warm_job(self, side, functions, reach, module, tree, tests):
        """Return a job for a change inside functions: they get the changed code."""

        def job(send):
            begun = time.process_time()
            if not exchange(module, tree, functions):
                send((None, 0))
                return
            result = side.run(tests, reach.seconds, self._enough_s)
            send((result, time.process_time() - begun))

        return job

    def _cold_job(self, module, tree, tests, files):
        """Return a job for a change that has its effect on import: all is imported anew."""

        def job(send):
            begun = time.process_time()
            self._to_warm.close()
            loading.install(trees={module: tree})
            result = []

            def work(side):
                result.extend(side.run(tests, self.reach.seconds, self._enough_s))

            side = Side(work)
            run_pytest([ROOT / name for name in files], side)
            if not result:
                result.extend((NO_VERDICT, side.failed or "broken import"))
            send((tuple(result), time.process_time() - begun))

        return job


def _file_of(test):
    return test.split("::")[0]


def _result(sent):
    """Return the result that a process sent, and its seconds; no verdict where it came to grief."""
    if sent and not isinstance(sent[0], processes.Broken):
        return sent[0]
    return (NO_VERDICT, str(sent[0]) if sent else "it did not end in time"), 0


def _mark():
    """A stamp of all that the baseline depends on."""
    mark = hashlib.sha256()
    for folder in ("calc", "tests", "shared"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and not {"__pycache__", "mutation"} & {*path.relative_to(ROOT).parts}:
                mark.update(str(path).encode() + b"\0" + path.read_bytes() + b"\0")
    return mark.hexdigest()


def standard(count, seed="mutation", modules=None, say=print, **more):
    """Try changes until there are `count` verdicts; return (trials, seconds of the baseline)."""
    order = iter(drawn(count, seed, modules))
    trials = Trials(**more)
    done = []
    verdicts = 0
    while verdicts < count:
        wave = [place for place, _ in zip(order, range(count - verdicts), strict=False)]
        if not wave:
            break
        changes = [(place, place.module, change(place)[0]) for place in wave]
        for trial in trials.verdicts(changes):
            say(trial)
            done.append(trial)
            verdicts += trial.verdict != NO_VERDICT
    trials.close()
    return done, trials.baseline_s
