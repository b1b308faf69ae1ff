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
    CAUGHT,
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

    def __init__(self, say=print):
        self._say = say
        self._asks, asked = os.pipe()
        self._to_warm = os.fdopen(asked, "wb")
        _, self._from_warm = processes.start(self._warm)
        self._answers = processes.received(self._from_warm)
        message = next(self._answers)
        if isinstance(message, processes.Broken):
            raise AssertionError(message)
        self.reach, self.baseline_s, libraries = message
        # So that the tests of changes on import need not begin with these.
        for name in libraries:
            importlib.import_module(name)

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
            at, result, seconds = next(self._answers)
            if result is None:
                late.append(warm[at])
            else:
                yield Trial(changes[warm[at]][0], *result, seconds)
        jobs = [self._cold_job(*changes[number][1:], tests[number]) for number in late]
        for at, sent in processes.pool(jobs, IMPORT_LIMIT_S):
            results = [each for each in sent if not isinstance(each, processes.Broken)]
            result, seconds = results[0] if results else ((NO_VERDICT, _reason(sent)), 0)
            yield Trial(changes[late[at]][0], *result, seconds)

    # The process in which everything is imported

    def _warm(self, send):
        self._to_warm.close()
        watch = Watch()
        loading.install(watch=watch.add)
        known = set(sys.modules)
        begun = time.process_time()

        def work(side):
            at_import = as_masks(watch.start())
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
            functions = known_functions()
            for changes in processes.received(os.fdopen(self._asks, "rb")):
                jobs = [_warm_job(side, functions, reach, *each) for each in changes]
                for at, sent in processes.pool(jobs, CHANGE_LIMIT_S):
                    result, seconds = sent[0] if _is_whole(sent) else ((NO_VERDICT, _reason(sent)), 0)
                    send((at, result, seconds))

        side = Side(work, watch)
        status = run_pytest(test_files(), side)
        if side.failed or not side.items:
            raise AssertionError(f"pytest's status {status}: {side.failed}")

    def _baseline(self, side, watch, at_import):
        mark = _mark()
        if KEPT.exists():
            kept_mark, reach, seconds = pickle.loads(KEPT.read_bytes())
            if kept_mark == mark:
                return reach, seconds
        files = {}
        for name, item in side.items.items():
            files.setdefault(name.split("::")[0], []).append(item)
        jobs = [lambda send, items=items: side.baseline(items, send) for items in files.values()]
        seconds, masks, total = {}, {}, 0
        import sys as _s, time as _t
        for _n, sent in processes.pool(jobs, BASELINE_LIMIT_S):
            open("/tmp/base.txt","a").write(f"{_t.monotonic():.0f} {list(files)[_n]} {sum(e for e in sent if isinstance(e,float)):.1f} {len(sent)}\n")
            for each in sent:
                if isinstance(each, processes.Broken):
                    raise AssertionError(f"the baseline is broken: {each}")
                if isinstance(each, float):
                    total += each
                else:
                    name, seconds[name], masks[name] = each
        reach = Reach(seconds, masks, at_import)
        KEPT.parent.mkdir(exist_ok=True)
        KEPT.write_bytes(pickle.dumps((mark, reach, total)))
        return reach, total

    def _cold_job(self, module, tree, tests):
        """A change that has its effect on import: everything is imported anew, changed.

        First with the few files whose tests come first, then with all.
        """

        def job(send):
            begun = time.process_time()
            self._to_warm.close()
            loading.install(trees={module: tree})
            files = list(dict.fromkeys(test.split("::")[0] for test in tests))
            result = []

            def work(side):
                result.extend(side.run(tests, self.reach.seconds))

            side = Side(work)
            run_pytest([ROOT / name for name in files[:FIRST_FILES]], side)
            if not result:
                result.extend((NO_VERDICT, side.failed or "nothing was collected"))
            send((tuple(result), time.process_time() - begun))

        return job


def _warm_job(side, functions, reach, module, tree, tests):
    def job(send):
        begun = time.process_time()
        if not exchange(module, tree, functions):
            send((None, 0))
            return
        result = side.run(tests, reach.seconds)
        send((result, time.process_time() - begun))

    return job


def _is_whole(sent):
    return sent and not isinstance(sent[0], processes.Broken)


def _reason(sent):
    return str(sent[0]) if sent else "it did not end in time"


def _mark():
    """A stamp of all that the baseline depends on."""
    mark = hashlib.sha256()
    for folder in ("calc", "tests", "shared"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                mark.update(str(path).encode() + b"\0" + path.read_bytes() + b"\0")
    return mark.hexdigest()


def standard(count, seed="mutation", modules=None, say=print):
    """Try changes until there are `count` verdicts; return (trials, seconds of the baseline)."""
    order = iter(drawn(count, seed, modules))
    trials = Trials()
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


__all__ = ["CAUGHT", "NO_VERDICT", "SURVIVED", "Trials", "standard"]
