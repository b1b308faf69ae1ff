"""The calculator `cable-tree`: one trunk with branches, sized for the least conductor."""

from calc.cabling.cable_tree.inputs import Inputs, LoadRow, RunRow
from calc.cabling.cable_tree.sheet import CABLE_TREE
from calc.cabling.cable_tree.solve import Result, solve
from calc.cabling.cable_tree.words import judge

__all__ = ["CABLE_TREE", "Inputs", "LoadRow", "Result", "RunRow", "judge", "solve"]
