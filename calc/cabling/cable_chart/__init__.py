"""The calculator `cable-chart`: power × distance → size, on one sheet for the wall."""

from calc.cabling.cable_chart.inputs import Inputs
from calc.cabling.cable_chart.sheet import CABLE_CHART, judge
from calc.cabling.cable_chart.solve import Chart, ChartRow, Result, solve

__all__ = ["CABLE_CHART", "Chart", "ChartRow", "Inputs", "Result", "judge", "solve"]
