"""The calculator `test-tone`: a tone to set the gain by, played in the page or saved as a file."""

from calc.setup.test_tone.inputs import Inputs
from calc.setup.test_tone.sheet import TEST_TONE
from calc.setup.test_tone.solve import Result, solve

__all__ = ["TEST_TONE", "Inputs", "Result", "solve"]
