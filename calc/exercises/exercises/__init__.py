"""The calculator `exercises`: a class code's problems, their key, and what was answered."""

from calc.exercises.exercises.inputs import Inputs
from calc.exercises.exercises.sheet import EXERCISES
from calc.exercises.exercises.solve import Result, solve

__all__ = ["EXERCISES", "Inputs", "Result", "solve"]
