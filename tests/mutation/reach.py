"""Which test runs which lines of `calc`.

Own and not coverage.py: a line tells of itself once in a test and is then switched off, so that
the baseline takes no longer than the tests alone.
"""

import ast
import sys
from collections import defaultdict
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from mutation.places import FUNCTIONS, ROOT, codes, parsed

_TOOL = sys.monitoring.COVERAGE_ID
_LINE = sys.monitoring.events.LINE


class Watch:
    """Notes the lines of `calc` that run: `lines` is (file, line) of all since `start`."""

    def __init__(self):
        self.lines, self.at_import, self._depth = set(), set(), 0
        sys.monitoring.use_tool_id(_TOOL, "reach")
        sys.monitoring.register_callback(_TOOL, _LINE, self._line)

    def add(self, module_code):
        for code in codes(module_code):
            sys.monitoring.set_local_events(_TOOL, code, _LINE)

    def start(self):
        """Begin anew; return the lines until now."""
        before, self.lines = self.lines, set()
        sys.monitoring.restart_events()
        return before

    @contextmanager
    def importing(self):
        """Put what runs meanwhile to `at_import`."""
        if not self._depth:
            self.start()
        self._depth += 1
        yield
        self._depth -= 1
        if not self._depth:
            self.at_import |= self.start()

    @staticmethod
    def stop(watched):
        """Watch nothing any more."""
        for code in watched:
            sys.monitoring.set_local_events(_TOOL, code, 0)

    def _line(self, code, line):
        self.lines.add((code.co_filename, line))
        return sys.monitoring.DISABLE


def as_masks(lines):
    """Return lines as one whole number for each module, a bit for each line."""
    masks = defaultdict(int)
    for name, line in lines:
        masks[name] |= 1 << line
    return {Path(name).relative_to(ROOT).as_posix(): mask for name, mask in masks.items()}


class Reach:
    """What the baseline found: times and lines of each test, and what ran on import."""

    def __init__(self, seconds, masks, at_import):
        self.seconds = seconds  # test → processor seconds
        self.masks = masks  # test → {module: lines}
        self.at_import = at_import  # module → lines that ran while everything was imported

    def is_for_import(self, place):
        """Tell whether a change has its effect while modules are imported."""
        return bool(self.at_import.get(place.module, 0) & place.lines)

    def tests(self, place):
        """Return the tests that reach a place, quick ones of few lines first.

        What is reached on import has its effect where the names are used that it defines: those
        that use the names themselves come before those that use others defined by them. Of each
        test function the quickest case comes first, then the second of each, and so on.
        """
        own = {place.module: place.lines}
        if not self.is_for_import(place):
            return self._in_order(self._reaching(own))
        near = self._reaching(own, uses(place, is_near=True))
        known = set(near)
        far = [test for test in self._reaching(own, uses(place)) if test not in known]
        return self._in_order(near) + self._in_order(far)

    def _reaching(self, lines, more=()):
        wanted = dict(lines)
        for module, line in more:
            wanted[module] = wanted.get(module, 0) | 1 << line
        return [
            test
            for test, masks in self.masks.items()
            if any(masks.get(module, 0) & mask for module, mask in wanted.items())
        ]

    def _in_order(self, reaching):
        reaching.sort(key=lambda test: (round(self.seconds[test], 2), self._breadth(test)))
        rounds, turn = defaultdict(int), {}
        for test in reaching:
            function = test.split("[")[0]
            turn[test] = rounds[function]
            rounds[function] += 1
        return sorted(reaching, key=lambda test: turn[test])

    def _breadth(self, test):
        return sum(mask.bit_count() for mask in self.masks[test].values())


def uses(place, *, is_near=False):
    """Return (module, line) inside functions where names are used that a place helps to define.

    Names defined by means of these names count as well, unless `is_near`.
    """
    statements, mentions = _names()
    names, waiting = set(), set()
    for module, first, last, defined, _ in statements:
        if module == place.module and first <= place.line <= last:
            waiting |= defined
    while waiting:
        names |= waiting
        if is_near:
            break
        waiting = {
            name for _, _, _, defined, used in statements if used & waiting for name in defined
        } - names
    return [where for name in names for where in mentions.get(name, ())]


@cache
def _names():
    """Return what stands outside functions, as (module, first line, last line, names defined,
    names used), and name → places inside functions where it is mentioned.
    """
    statements, mentions = [], defaultdict(list)
    for path in sorted((ROOT / "calc").rglob("*.py")):
        module = path.relative_to(ROOT).as_posix()
        _outside(parsed(path).body, module, set(), statements, mentions)
    return statements, mentions


def _outside(body, module, owner, statements, mentions):
    for node in body:
        if isinstance(node, ast.ClassDef):
            _outside(node.body, module, owner | {node.name}, statements, mentions)
            continue
        inside = []
        defined, used = set(owner), set()
        if isinstance(node, ast.FunctionDef):
            defined |= {node.name}
            inside = [*node.body]
        _sort_names(node, inside, defined, used)
        for part in inside:
            for name in ast.walk(part):
                if isinstance(name, ast.Name | ast.Attribute):
                    mentions[_name_of(name)].append((module, name.lineno))
        if isinstance(node, ast.FunctionDef) and owner:
            defined -= owner
        first = min([node.lineno, *(each.lineno for each in getattr(node, "decorator_list", []))])
        statements.append((module, first, node.end_lineno, defined, used))


def _sort_names(node, inside, defined, used):
    """Put the names of a statement where they belong; what lambdas hold is inside."""
    stack = [child for child in ast.iter_child_nodes(node) if child not in inside]
    while stack:
        part = stack.pop()
        if isinstance(part, FUNCTIONS):
            inside.append(part)
            continue
        if isinstance(part, ast.Name | ast.Attribute):
            is_new = isinstance(getattr(part, "ctx", None), ast.Store)
            (defined if is_new else used).add(_name_of(part))
        stack += ast.iter_child_nodes(part)


def _name_of(node):
    return node.id if isinstance(node, ast.Name) else node.attr
