"""No figure in a chapter's prose without something that holds it.

What is written by hand must be shown by an example, a table, a drawing or a calculator of the
same page, be expected of an example, or stand in a register entry that the page cites.
"""

import ast
import html
import operator
import re
from collections.abc import Iterable, Iterator

_UNITS = (
    r"mΩ|Ω|mV|kV|V|mW|kW|W|mA|Ah|A|dB\(A\)|dB/oct|dB|dBFS|kHz|Hz|mm²|mm|cm|m²|m|kg|ms|h|hours|"
    r"minutes|seconds|%|°C|µF|mH|AWG"
)
_NUMBER = r"[−-]?\d{1,3}(?:,\d{3})+(?:\.\d+)?|[−-]?\d+(?:\.\d+)?"
_GAP = "[ \u2009\u202f\u00a0]?"
_FIGURE = re.compile(
    rf"(?:(?P<first>{_NUMBER}){_GAP}(?:to|–|and|or){_GAP})?"
    rf"(?<![\w.,/])(?P<last>{_NUMBER}){_GAP}(?:{_UNITS})(?![\w²=])"
)
_NUMBERS = re.compile(_NUMBER)
_FENCE = re.compile(r"^( *)(`{3,}).*?^\1\2`*\s*$", re.MULTILINE | re.DOTALL)
# Code, footnotes, addresses, attributes, tags, and what a box is quoted with.
_CODE = re.compile(
    r"`[^`\n]+`|“[^”\n]*”|^\[\^[\w-]+\]:.*$|\]\([^)]*\)|\{[^}\n]*\}|<[^>]*>", re.MULTILINE
)


def _value(text: str) -> float:
    return abs(float(text.replace(",", "").replace("−", "-")))


def prose_figures(markdown: str) -> Iterator[tuple[str, float]]:
    """Yield each figure of a page's own words, as written and as a number.

    >>> list(prose_figures("From 100 to 200 W, in `4 W`."))
    [('100 to 200 W', 100.0), ('100 to 200 W', 200.0)]
    """
    words = _CODE.sub(" ", _FENCE.sub(" ", markdown))
    for hit in _FIGURE.finditer(words):
        for part in ("first", "last"):
            if hit[part]:
                yield hit[0], _value(hit[part])


def held_numbers(texts: Iterable[str]) -> set[float]:
    """Return all numbers in texts or pieces of HTML, whatever their sign.

    >>> sorted(held_numbers(["<td>1,016</td> mm", "load_ohm=4"]))
    [4.0, 1016.0]
    """
    plain = (html.unescape(re.sub(r"<[^>]*>", " ", text)) for text in texts)
    return {_value(hit[0]) for text in plain for hit in _NUMBERS.finditer(text)}


_SUM = re.compile(r"<!-- held: (.*?) -->", re.DOTALL)
_SIGNS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def held_by_sums(markdown: str) -> set[float]:
    """Return the figures that a page holds by plain arithmetic, or gives as a problem’s own.

    They stand in a comment, and each sum is worked out again.  Raises ValueError for a wrong one.

    >>> sorted(held_by_sums("<!-- held: 2.7 = 13.9 - 11.2; 0.5 -->"))
    [0.5, 2.7]
    """
    held = set()
    for comment in _SUM.findall(markdown):
        for line in comment.split(";"):
            value, equals, terms = line.partition("=")
            number = float(value)
            if equals and not _rounds_to(
                _worked(ast.parse(terms.strip(), mode="eval").body), number
            ):
                raise ValueError(f"‘{line.strip()}’ is a wrong sum")
            held.add(number)
    return held


def _worked(term: ast.expr) -> float:
    if isinstance(term, ast.Constant) and isinstance(term.value, int | float):
        return term.value
    if isinstance(term, ast.BinOp) and type(term.op) in _SIGNS:
        return float(_SIGNS[type(term.op)](_worked(term.left), _worked(term.right)))
    raise ValueError("a sum has numbers and + − × ÷ only")


def unheld(markdown: str, held: set[float]) -> list[str]:
    """Return the figures of the prose that nothing holds; rounding to the figures written is free.

    >>> unheld("About 69 % of 150 W, 3 m away.", {69.44, 150.0})
    ['3 m']
    """
    return list(
        dict.fromkeys(
            words
            for words, value in prose_figures(markdown)
            if not any(_rounds_to(number, value) for number in held)
        )
    )


def _rounds_to(number: float, value: float) -> bool:
    if number == value:
        return True
    return abs(number - value) <= 0.03 * value and float(f"{number:.{_digits(value)}g}") == value


def _digits(value: float) -> int:
    return max(len(f"{value:g}".replace(".", "").strip("0")), 2)
