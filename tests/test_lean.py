"""The page's dataclasses do without what only developers need, and are else as any."""

import subprocess
import sys

from conftest import ROOT

SCRIPT = """
from calc.app import lean
lean.begin()
from calc.answers.sheet import Quantity
from calc.app.contents import CALCULATORS
from calc.physics.channel_power import Power

assert Quantity(1.0, "Ω") == Quantity(1.0, "Ω") != Quantity(2.0, "Ω")
assert {Quantity(1.0, "Ω"): 1}[Quantity(1.0, "Ω")] == 1
assert hash(Power.unknown()) == hash(Power.unknown())
assert Quantity.__repr__ is object.__repr__
sentences = {name: CALCULATORS[name].answer({}).sheet.sentence for name in CALCULATORS}
lean.end()
assert not getattr(Quantity, "__annotations__", {})
for name, sentence in sentences.items():
    assert CALCULATORS[name].answer({}).sheet.sentence == sentence
print("well")
"""


def test_lean_dataclasses_are_equal_and_hashed_as_any():
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.stdout.strip() == "well", done.stderr
