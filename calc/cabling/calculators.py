"""The calculators of this chapter, in the order of the page."""

from calc.cabling.cable_chart import CABLE_CHART
from calc.cabling.cable_tree import CABLE_TREE
from calc.cabling.kit_list import KIT_LIST
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.speaker_lead import SPEAKER_LEAD
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.cabling.wire_facts import WIRE_FACTS

CALCULATORS = (POWER_CABLE, CABLE_TREE, WIRE_FACTS, SPEAKER_LEAD, SUPPLY_BUDGET, KIT_LIST)
CHART = (CABLE_CHART,)
