"""The calculators of this chapter, in the order of its page."""

from calc.setup.boost_cost import BOOST_COST
from calc.setup.commissioning import COMMISSIONING
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.test_tone import TEST_TONE
from calc.setup.turn_on import TURN_ON

CALCULATORS = (SIGNAL_CHAIN, GAIN_VOLTAGE, TEST_TONE, BOOST_COST, TURN_ON)
SHEET = (COMMISSIONING,)
