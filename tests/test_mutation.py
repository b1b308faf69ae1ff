"""The formula tests notice when a formula is wrong: one sign, bound or figure is changed at a
time in a copy of the project, and the chapter's tests must fail.
"""

import ast
import random
import shutil
import subprocess
import sys

import pytest
from conftest import ROOT, sampled

CHAPTERS = {
    "setup": (
        [
            "calc/physics/levels.py",
            "calc/physics/boost.py",
            "calc/physics/tones.py",
            "calc/setup/chain.py",
            "calc/setup/turning_on.py",
            "calc/setup/readings.py",
        ],
        [
            "tests/test_setup_levels.py",
            "tests/test_setup_ways.py",
            "tests/test_tone_files.py",
        ],
    ),
    "choosing": (
        [
            "calc/choosing/layouts/wirings.py",
            "calc/choosing/layouts/arrangements.py",
            "calc/choosing/layouts/balance.py",
            "calc/choosing/layouts/channels.py",
            "calc/choosing/search.py",
            "calc/choosing/checks/amplifier.py",
            "calc/choosing/checks/kinds.py",
            "calc/choosing/checks/layout.py",
        ],
        [
            "tests/test_customers.py",
            "tests/test_choosing.py",
            "tests/test_choosing_laws.py",
            "tests/test_choosing_stream.py",
            "tests/test_choosing_wirings.py",
            "tests/test_plan_numbers.py",
        ],
    ),
    "bridging": (
        ["calc/physics/channel_power.py", "calc/bridging/mapping.py"],
        ["tests/test_bridging_formulas.py", "tests/test_channel_map.py"],
    ),
    "coils": (
        [
            "calc/coils/networks.py",
            "calc/coils/pairings.py",
            "calc/coils/model.py",
            "calc/coils/notation.py",
            "calc/coils/faults.py",
        ],
        [
            "tests/test_coil_formulas.py",
            "tests/test_coil_circuits.py",
            "tests/test_coil_counts.py",
            "tests/test_coil_details.py",
            "tests/test_meter_check.py",
        ],
    ),
    "crossovers": (
        [
            "calc/physics/filters.py",
            "calc/physics/filter_sums.py",
            "calc/physics/ripple.py",
            "calc/physics/preferred_values.py",
            "calc/physics/pads.py",
            "calc/physics/delays.py",
            "calc/physics/ladder.py",
            "calc/physics/circuit.py",
        ],
        [
            "tests/test_crossover_filters.py",
            "tests/test_crossover_sums.py",
            "tests/test_crossover_calculators.py",
            "tests/test_passive_networks.py",
        ],
    ),
    "splits": (
        [
            "calc/crossovers/split.py",
            "calc/crossovers/split_edges.py",
            "calc/crossovers/split_hand.py",
            "calc/crossovers/split_polarity.py",
            "calc/crossovers/split_problem.py",
            "calc/crossovers/split_search.py",
        ],
        [
            "tests/test_filter_split.py",
            "tests/test_split_arrangements.py",
            "tests/test_split_edges.py",
            "tests/test_split_search.py",
        ],
    ),
    "cabling": (
        [
            "calc/physics/conductors.py",
            "calc/physics/permitted_current.py",
            "calc/physics/amplifier_draw.py",
            "calc/physics/feed.py",
            "calc/physics/speaker_leads.py",
            "calc/cabling/sizing.py",
            "calc/physics/main_fuse.py",
            "calc/cabling/bought.py",
            "calc/physics/acceptance.py",
            # Not optimum.py: most of it is a bound, and any bound gives the same answers.
            "calc/cabling/tree.py",
        ],
        [
            "tests/test_cable_formulas.py",
            "tests/test_cable_units.py",
            "tests/test_cable_tree.py",
            "tests/test_cable_kits.py",
        ],
    ),
    # Not the search itself: changed, it may run for ever; it is held against trying everything.
    "placement": (
        [
            "calc/physics/floor_plan.py",
            "calc/placement/reach.py",
            "calc/placement/options.py",
            "calc/placement/placing.py",
            "calc/placement/runs.py",
            "calc/physics/air.py",
            "calc/physics/fixing.py",
        ],
        [
            "tests/test_mounting_formulas.py",
            "tests/test_mounting_search.py",
            "tests/test_mounting_laws.py",
        ],
    ),
}
SHORT, LONG = 2, 40  # changes tried in each chapter
# Some changes alter nothing that can be seen: a tolerance, the order of equals.
LEAST_NOTICED = 0.75

_OTHER = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip


def places(tree):
    """Yield what can be changed: (node, field, index or None)."""
    for node in ast.walk(tree):
        if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in _OTHER:
            yield node, "op", None
        elif isinstance(node, ast.Compare):
            for at, one in enumerate(node.ops):
                if type(one) in _OTHER:
                    yield node, "ops", at
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            yield node, "value", None


def changed(source, which):
    """Return the source with its `which`-th place changed, and a word on the change."""
    tree = ast.parse(source)
    node, name, at = list(places(tree))[which]
    if name == "value":
        told = f"line {node.lineno}: {node.value} → {node.value + 1}"
        node.value += 1
    elif at is None:
        other = _OTHER[type(node.op)]
        told = f"line {node.lineno}: {type(node.op).__name__} → {other.__name__}"
        node.op = other()
    else:
        other = _OTHER[type(node.ops[at])]
        told = f"line {node.lineno}: {type(node.ops[at]).__name__} → {other.__name__}"
        node.ops[at] = other()
    return ast.unparse(tree), told


@pytest.fixture
def copy(tmp_path):
    for name in ("calc", "tests", "build", "shared"):
        ignored = shutil.ignore_patterns("node_modules", "__pycache__", "web", "theme")
        shutil.copytree(ROOT / name, tmp_path / name, ignore=ignored)
    shutil.copy(ROOT / "pyproject.toml", tmp_path / "pyproject.toml")
    return tmp_path


def is_noticed(copy, tests):
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    try:
        done = subprocess.run(command, cwd=copy, capture_output=True, check=False, timeout=90)
    except subprocess.TimeoutExpired:
        return True
    return done.returncode != 0


@pytest.mark.parametrize("chapter", sampled(CHAPTERS, ["setup", "bridging"]))
def test_wrong_formulas_are_noticed(copy, chapter, is_long):
    modules, tests = CHAPTERS[chapter]
    sources = {name: (ROOT / name).read_text(encoding="utf-8") for name in modules}
    all_places = [
        (name, at)
        for name, source in sources.items()
        for at in range(len(list(places(ast.parse(source)))))
    ]
    rng = random.Random(f"mutation {chapter}")
    tried = rng.sample(all_places, LONG if is_long else SHORT)
    missed = []
    for name, at in tried:
        source, told = changed(sources[name], at)
        (copy / name).write_text(source, encoding="utf-8")
        if not is_noticed(copy, tests):
            missed.append(f"{name}, {told}")
        (copy / name).write_text(sources[name], encoding="utf-8")
    print(
        f"{chapter}: {len(tried) - len(missed)} of {len(tried)} changes noticed; missed: {missed}"
    )
    assert len(missed) <= (1 - LEAST_NOTICED) * len(tried) + (0 if is_long else 1), missed
