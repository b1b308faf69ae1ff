"""Numbers with their units in a folded text: single ones, ranges, lists and products."""

import re
from dataclasses import dataclass, field

from calc.reading.record import Span

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
_DENOMINATORS = (2, 4, 8, 16, 32, 64)

# A number: plain, with marks, or a whole one with a fraction.  Every part has a most.
_NUMBER = re.compile(
    r"(?P<whole>\d{1,3})(?:[ -]{1,3})(?P<above>\d{1,2})/(?P<below>\d{1,2})(?![\d/])"
    r"|(?P<only>\d{1,2})/(?P<under>2|4|8|16|32|64)(?=\s?(?:\"|in\b|inch|''))"
    r"|(?P<number>\d{1,7}(?:[.,']\d{1,4}){0,2})(?P<sign>[½¼¾⅛⅜⅝⅞])?"
    r"|(?P<bare>[½¼¾⅛⅜⅝⅞])"
)
_LONG = re.compile(r"\d{8,}|\d+(?:[.,']\d+){3,}")

_UNITS = {
    "ohm": ("Ω", 1.0), "ohms": ("Ω", 1.0), "Ω": ("Ω", 1.0), "ohmios": ("Ω", 1.0),
    "ohmio": ("Ω", 1.0), "ohmx": ("Ω", 1.0), "Ωs": ("Ω", 1.0),
    "w": ("W", 1.0), "watt": ("W", 1.0), "watts": ("W", 1.0), "wrms": ("Wrms", 1.0),
    "kw": ("W", 1000.0), "vatios": ("W", 1.0), "wpc": ("Wpc", 1.0), "wmax": ("Wmax", 1.0),
    "a": ("A", 1.0), "amp": ("A", 1.0), "amps": ("A", 1.0), "ampere": ("A", 1.0),
    "amperes": ("A", 1.0), "ma": ("A", 0.001),
    "v": ("V", 1.0), "volt": ("V", 1.0), "volts": ("V", 1.0), "mv": ("V", 0.001),
    "vdc": ("V", 1.0), "vrms": ("V", 1.0), "mvrms": ("V", 0.001), "vpp": ("Vpp", 1.0),
    "hz": ("Hz", 1.0), "khz": ("Hz", 1000.0), "hertz": ("Hz", 1.0),
    "db": ("dB", 1.0), "dba": ("dBA", 1.0),
    "mm": ("mm", 1.0), "cm": ("mm", 10.0), "in": ("in", 25.4), "inch": ("in", 25.4),
    "inches": ("in", 25.4), "zoll": ("in", 25.4), "pouces": ("in", 25.4), '"': ("in", 25.4),
    "''": ("in", 25.4), "ft": ("ft", 304.8),
    "kg": ("kg", 1.0), "kgs": ("kg", 1.0), "g": ("kg", 0.001), "gram": ("kg", 0.001),
    "gramm": ("kg", 0.001),
    "lb": ("lb", 0.45359237),
    "lbs": ("lb", 0.45359237), "pounds": ("lb", 0.45359237), "oz": ("oz", 0.028349523),
    "%": ("%", 1.0), "percent": ("%", 1.0), "m": ("m", 1.0), "l": ("l", 1.0),
    "ch": ("ch", 1.0), "channel": ("ch", 1.0), "channels": ("ch", 1.0), "chan": ("ch", 1.0),
    "kanal": ("ch", 1.0), "kanale": ("ch", 1.0), "kanalen": ("ch", 1.0), "kanalig": ("ch", 1.0),
    "kanaals": ("ch", 1.0),
    "canaux": ("ch", 1.0), "canal": ("ch", 1.0), "canales": ("ch", 1.0), "canali": ("ch", 1.0),
    "canale": ("ch", 1.0), "voies": ("ch", 1.0), "vie": ("ch", 1.0),
}  # fmt: skip
_BY_HYPHEN = ("ch", "Ω", "W", "Hz", "dB", "A", "V", "in")
# Words that stand before a number without a blank.
_GLUED = re.compile(r"(?<![a-z])(?:rms|fuses?|bridged|power|into|at|max|peak|hpf|lpf|output)$")
_AXED = re.compile(r"(?:(?<![a-z0-9])|(?<=[0-9]x)|(?<=[0-9] x))[wbhdtlp]\Z")
_TIMES = re.compile(r"x\d{1,7}")
_R_FOR_OHM = re.compile(r"r(?![a-z0-9])")  # ‘@4R’
_LETTERS = re.compile(r"[a-z]{1,12}|Ω(?:s\b)?|\"|''|%")
_SEPARATOR = re.compile(
    r"\s{0,3}(?:(?P<x>x)(?=\s{0,3}[\d½¼¾⅛⅜⅝⅞])|(?P<slash>/)|(?P<dash>(?<![0-9]-)-{1,2}|\.{2,3}|"
    r"\b(?:to|bis|a|ate|jusqu'a|und bis)\b))[ \t]{0,3}"
)
_BLANKS = re.compile(r"[ \t]{0,3}")


@dataclass(frozen=True)
class Number:
    """A number of the text with its unit, as written.

    values : what it may mean: ‘1,200’ is twelve hundred, or one and a fifth
    unit : as `Quantity` has it, or none; `scale` leads to the base unit
    """

    values: tuple[float, ...]
    unit: str
    scale: float
    start: int
    end: int
    is_fraction: bool = False


@dataclass(frozen=True)
class Quantity:
    """One or several numbers that belong together.

    numbers : their meanings in the base unit (W, Ω, V, A, Hz, dB, mm, kg), alternatives of a list
    unit : their common unit; empty where there is none
    count : of ‘4 x 60 W’ or ‘60 W x 4’
    shape : ‘one’, ‘range’ (two numbers), ‘list’ (parted by /), ‘odd’ (what is none of these)
    """

    numbers: tuple[tuple[float, ...], ...]
    unit: str
    count: int | None
    shape: str
    span: Span
    parts: tuple[Number, ...] = field(default=())

    def within(self, low: float, high: float) -> list[float] | None:
        """Return its numbers; None where one of them has no or several meanings in the range."""
        found = []
        for values in self.numbers:
            good = [value for value in values if low <= value <= high]
            if len(good) != 1:
                return None
            found.append(good[0])
        return found

    def one(self, low: float, high: float) -> float | None:
        """Return its only number, where it is a single one within the range."""
        if self.shape != "one" or self.is_fraction:
            return None
        found = self.within(low, high)
        return found[0] if found and len(found) == 1 else None

    @property
    def is_fraction(self) -> bool:
        """A number such as 2 1/2, which only sizes have."""
        return any(part.is_fraction for part in self.parts)


def meanings(text: str) -> tuple[float, ...]:
    """Return what a number may mean, as it is written.

    >>> meanings("0,2"), meanings("1,200"), meanings("1.234,5"), meanings("60")
    ((0.2,), (1200.0, 1.2), (1234.5,), (60.0,))
    """
    marks = [c for c in text if not c.isdigit()]
    if not marks:
        return (float(text),)
    *whole, last = text.replace(",", ".").replace("'", ".").split(".")
    grouped = len(last) == 3 and 1 <= len(whole[0]) <= 3 and whole[0] != "0"
    grouped = grouped and not whole[0].startswith("0") and all(len(part) == 3 for part in whole[1:])
    if len(marks) == 1:
        decimal = float(f"{whole[0]}.{last}")
        if marks[0] == "'":
            return (float(whole[0] + last),) if grouped else ()
        return (float(whole[0] + last), decimal) if grouped else (decimal,)
    if marks[0] == marks[1]:
        return (float("".join([*whole, last])),) if grouped else ()
    inner = len(whole[-1]) == 3 and 1 <= len(whole[0]) <= 3
    return (float(f"{''.join(whole)}.{last}"),) if inner and marks[1] != "'" else ()


def numbers_in(text: str, raw: str = "", *, sizes: bool = False) -> list[Number]:
    """Return the numbers of a folded text, in their order; `raw` tells A from the article a.

    sizes : take those that stand at the letter of an axis, too: ‘W250’
    """
    found = []
    at = 0
    barred = [(match.start(), match.end()) for match in _LONG.finditer(text)]
    bars = dict(barred)
    for match in _NUMBER.finditer(text):
        start = match.start()
        if start < at:
            continue
        if start in bars:  # of a part number, or a telephone
            at = bars[start]
            continue
        before = text[start - 1 : start]
        is_known = _GLUED.search(text, start - 8, start) or (
            sizes and _AXED.search(text, max(0, start - 4), start)
        )
        if before.isalpha() and before not in "xΩ" and not is_known:
            # Of a name; and what it counts is none of ours: ‘HX2x25 A’.
            times = _TIMES.match(text, match.end())
            at = times.end() if times else match.end()
            continue
        if before in ".,'" and start > 1 and text[start - 2].isdigit():
            continue
        number = _number(text, match, raw or text)
        found.append(number)
        at = number.end
    return found


def _number(text: str, match: re.Match[str], raw: str) -> Number:
    is_fraction = match["number"] is None
    if match["whole"] is not None:
        below = int(match["below"])
        is_good = below in _DENOMINATORS and int(match["above"]) < below
        if is_good:
            values: tuple[float, ...] = (int(match["whole"]) + int(match["above"]) / below,)
            end = match.end()
        else:  # ‘2 60/90’: the first is a number of its own
            is_fraction = False
            values = meanings(match["whole"])
            end = match.end("whole")
    elif match["only"] is not None:
        values, end = (int(match["only"]) / int(match["under"]),), match.end()
    elif match["bare"] is not None:
        values, end = (_FRACTIONS[match["bare"]],), match.end()
    else:
        values, end = meanings(match["number"]), match.end()
        if match["sign"]:
            is_fraction = True
            values = tuple(value + _FRACTIONS[match["sign"]] for value in values)
    unit, scale, end = _unit_at(text, end, raw)
    if not unit and _R_FOR_OHM.match(text, end) and text[match.start() - 1 : match.start()] == "@":
        unit, end = "Ω", end + 1
    return Number(values, unit, scale, match.start(), end, is_fraction)


def _unit_at(text: str, at: int, raw: str) -> tuple[str, float, int]:
    """Return the unit that stands at a place, and where it ends."""
    blank = _BLANKS.match(text, at)
    start = blank.end() if blank else at
    hyphen = text[start : start + 1] == "-" and start == at
    letters = _LETTERS.match(text, start + hyphen)
    if letters is None:
        return "", 1.0, at
    word = letters[0]
    end = letters.end()
    if word not in _UNITS and word.endswith("x") and text[end : end + 1].isdigit():
        word, end = word[:-1], end - 1
    if (word not in _UNITS and word.startswith("x")) or word in ("x", ""):
        return "", 1.0, at
    known = _UNITS.get(word)
    if known is None or _goes_on(text, word, end):
        return "", 1.0, at
    unit, scale = known
    if hyphen and unit not in _BY_HYPHEN:
        return "", 1.0, at
    if word == "a" and start > at and raw[start] == "a":  # the article of a sentence
        following = text[end : end + 2]
        if following[:1] == " " and following[1:2].isalpha():
            return "", 1.0, at
    return unit, scale, end


def _goes_on(text: str, word: str, end: int) -> bool:
    """Tell whether a unit is but the beginning of a word; signs never are."""
    return word[-1:].isalpha() and text[end : end + 1].isalpha() and text[end] not in "xΩ"


def quantities_in(text: str, raw: str = "") -> list[Quantity]:
    """Return the quantities of a folded text, in their order; none goes over a line's end."""
    numbers = numbers_in(text, raw)
    found: list[Quantity] = []
    at = 0
    while at < len(numbers):
        chain, signs = [numbers[at]], []
        while at + 1 < len(numbers):
            sign = _sign_between(text, numbers[at], numbers[at + 1])
            if not sign or len(chain) == 12:
                break
            chain.append(numbers[at + 1])
            signs.append(sign)
            at += 1
        found += _grouped(chain, signs)
        at += 1
    return found


def _sign_between(text: str, left: Number, right: Number) -> str:
    if right.start - left.end > 12:
        return ""
    match = _SEPARATOR.match(text, left.end)
    if match is None or match.end() != right.start or "\n" in match[0]:
        return ""
    is_word = bool(match["dash"]) and match["dash"].isalpha()
    if "." in match[0] and left.unit and right.unit and left.unit != right.unit:
        return ""  # dots that lead the eye from a load to its power
    # ‘60 W a 4 ohm’ is no range, ‘200 mV a 6 V’ is one.
    if is_word and (match[0][:1] not in " \t" or (left.unit and left.unit != right.unit)):
        return ""
    return "x" if match["x"] else "/" if match["slash"] else "-"


def _grouped(chain: list[Number], signs: list[str]) -> list[Quantity]:
    """Return the quantities that a chain of numbers makes."""
    groups: list[list[Number]] = [[chain[0]]]
    inner: list[list[str]] = [[]]
    for number, sign in zip(chain[1:], signs, strict=True):
        if sign == "/":
            groups.append([number])
            inner.append([])
        else:
            groups[-1].append(number)
            inner[-1].append(sign)
    are_measures = all(any(_is_measure(n) for n in group) for group in groups)
    are_apart = any(len(group) > 1 for group in groups) or len({_unit(g) for g in groups}) > 1
    if len(groups) > 1 and are_measures and are_apart:
        # Each is complete in itself: ‘4 x 60 W / 2 x 180 W’.  A plain list has single numbers.
        return [_single(g, s) for g, s in zip(groups, inner, strict=True)]
    if len(groups) == 1:
        return [_single(groups[0], inner[0])]
    return [_list(groups, inner)]


def _is_measure(number: Number) -> bool:
    return number.unit not in ("", "ch")


def _unit(group: list[Number]) -> str:
    return next((n.unit for n in reversed(group) if _is_measure(n)), "")


def _scaled(number: Number, scale: float) -> tuple[float, ...]:
    return tuple(round(value * scale, 9) for value in number.values)


def _span(numbers: list[Number]) -> Span:
    return Span(numbers[0].start, numbers[-1].end)


def _odd(numbers: list[Number]) -> Quantity:
    values = tuple(_scaled(number, number.scale) for number in numbers)
    return Quantity(values, _unit(numbers), None, "odd", _span(numbers), tuple(numbers))


def _count(number: Number) -> int | None:
    value = number.values[0] if len(number.values) == 1 and not number.is_fraction else 0.0
    return int(value) if value.is_integer() and 1 <= value <= 12 else None


def _single(group: list[Number], signs: list[str]) -> Quantity:
    parts = tuple(group)
    if len(group) == 1:
        number = group[0]
        return Quantity(
            (_scaled(number, number.scale),), number.unit, None, "one", _span(group), parts
        )
    if signs == ["-"]:
        return _range(group)
    if signs == ["x"]:
        left, right = group
        first, amount = (left, right) if not _is_measure(left) else (right, left)
        count = _count(first)
        if not _is_measure(left) and not _is_measure(right) and count is not None:
            return Quantity((amount.values,), "", count, "one", _span(group), parts)
        if count is None and not _is_measure(first) and _is_measure(amount):
            swapped = _count(amount)  # ‘60 x 4 W’
            if swapped is not None and first is left and amount.unit == "W":
                return Quantity((first.values,), "W", swapped, "one", _span(group), parts)
        if count is None or _is_measure(first):
            return _odd(group)
        values = _scaled(amount, amount.scale)
        return Quantity((values,), amount.unit, count, "one", _span(group), parts)
    return _odd(group)


def _range(group: list[Number]) -> Quantity:
    left, right = group
    if left.unit and right.unit and left.unit != right.unit:
        return _odd(group)
    unit = right.unit or left.unit
    low = _scaled(left, left.scale if left.unit else right.scale)
    high = _scaled(right, right.scale if right.unit else left.scale)
    return Quantity((low, high), unit, None, "range", _span(group), tuple(group))


def _list(groups: list[list[Number]], inner: list[list[str]]) -> Quantity:
    """Return a list such as 60/90 W, 4 x 60/90 W or 60/90 W x 4."""
    everything = [number for group in groups for number in group]
    count = None
    bare = [list(group) for group in groups]
    if inner[0] == ["x"] and not any(inner[1:]) and not _is_measure(groups[0][0]):
        count = _count(groups[0][0])
        bare[0] = [groups[0][1]]
    elif inner[-1] == ["x"] and not any(inner[:-1]) and not _is_measure(groups[-1][1]):
        count = _count(groups[-1][1])
        bare[-1] = [groups[-1][0]]
    elif any(inner):
        return _odd(everything)
    if any(len(group) != 1 for group in bare) or (any(inner) and count is None):
        return _odd(everything)
    flat = [group[0] for group in bare]
    last = next((number for number in reversed(flat) if number.unit), flat[-1])
    if any(number.unit not in ("", last.unit) for number in flat):
        return _odd(everything)
    values = tuple(_scaled(n, n.scale if n.unit else last.scale) for n in flat)
    return Quantity(values, last.unit, count, "list", _span(everything), tuple(everything))
