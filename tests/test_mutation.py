"""The tests notice when a formula is wrong: one operator, bound or figure is changed at a time,
and one of the tests that reach it must fail.
"""

import ast
import json
import subprocess
import sys

import pytest
from conftest import ROOT
from mutation.places import change, drawn_from, drawn_trees, places

CHANGES = 300
# Many change nothing that can be told: a bound that is never met, a figure that is only rounded, a
# search that finds the same by a longer way; and a change is tried for 30 seconds at most.  A floor
# below what was measured (seven of ten): it is there to rise.
LEAST_CAUGHT = 0.65
# Asked of `sys.monitoring`.  `build/run.py test` names it at its end as not covered.
by_reach = pytest.mark.skipif(
    sys.version_info < (3, 12), reason="Python 3.12 and later tell which test reaches a line"
)


@by_reach
@pytest.mark.full  # to learn which test runs which lines takes minutes
def test_wrong_formulas_are_noticed(tmp_path):
    """Every module is drawn from; what has no verdict (a broken import, no end) is drawn anew."""
    report = tmp_path / "report.json"
    done = subprocess.run(
        [
            sys.executable, "tests/mutation",
            f"--changes={CHANGES}", f"--report={report}",
        ],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    print(done.stdout)
    assert done.returncode == 0, done.stdout + done.stderr
    verdicts = [trial["verdict"] for trial in json.loads(report.read_text(encoding="utf-8"))]
    caught, survived = (verdicts.count(verdict) for verdict in ("caught", "survived"))
    assert caught + survived >= CHANGES
    assert caught >= LEAST_CAUGHT * (caught + survived), done.stdout


@by_reach
def test_a_changed_formula_is_noticed(tmp_path):
    """The trying itself works: of some changes of few formulas the tests of one file catch most."""
    report = tmp_path / "report.json"
    subprocess.run(
        [
            sys.executable, "tests/mutation", "--changes=5", "--modules=calc/physics/levels",
            "--tests=setup_levels", f"--report={report}",
        ],
        cwd=ROOT, capture_output=True, check=True,
    )  # fmt: skip
    verdicts = [trial["verdict"] for trial in json.loads(report.read_text(encoding="utf-8"))]
    assert verdicts.count("caught") >= 3


@pytest.mark.parametrize(
    ("path", "source", "expected"),
    [
        ("physics/levels.py", "def double(x): return 2 * x", True),
        ("cabling/power_cable/solve.py", "from calc.physics.x import y\nz = y() + 1", True),
        ("choosing/checks/heat.py", "from calc.answers.sheet import Verdict\nx = 1 < 2", True),
        ("cabling/names.py", "NAMES = ('a', 'b')", False),
        ("answers/figures.py", "x = 1 + 2", False),
        ("cabling/power_cable/sheet.py", "x = 1 + 2", False),
        ("coils/join.py", "from calc.core.drawing import wire\nx = wire(1 + 2)", False),
        ("coils/drawings.py", "x = 1 + 2", False),
        ("cabling/power_cable/sheet.py", "def judge(x): return x < 2", True),
        ("choosing/search.py", "from calc.inputs.fields import Number\nx = Number(1 + 2)", False),
        ("choosing/search.py", "from calc.inputs.fields import Number\nx = 1 + 2", True),
        ("page.py", "x = 1 + 2", False),
    ],
)
def test_what_computes_and_shows_nothing_is_drawn_from(path, source, expected):
    assert (drawn_from(ROOT / "calc" / path, ast.parse(source)) is not None) is expected


def test_every_change_makes_other_code_that_python_accepts():
    for module, tree in list(drawn_trees().items())[::15]:
        before = ast.dump(ast.parse((ROOT / module).read_text(encoding="utf-8")))
        for place in list(places(module, tree))[::5]:
            changed, old, new = change(place)
            compile(changed, module, "exec")
            assert ast.dump(changed) != before
            assert old != new or place.what == "condition inverted"
