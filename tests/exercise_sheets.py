"""Sheets of exercises, drawn for tests, and the arithmetic of their worked steps."""

import ast
import math
import re
from functools import cache

from calc.exercises.exercises.inputs import CHAPTERS, LEVELS
from calc.exercises.making import problems_of

ALL = [(chapter, level) for chapter, _ in CHAPTERS for level, _ in LEVELS]
SHORT_RUN, LONG_RUN = 168, 10_000


def sheets(is_long, many=None):
    """Yield chapter, level, code and problems, every chapter and level in turn."""
    for at in range(many or (LONG_RUN if is_long else SHORT_RUN)):
        chapter, level = ALL[at % len(ALL)]
        code = f"class {at // len(ALL)}"
        make = _kept if at < SHORT_RUN else problems_of
        yield chapter, level, code, make(chapter, level, 1 + at % 8, code)


@cache
def _kept(chapter, level, count, code):
    return problems_of(chapter, level, count, code)


UNITS = "mm²|mΩ/m|m/s|mΩ|m²|mm|ms|Ah|dB|Hz|µF|mH|°C|Ω|W|V|A|K|m|°|%|h"
_SIGNS = {"×": "*", "÷": "/", "−": "-", "^": "**", "²": "**2", "π": "math.pi", "√": "math.sqrt"}
_TERM = rf"(?:\d+(?:\.\d+)?(?:[\u202f ]?(?:{UNITS})(?![\wμ²/]))?²?|[()√π^²]|[ ×÷+−-])+"
_EQUATION = re.compile(rf"(?<![\w·/.])({_TERM})= (−?\d+(?:\.\d+)?)[\u202f ]?({UNITS})?(?![\wμ²/])")


def equations(step):
    """Yield both sides of every sum in a step that is written out in figures, as numbers."""
    for left, right, unit in _EQUATION.findall(step):
        if not re.search(r"[×÷+√^]|− ", left):
            continue
        plain = re.sub(rf"(\d+(?:\.\d+)?)[\u202f ]?({UNITS})(?![\wμ/])(?!²)", _in_base_unit, left)
        for sign, code in _SIGNS.items():
            plain = plain.replace(sign, code)
        try:
            value = _value(plain)
        except (SyntaxError, ValueError):
            continue
        scale = {"mΩ": 1e-3, "ms": 1e-3, "µF": 1e-6, "mH": 1e-3, "%": 1e-2}.get(unit, 1.0)
        yield left, value, float(right.replace("−", "-")) * scale


def _in_base_unit(hit):
    scale = {"mΩ": "1e-3", "mΩ/m": "1e-3", "ms": "1e-3", "µF": "1e-6", "%": "1e-2"}.get(hit[2])
    return f"({hit[1]}*{scale})" if scale else hit[1]


def _value(plain):
    tree = ast.parse(plain.strip(), mode="eval")
    allowed = (ast.Expression, ast.BinOp, ast.UnaryOp, ast.Constant, ast.Call, ast.Attribute,
               ast.Name, ast.operator, ast.unaryop, ast.Load)  # fmt: skip
    if not all(isinstance(node, allowed) for node in ast.walk(tree)):
        raise ValueError(plain)
    return eval(compile(tree, "step", "eval"), {"math": math})
