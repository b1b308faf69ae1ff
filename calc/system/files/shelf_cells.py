"""The cells of a stock list as spreadsheets have them: units, decimal commas, `2x25`, `n/a`.

Nothing is guessed: what can be two figures is left as it is, for its column to refuse in words.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from calc.answers.figures import exact
from calc.inputs.errors import shown
from calc.inputs.field_base import Field, Refused
from calc.inputs.fields import Choice, Number, Words, YesNo

# What a unit's name says: of what it is, and how many of our unit.
UNITS: dict[str, tuple[str, float]] = {
    "w": ("w", 1.0), "watt": ("w", 1.0), "watts": ("w", 1.0), "kw": ("w", 1000.0),
    "mm": ("mm", 1.0), "cm": ("mm", 10.0), "in": ("mm", 25.4), "inch": ("mm", 25.4),
    "inches": ("mm", 25.4), '"': ("mm", 25.4),
    "v": ("v", 1.0), "volt": ("v", 1.0), "volts": ("v", 1.0), "mv": ("v", 0.001),
    "a": ("a", 1.0), "amp": ("a", 1.0), "amps": ("a", 1.0), "ma": ("a", 0.001),
    "hz": ("hz", 1.0), "khz": ("hz", 1000.0),
    "kg": ("kg", 1.0), "g": ("kg", 0.001), "lb": ("kg", 0.45359237), "lbs": ("kg", 0.45359237),
    "ohm": ("ohm", 1.0), "ohms": ("ohm", 1.0), "ω": ("ohm", 1.0),
    "%": ("percent", 1.0), "percent": ("percent", 1.0), "db": ("db", 1.0),
    "c": ("c", 1.0), "°c": ("c", 1.0),
    "€": ("price", 1.0), "$": ("price", 1.0), "£": ("price", 1.0), "eur": ("price", 1.0),
    "usd": ("price", 1.0), "gbp": ("price", 1.0),
    "ch": ("channels", 1.0), "channel": ("channels", 1.0), "channels": ("channels", 1.0),
    "-channel": ("channels", 1.0), "-ch": ("channels", 1.0),
}  # fmt: skip
CURRENCIES = {"€": "eur", "eur": "eur", "$": "usd", "usd": "usd", "£": "gbp", "gbp": "gbp"}
EMPTY = frozenset(("n/a", "na", "n.a.", "unknown", "not known", "not stated", "tbc"))
DASHES = frozenset("-–—−")
_YES = frozenset(("yes", "y", "true", "1", "✓", "✔", "☑"))
_NO = frozenset(("no", "n", "false", "0", "✗", "✘", "☐"))
_CROSS = frozenset(("x", "×"))
_LONGEST_CELL = 60  # that is looked into
_TIDY = str.maketrans({
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
    "\u2126": "Ω", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "×": "x", "″": '"', "”": '"',
    "“": '"', "’": "'",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
})  # fmt: skip
_FIGURE = re.compile(
    r"([€$£]? ?)([0-9](?:[0-9.,' ]*[0-9])?)([ -][0-9]{1,2}/[0-9]{1,2})?(,-|\.-)?([^0-9]*)"
)
_GROUPED = re.compile(r"[0-9]{1,3}(?:[ '][0-9]{3})+(?:[.,][0-9]{1,2})?")
_ONE_MARK = re.compile(r"([0-9]*)([.,])([0-9]+)")
_MARKS = re.compile(r"[0-9]{1,3}([.,])[0-9]{3}(?:\1[0-9]{3})*(?:(?!\1)[.,][0-9]+)?")
_SLOPES = re.compile(r"-?([0-9]{1,2}(?: ?/ ?[0-9]{1,2})*) ?(?:db ?(?:(?:/|per) ?oct.{0,5})?)?")
_SAYS_NOTHING = ("rms", "stable", "each", "per channel", "min", "min.")


def tidied(text: str) -> str:
    """Return a text with one kind of blank, dash, cross and quotation mark.

    >>> tidied("9⅞″ × 4 Ω")
    '9 7/8" x 4 Ω'
    """
    return text.translate(_TIDY).strip()


def dimension_of(key: str) -> str:
    """Return what a column's figures are of, as `UNITS` names it."""
    return key.rsplit("_", 1)[-1]


@dataclass(frozen=True)
class Marks:
    """How a list writes its figures, as far as that is certain.

    decimal : the mark before decimals, `.` or `,`; empty where none of its figures tells
    is_ours : written with our heads, where a point is a decimal point
    crosses : the columns in which an x stands for yes
    dashes : the columns in which a dash stands for no
    """

    decimal: str = ""
    is_ours: bool = False
    crosses: frozenset[str] = frozenset()
    dashes: frozenset[str] = frozenset()


def decimal_of(cells: Iterable[str]) -> str:
    """Return the decimal mark that figures are certainly written with; empty for none or both.

    >>> decimal_of(["1.200", "0,2"]), decimal_of(["1.200"]), decimal_of(["2.5", "2,5"])
    (',', '', '')
    """
    told = set()
    for cell in cells:
        if len(cell) > _LONGEST_CELL or not ("." in cell or "," in cell):
            continue
        for figure in re.findall(r"[0-9][0-9.,]*[0-9]", cell):
            marks = [sign for sign in figure if sign in ".,"]
            if len(set(marks)) == 2:
                told.add(marks[-1])
            elif len(marks) > 1:
                told.add("," if marks[0] == "." else ".")
            elif marks and (figure.startswith("0") or not _MARKS.fullmatch(figure)):
                told.add(marks[0])
    return told.pop() if len(told) == 1 else ""


def yes_marks(cells: Iterable[str]) -> tuple[bool, bool]:
    """Return whether an x stands for yes in a column, and whether a dash stands for no.

    An x beside a ‘yes’ may be either; a dash is a no where something else is marked as a yes.
    """
    words = {cell.strip().lower() for cell in cells}
    is_cross_yes = bool(words & _CROSS) and not words & _YES
    return is_cross_yes, bool(words & _YES) or is_cross_yes


def cell_text(field: Field, raw: str, unit: str, marks: Marks) -> str:
    """Return a cell as its column reads it; one that is not understood as it stands.

    unit : of a figure that names none, where it is not the column's own
    """
    text = raw.strip()
    if not text or field.key == "name" or len(text) > _LONGEST_CELL:
        return text
    low = tidied(text).lower()
    if low in EMPTY:
        return ""
    if isinstance(field, YesNo):
        return _yes_no(field.key, text.lower(), marks)
    if text in DASHES:
        return ""
    if isinstance(field, Number):
        return _number_text(field, low, unit, marks) or text
    if isinstance(field, Words) or field.key == "terminals":
        return low
    return _notation(field, low, unit, marks) or text


def _yes_no(key: str, text: str, marks: Marks) -> str:
    if text in DASHES:
        return "no" if key in marks.dashes else ""
    if text in _CROSS:
        return "yes" if key in marks.crosses else text
    return "yes" if text in _YES else "no" if text in _NO else text


def _number_text(field: Number, text: str, unit: str, marks: Marks) -> str:
    """Return a number in the column's unit; empty where it is none.

    Raises Refused where it can be two.
    """
    found = {
        exact(round(value, 9))
        for value in figures(text, dimension_of(field.key), unit, marks)
        if field.low <= round(value, 9) <= field.high
    }
    if len(found) > 1:
        small, large = sorted(found, key=float)
        raise Refused(f"‘{shown(text)}’ could be {small} or {large}. Enter one of these.")
    return found.pop() if found else ""


def figures(text: str, dimension: str, unit: str, marks: Marks) -> list[float]:
    """Return what a figure with its unit can be, in our unit; none where it is no figure.

    >>> figures("9 7/8 in", "mm", "", Marks()), figures("200 mv", "v", "", Marks())
    ([250.825], [0.2])
    """
    found = _FIGURE.fullmatch(text)
    if found is None:
        return []
    currency, digits, fraction, _, word = found.groups()
    named = _unit_word(word) or currency.strip() or unit
    if named and (named not in UNITS or UNITS[named][0] != dimension):
        return []
    factor = UNITS[named][1] if named else 1.0
    part = 0.0
    if fraction:
        above, below = (int(number) for number in fraction[1:].split("/"))
        if factor != UNITS["in"][1] or not 0 < above < below:
            return []
        part = above / below
    values = _values(digits.strip(), marks)
    if fraction and any(not value.is_integer() for value in values):
        return []
    return [(value + part) * factor for value in values]


def _unit_word(text: str) -> str:
    """Return the unit behind a figure, without words that change nothing."""
    word = text.strip()
    for more in _SAYS_NOTHING:
        if word == more or word.endswith(f" {more}"):
            word = word.removesuffix(more).strip()
    return word


def _values(digits: str, marks: Marks) -> list[float]:
    """Return what digits can mean: `1,200` is two figures where nothing tells the mark."""
    if _GROUPED.fullmatch(digits):
        digits = digits.replace(" ", "").replace("'", "")
    if digits.isdigit():
        return [float(digits)]
    one = _ONE_MARK.fullmatch(digits)
    if one:
        whole, mark, rest = one.groups()
        decimal, grouped = float(f"{whole or 0}.{rest}"), _MARKS.fullmatch(digits)
        if not grouped or whole.startswith("0") or marks.decimal == mark:
            return [decimal]
        if marks.is_ours and mark == ".":
            return [decimal]
        return [float(whole + rest)] if marks.decimal else [decimal, float(whole + rest)]
    if _MARKS.fullmatch(digits):
        marks_of = [sign for sign in digits if sign in ".,"]
        if len(set(marks_of)) == 2:
            head, _, rest = digits.rpartition(marks_of[-1])
            return [float(re.sub("[.,]", "", head) + "." + rest)]
        return [float(re.sub("[.,]", "", digits))]
    return []


def _notation(field: Field, text: str, unit: str, marks: Marks) -> str:
    """Return a cell of a notation of ours: fuses, corners, slopes, class."""
    if field.key == "fuses_a":
        return _fuses(text, marks)
    if field.key in ("high_pass_hz", "low_pass_hz"):
        return _corners(text, unit, marks)
    if field.key == "filter_db_per_octave":
        slopes = _SLOPES.fullmatch(text)
        return slopes[1].replace(" ", "") if slopes else ""
    if isinstance(field, Choice) and field.key == "amplifier_class":
        word = re.sub(r"class|[ /-]", "", text)
        return word if word in dict(field.options) else ""
    return ""


def _fuses(text: str, marks: Marks) -> str:
    """Return fuses as `25/25`.

    >>> _fuses("2 x 25 a", Marks()), _fuses("30a", Marks()), _fuses("2x5", Marks())
    ('25/25', '30', '')
    """
    times = counted(text)
    each = times[1] if times else text
    parts = [each] if times else re.split(r" ?[+/] ?", text)
    values = [figures(part.strip(), "a", "", marks) for part in parts]
    if "each" in text or any(len(value) != 1 for value in values):
        return ""  # of several, nothing says how many
    if times and values[0][0] <= 8 and not re.search("[a-z]", each):
        return ""  # two fuses of 5 A, or five of 2 A
    return "/".join(exact(value[0]) for value in values * (times[0] if times else 1))


def _corners(text: str, unit: str, marks: Marks) -> str:
    """Return corners as `50-250`, `80` or `60/80`.

    >>> _corners("50 to 250 hz", "", Marks()), _corners("0.05-4 khz", "", Marks())
    ('50-250', '50-4000')
    """
    if text in ("off", "none", "no"):
        return "off"
    ends = span(text, "hz", unit, marks)
    if ends:
        return "-".join(map(exact, ends))
    parts = text.split("/")
    word = re.sub("[^a-z]", "", parts[-1])
    unit = word if word in UNITS else unit
    values = [figures(part.strip(), "hz", unit, marks) for part in parts]
    if any(len(value) != 1 for value in values):
        return ""
    return "/".join(exact(round(value[0], 6)) for value in values)


def span(text: str, dimension: str, unit: str, marks: Marks) -> tuple[float, ...]:
    """Return the two ends of a range such as `200 mv - 6 v`, the lower first; none for no range.

    An end without a unit has that of the other end.
    """
    ends = re.split(r" ?(?:-|to|\.\.\.|…) ?", text)
    if len(ends) != 2:
        return ()
    words = [re.sub(r"[^a-zω\"]", "", end) for end in ends]
    values = [
        figures(end.strip(), dimension, words[1] if words[1] in UNITS else unit, marks)
        for end in ends
    ]
    if any(len(value) != 1 for value in values) or not values[0][0] < values[1][0]:
        return ()
    return tuple(round(value[0], 9) for value in values)


def sizes(text: str, unit: str, marks: Marks) -> tuple[str, ...]:
    """Return the three sizes of a cell such as `250 x 52 x 170 mm`, in mm; none for no such cell.

    >>> sizes("9.8 x 2 x 6.7 in", "", Marks())
    ('248.92', '50.8', '170.18')
    """
    parts = [part.strip() for part in re.split("[x*]", tidied(text).lower())]
    if len(parts) != 3:
        return ()
    *others, last = (re.sub(r"[^a-z\"]", "", part) for part in parts)
    if last in UNITS:
        unit = last
    elif set(others) - {"", unit or "mm"}:
        return ()  # of the last, nothing says whether it has the unit of the others
    values = [figures(part, "mm", unit, marks) for part in parts]
    if any(len(value) != 1 for value in values):
        return ()
    return tuple(exact(round(value[0], 6)) for value in values)


def counted(text: str) -> tuple[int, str] | None:
    """Return how many a cell such as `4 x 60 W` speaks of, and the figure of one.

    >>> counted("4 x 60 W"), counted("60W x 4"), counted("60 W")
    ((4, '60 w'), (4, '60w'), None)
    """
    low = tidied(text).lower()
    if len(low) > _LONGEST_CELL:
        return None
    first = re.fullmatch(r"([1-8]) ?x ?([0-9][0-9.,' ]* ?[a-z ]*)", low)
    if first:
        return int(first[1]), first[2].strip()
    last = re.fullmatch(r"([0-9][0-9.,']* ?[a-z ]*?) ?x ?([1-8])(?: ?ch(?:annels?)?)?", low)
    return (int(last[2]), last[1].strip()) if last else None
