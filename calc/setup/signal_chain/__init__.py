"""The calculator `signal-chain`: does the source suit the amplifier's inputs?"""

from calc.setup.signal_chain.chain import Chain, Range
from calc.setup.signal_chain.factory import QUESTIONS, answers_of
from calc.setup.signal_chain.inputs import Inputs
from calc.setup.signal_chain.sheet import SIGNAL_CHAIN, judge
from calc.setup.signal_chain.solve import Result, solve

__all__ = [
    "QUESTIONS",
    "SIGNAL_CHAIN",
    "Chain",
    "Inputs",
    "Range",
    "Result",
    "answers_of",
    "judge",
    "solve",
]
