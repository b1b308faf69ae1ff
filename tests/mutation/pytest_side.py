"""What happens inside pytest: the baseline, and the tests of one change."""

import functools
import gc
import inspect
import itertools
import os
import random
import resource
import signal
import subprocess
import time
from collections import Counter, defaultdict
from contextlib import suppress
from types import FunctionType

import pytest
from hypothesis import Phase, settings

from mutation.loading import Loader
from mutation.places import ROOT, codes
from mutation.reach import as_masks

# A test of a changed formula may take this much longer before it counts as one without an end.
PATIENCE, GRACE_S = 8, 2.0
MEMORY = 3 << 30
# Other processes know nothing of the change: their tests are left out.
OTHER_PROCESSES = {"site", "served", "browser", "page", "context", "test_port", "ngspice"}
CAUGHT, SURVIVED, NO_VERDICT = "caught", "survived", "no verdict"


class _TooSlow(BaseException):
    """A test of the baseline took longer than it may."""

    seen = False


def test_files():
    """Return the tests' files."""
    return [
        path for path in sorted((ROOT / "tests").glob("test_*.py")) if path.stem != "test_mutation"
    ]


@functools.cache
def starts_programs(function, seen=()):
    """Tell whether a test starts programs, itself or by functions of its file."""
    names = [name for code in codes(function.__code__) for name in code.co_names]
    known = [function.__globals__[name] for name in names if name in function.__globals__]
    # Not by equality: an array among them is equal here and there.
    return any(each is subprocess for each in known) or any(
        starts_programs(other, (*seen, other))
        for other in known
        if isinstance(other, FunctionType) and other not in seen
    )


def run_pytest(files, plugin):
    """Collect the tests of some files and let the plugin run them; return pytest's status."""
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    off = [f"-pno:{name}" for name in ("cacheprovider", "xdist", "faulthandler")]
    arguments = ["-q", f"--rootdir={ROOT}", "--hypothesis-seed=0", *off, *map(str, files)]
    os.chdir(ROOT)
    return pytest.main(arguments, plugins=[plugin])


class Side:
    """Takes the place of pytest's loop over the tests."""

    def __init__(self, work, watch=None, longest_s=0.0):
        self.work = work  # is called with this object once everything is collected
        self.watch = watch
        self.longest_s = longest_s
        self.items = {}
        self.failed = None
        self.broken = ""

    def pytest_collectreport(self, report):
        if report.failed:
            self.broken = str(report.longrepr).strip().splitlines()[-1]

    @pytest.hookimpl(trylast=True)
    def pytest_configure(self, config):
        # Looking for the simplest case that fails takes long and is not wanted.
        few = settings(
            settings.get_profile("short"),
            max_examples=40,
            phases=[Phase.explicit, Phase.generate],
            database=None,
            derandomize=True,
        )
        settings.register_profile("mutation", few)
        settings.load_profile("mutation")

    def pytest_runtestloop(self, session):
        if session.testsfailed:
            self.failed = f"broken import: {self.broken}"
            return True
        gc.unfreeze()  # what conftest.py froze the collector does not tell of
        known_caches()
        self.items = {
            item.nodeid: item
            for item in session.items
            if not OTHER_PROCESSES & set(getattr(item, "fixturenames", ()))
            if not starts_programs(inspect.unwrap(item.function))
        }
        try:
            self.work(self)
        except Exception as error:
            self.failed = repr(error)
        return True

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef, request):
        watch = self.watch
        if watch is None or fixturedef.scope == "function":
            return (yield)
        # What a shared fixture runs is reached by all tests that use it.
        outer = watch.start()
        try:
            return (yield)
        finally:
            fixturedef.reached = watch.start()
            watch.lines |= outer

    def pytest_runtest_logreport(self, report):
        if report.failed:
            self.failed = report

    # The baseline

    def baseline(self, items, send):
        """Run tests; send (test, seconds, lines) of those that pass and are quick enough.

        A test function may take `longest_s` processor seconds with all its cases; what comes
        later than that is left out. It costs more than it adds: formulas have quick tests.
        """
        signal.signal(signal.SIGPROF, _too_slow)
        left_s, spoilt = defaultdict(lambda: self.longest_s), False
        items = random.Random(0).sample(items, len(items))
        for item, following in zip(items, [*items[1:], None], strict=True):
            function = item.nodeid.split("[")[0]
            if left_s[function] < 0:
                continue
            clear_caches()
            self.failed = None
            self.watch.start()
            begun = time.process_time()
            signal.setitimer(signal.ITIMER_PROF, left_s[function] + 0.1)
            with suppress(_TooSlow):
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            signal.setitimer(signal.ITIMER_PROF, 0)
            seconds = time.process_time() - begun
            left_s[function] -= seconds
            send(seconds)
            lines = set(self.watch.lines)
            for definitions in item._fixtureinfo.name2fixturedefs.values():
                lines |= getattr(definitions[-1], "reached", set())
            if _TooSlow.seen:
                _TooSlow.seen = False
                spoilt = spoilt or getattr(self.failed, "when", "setup") == "setup"
            elif self.failed and spoilt and self.failed.when == "setup":
                pass  # it shares a fixture that took too long
            elif self.failed and lines:
                raise AssertionError(f"fails unchanged: {item.nodeid}\n{self.failed.longrepr}")
            elif lines:
                send((item.nodeid, seconds, as_masks(lines)))

    # One change

    def run(self, tests, seconds, enough_s):
        """Run tests until one fails; return the verdict and the test.

        Of all tests the first are run, as many as took `enough_s` together unchanged.
        """
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))
        total = itertools.accumulate(seconds[test] for test in tests)
        enough = [test for test, sum_s in zip(tests, total, strict=True) if sum_s <= enough_s]
        items = [self.items[test] for test in enough if test in self.items]
        for item, following in itertools.zip_longest(items, items[1:]):
            clear_caches()
            # One second more for what a shared fixture takes.
            signal.setitimer(signal.ITIMER_PROF, GRACE_S + PATIENCE * seconds[item.nodeid])
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.failed:
                text = str(self.failed.longrepr)
                signal.setitimer(signal.ITIMER_PROF, 0)
                if "MemoryError" in text:
                    return NO_VERDICT, "no memory left"
                return CAUGHT, item.nodeid
        return SURVIVED, f"{len(items)} tests"


def _too_slow(_signal, _frame):
    _TooSlow.seen = True
    raise _TooSlow


@functools.cache
def known_caches():
    """Return the caches of formulas; asked first while the collector still knows everything."""
    kind = type(known_caches)
    return [
        each
        for each in gc.get_objects()
        if isinstance(each, kind) and (each.__module__ or "").startswith("calc")
    ]


def clear_caches():
    """Forget what formulas have kept from earlier tests."""
    for each in known_caches():
        each.cache_clear()


def known_functions():
    """Return code → the functions made of it, for all of `calc`."""
    functions = {code: [] for module in Loader.loaded.values() for code in codes(module)}
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__code__ in functions:
            functions[each.__code__].append(each)
    return functions


def exchange(module, tree, functions):
    """Give the functions of a module the code of a changed tree, in place.

    Return whether that could be done: a function cannot lose a name of the function around it.
    """
    new = dict(_by_name(compile(tree, str(ROOT / module), "exec", dont_inherit=True)))
    try:
        for name, before in _by_name(Loader.loaded[module]):
            for function in functions[before]:
                function.__code__ = new[name]
    except (KeyError, ValueError):
        return False
    return True


def _by_name(module_code):
    """Yield (name and line and which of them, code) of all code in a module."""
    seen = Counter()
    for code in codes(module_code):
        name = (code.co_qualname, code.co_firstlineno)
        yield (*name, seen[name]), code
        seen[name] += 1
