"""Width, height, depth and mass of a body, with the order of the axes as the text gives it."""

import re
from bisect import bisect_left
from itertools import permutations

from calc.answers.figures import rounded
from calc.reading.clauses import Page, Statement
from calc.reading.power_words import words
from calc.reading.quantities import Number, numbers_in
from calc.reading.record import Notes, Span

_BOX = words(
    r"pack", r"carton", r"box", r"shipping", r"gross", r"gift", r"verpack", r"brutto", r"cut-?out",
    r"einbau", r"mounting (?:hole|depth|dia)", r"hole", r"magnet", r"driver", r"colis", r"emball",
    r"remote", r"knob", r"clearance", r"space (?:of|for|under|behind)", r"fits (?:in|under)",
    r"module", r"heat ?sink", r"basket", r"display",
)  # fmt: skip
_SIZE = words(
    r"dim(?:s|ension|\.)", r"size", r"abmess", r"masse", r"grosse", r"mesur", r"dimensiones",
    r"misure", r"afmeting", r"wymiar", r"matt(?![a-z])",
    r"medidas", r"dimensioni", r"measure", r"footprint", r"chassis", r"body",
    r"[whdl] ?x",
    r"wxhxd", r"bxhxt", r"case", r"gehause",
)  # fmt: skip
_AXES = {
    "width": "w", "wide": "w", "breite": "w", "breedte": "w", "largura": "w", "largeur": "w",
    "larghezza": "w", "ancho": "w",
    "height": "h", "high": "h", "hohe": "h", "hauteur": "h", "altezza": "h", "alto": "h",
    "tall": "h", "altura": "h", "hoogte": "h",
    "depth": "d", "deep": "d", "diepte": "d", "profundidade": "d", "tiefe": "d",
    "profondeur": "d", "profondita": "d",
    "profundidad": "d", "fondo": "d",
    "length": "l", "long": "l", "lange": "l", "longueur": "l", "lunghezza": "l", "largo": "l",
}  # fmt: skip
_AXIS_WORD = re.compile(rf"(?<![a-z])(?:{'|'.join(_AXES)})(?![a-z])")
_AXIS_AFTER = re.compile(rf"\s{{1,2}}(?:in |de |di )?(?P<axis>{'|'.join(_AXES)})(?![a-z])")
_AXIS_BEFORE = re.compile(
    rf"(?<![a-z])(?:(?P<axis>{'|'.join(_AXES)})|\((?P<letter>[whd])\))\s{{0,2}}[:=.]?\s{{0,2}}\Z"
)
_LETTERS = re.compile(
    r"(?<![a-z0-9])(?P<a>[wbhdtlp])\s?[x/*]\s?(?P<b>[wbhdtlp])\s?[x/*]\s?(?P<c>[wbhdtlp])(?![a-z])"
)
_WORDS = re.compile(
    rf"(?<![a-z])(?P<a>{'|'.join(_AXES)})\s?[x/*,]\s?(?P<b>{'|'.join(_AXES)})"
    rf"\s?[x/*,]\s?(?P<c>{'|'.join(_AXES)})(?![a-z])"
)
# What the letters of three axes mean, by the set of them: German, French, and what is open.
_ORDERS = {
    frozenset("whd"): {"w": "w", "h": "h", "d": "d"},
    frozenset("bht"): {"b": "w", "h": "h", "t": "d"},
    frozenset("lhp"): {"l": "w", "h": "h", "p": "d"},
    frozenset("bhd"): {"b": "w", "h": "h", "d": "d"},
    frozenset("wht"): {"w": "w", "h": "h", "t": "d"},
    frozenset("lwh"): {"l": "?", "w": "?", "h": "h"},
    frozenset("lbh"): {"l": "?", "b": "?", "h": "h"},
    frozenset("lhd"): {"l": "?", "d": "?", "h": "h"},
}
_KEYS = {"w": "width_mm", "h": "height_mm", "d": "depth_mm"}
_MM = {"mm": 1.0, "in": 25.4}
_BETWEEN = re.compile(
    r"\s{0,2}(?:\(\s?(?P<in>[wbhdtlp])\s?\)|(?P<bare>(?:[whdtlbp](?![a-z])|"
    + "|".join(_AXES)
    + r")))?\s{0,2}"
    r"(?P<x>x|by|/|-)\s{0,2}(?:\(?(?P<next>[wbhdtlp])\s?[:=.)]?\s{0,2})?"
)
_AFTER = re.compile(r"\s{0,2}(?:\(\s?(?P<in>[wbhdtlp])\s?\)|(?P<bare>[whdtlbp])(?![a-z]))?\s{0,2}"
                    r"\(?(?P<unit>mm|cm|inches|inch|in|\")?(?![a-z])")  # fmt: skip
_BEFORE = re.compile(r"(?<![a-z0-9])(?P<axis>[wbhdtlp])\s?[:=.]?\s{0,2}$")
_SURELY_MM = 150  # no amplifier is as many centimetres wide
_HEAD_UNIT = re.compile(r"[(\[]?\s?(?<![a-z])(?P<unit>mm|cm|in|inch|inches)\s?[)\]]")


def _within(numbers: list[Number], span: Span) -> list[Number]:
    """Return the numbers of a piece of the text."""
    first = bisect_left(numbers, span.start, key=_start)
    return numbers[first : bisect_left(numbers, span.end, key=_start)]


def _start(number: Number) -> int:
    return number.start


class _Triple:
    """Three numbers joined by x, with the letters that stand at them."""

    def __init__(self, numbers: list[Number], axes: list[str], unit: str, span: Span) -> None:
        self.numbers, self.axes, self.unit, self.span = numbers, axes, unit, span


def read_sizes(notes: Notes, page: Page) -> list[Span]:
    """Take the sizes of the body; ask where the axes are not named.  Returns what it looked at."""
    looked: list[Span] = []
    numbers = numbers_in(page.text, sizes=True)
    named: list[tuple[Statement, list[tuple[str, float]], Span]] = []
    others: list[_Triple] = []
    for statement in page.statements:
        text = page.text[statement.span.start : statement.span.end]
        head = (
            ""
            if statement.head is None
            else page.text[statement.head.span.start : statement.head.span.end]
        )
        if statement.head is not None and statement.head.span == statement.span:
            continue
        about = _BOX.search(text) or (_BOX.search(head) and not _SIZE.search(text))
        for triple in _triples(page, statement, numbers):
            looked.append(triple.span)
            if about:
                notes.refuse(triple.span, "the size of something other than the amplifier")
                continue
            found = _axed(page, statement, triple, head)
            if found is not None:
                named.append((statement, found, triple.span))
            elif triple.unit:
                others.append(triple)
        if not looked or not any(
            statement.span.start <= s.start < statement.span.end for s in looked
        ):
            for one, span in _singles(page, statement, numbers) if not about else ():
                named.append((statement, [one], span))
    if _is_contradicted(named, others):
        for span in (*(span for _, _, span in named), *(triple.span for triple in others)):
            notes.refuse(span, "the text gives several different sizes")
    else:
        _settle(notes, named)
    return looked


def _is_contradicted(
    named: list[tuple[Statement, list[tuple[str, float]], Span]], others: list[_Triple]
) -> bool:
    """Tell whether three numbers that are no plain size differ from those that are."""
    plain = [sorted(size for _, size in sizes) for _, sizes, _ in named if len(sizes) == 3]
    for triple in others:
        factor = {"mm": 1.0, "cm": 10.0}.get(triple.unit, 25.4)
        sizes = sorted(number.values[0] * factor for number in triple.numbers)
        for known in plain:
            if any(abs(a - b) > max(1.5, 0.02 * a) for a, b in zip(known, sizes, strict=True)):
                return True
    return False


def _triples(page: Page, statement: Statement, numbers: list[Number]) -> list[_Triple]:
    found = []
    own = _within(numbers, statement.span)
    at = 0
    while at + 2 < len(own):
        made = _triple(page.text, own[at : at + 3], own[at + 3 : at + 4])
        if made is None:
            at += 1
        else:
            found.append(made)
            at += 3
    return found


def _triple(text: str, three: list[Number], following: list[Number]) -> _Triple | None:
    axes = ["", "", ""]
    before = _BEFORE.search(text, max(0, three[0].start - 5), three[0].start)
    if before:
        axes[0] = before["axis"]
    units = []
    for place, (left, right) in enumerate([(three[0], three[1]), (three[1], three[2])]):
        end, unit = _end_of(left)
        match = _BETWEEN.match(text, end)
        if match is None or match.end() != right.start or match["x"] in "/-":
            return None
        letter = match["in"] or match["bare"] or _letter_unit(left)
        axes[place] = axes[place] or _axis(letter)
        if match["next"]:
            axes[place + 1] = match["next"]
        units.append(unit)
    end, unit = _end_of(three[2])
    after = _AFTER.match(text, end)
    if after is not None:
        axes[2] = axes[2] or after["in"] or after["bare"] or _letter_unit(three[2])
        unit = unit or {"cm": "cm", "mm": "mm"}.get(
            after["unit"] or "", "in" if after["unit"] else ""
        )
        if after["in"] or after["bare"] or after["unit"]:
            end = after.end()
    axes[2] = axes[2] or _letter_unit(three[2])
    if following and re.fullmatch(r"\s{0,2}x\s{0,2}", text[end : following[0].start] or "?"):
        return None
    units.append(unit)
    kinds = {each for each in units if each}
    if len(kinds) > 1:
        return None
    start = before.start() if before else three[0].start
    return _Triple(three, axes, kinds.pop() if kinds else "", Span(start, max(end, three[2].end)))


def _axis(letter: str | None) -> str:
    if not letter:
        return ""
    return _AXES.get(letter, letter if len(letter) == 1 else "")


def _letter_unit(number: Number) -> str:
    """In a size W is the width and no watt, and L the length and no litre."""
    return {"W": "w", "l": "l"}.get(number.unit, "")


def _end_of(number: Number) -> tuple[int, str]:
    """Return where the number ends without a letter that is an axis, and its unit of length."""
    if number.unit in ("W", "l"):
        return number.end, ""
    if number.unit == "mm":
        return number.end, "cm" if number.scale == 10 else "mm"
    return number.end, number.unit


def _axed(
    page: Page, statement: Statement, triple: _Triple, head: str
) -> list[tuple[str, float]] | None:
    """Return the three sizes with their axes, ‘?’ where open; None where it is none."""
    text = page.text[statement.span.start : triple.span.start]
    after = page.text[triple.span.end : min(statement.span.end, triple.span.end + 24)]
    axes = [_axis(axis) for axis in triple.axes]
    if not all(axes):
        if any(axes):
            return None
        axes = _order_of(text) or _order_of(after) or _order_of(head) or ["", "", ""]
    unit = triple.unit
    if not unit:
        match = _HEAD_UNIT.search(text) or _HEAD_UNIT.search(head)
        unit = {"inch": "in", "inches": "in"}.get(match["unit"], match["unit"]) if match else ""
        if (
            not match
            and all(axes)
            and max(max(n.values, default=0) for n in triple.numbers) >= _SURELY_MM
        ):
            unit = "mm"
    if unit not in ("mm", "cm", "in"):
        return None
    is_named = any(axes) or _SIZE.search(text) or _SIZE.search(head)
    if not is_named and any(c.isalpha() for c in text.split(",")[-1].split("(")[-1]):
        return None
    factor = {"mm": 1.0, "cm": 10.0, "in": 25.4}[unit]
    sizes = []
    for number in triple.numbers:
        good = [v * factor for v in number.values if 10 <= v * factor <= 1500]
        if len(good) != 1 or (number.is_fraction and unit != "in"):
            return None
        sizes.append(round(good[0], 1))
    means = _ORDERS.get(frozenset(axes)) if all(axes) else {"": "?"}
    if means is None:
        return None
    return [(means[axis], size) for axis, size in zip(axes, sizes, strict=True)]


def _order_of(text: str) -> list[str] | None:
    match = _LETTERS.search(text) or _WORDS.search(text)
    return [_axis(match[name]) for name in "abc"] if match else None


def _singles(
    page: Page, statement: Statement, numbers: list[Number]
) -> list[tuple[tuple[str, float], Span]]:
    """Return the sizes of ‘Width: 250 mm’, or of ‘200 mm wide, 45 mm high and 110 mm deep’."""
    single = _single(page, statement, numbers)
    if single is not None:
        return [single]
    own = _within(numbers, statement.span)
    found = []
    for number in own:
        after = _AXIS_AFTER.match(page.text, number.end)
        before = _AXIS_BEFORE.search(page.text, max(0, number.start - 20), number.start)
        good = [v * number.scale for v in number.values if 10 <= v * number.scale <= 1500]
        if (after is None) == (before is None) or number.unit not in _MM or len(good) != 1:
            continue
        named = after or before
        assert named is not None
        axis = _AXES[named["axis"]] if named["axis"] else named["letter"]
        span = Span(min(number.start, named.start()), max(number.end, named.end()))
        found.append(((axis, round(good[0], 1)), span))
    axes = {axis for (axis, _), _ in found}
    return found if len(axes) == len(found) == 3 else []


def _single(
    page: Page, statement: Statement, numbers: list[Number]
) -> tuple[tuple[str, float], Span] | None:
    """Return the one size of a line such as ‘Width: 250 mm’."""
    text = page.text[statement.span.start : statement.span.end]
    axis = list(_AXIS_WORD.finditer(text))
    own = _within(numbers, statement.span)
    lengths = [n for n in own if n.unit in _MM]
    if len(axis) != 1 or not lengths or len(lengths) != len(own) or len(own) > 2:
        return None
    if _BOX.search(text) or re.search(r"(?<![a-z])(?:cable|lead|wire|kabel|install)", text):
        return None
    if axis[0].start() > 30:
        return None
    values = [[v * n.scale for v in n.values if 10 <= v * n.scale <= 1500] for n in lengths]
    if any(len(each) != 1 for each in values):
        return None
    sizes = [each[0] for each in values]
    if max(sizes) > 1.03 * min(sizes):
        return None
    best = next((s for s, n in zip(sizes, lengths, strict=True) if n.unit == "mm"), sizes[0])
    span = Span(statement.span.start + axis[0].start(), lengths[-1].end)
    if lengths[0].start < span.start:
        span = Span(lengths[0].start, statement.span.start + axis[0].end())
    return (_AXES[axis[0][0]], round(best, 1)), span


def _settle(notes: Notes, named: list[tuple[Statement, list[tuple[str, float]], Span]]) -> None:
    """Take the sizes, millimetres before inches; what has open axes is asked."""
    triples = [(sizes, span) for _, sizes, span in named if len(sizes) == 3]
    singles = [(sizes[0], span) for _, sizes, span in named if len(sizes) == 1]
    if len(triples) > 1 and not _agree([sizes for sizes, _ in triples]):
        for _, span in triples:
            notes.refuse(span, "the text gives several different sizes")
        return
    if triples:
        # Of millimetres and inches that agree, the rounder, with the axes that either names.
        axed = next((one for one, _ in triples if all(axis != "?" for axis, _ in one)), None)
        sizes, span = min(triples, key=lambda one: sum(not size.is_integer() for _, size in one[0]))
        if axed is not None:
            pairs = zip(axed, sizes, strict=True)
            sizes = [(axis, size) for (axis, _), (_, size) in pairs]
        _take(notes, sizes, span)
        return
    axes = [axis for (axis, _), _ in singles]
    open_axes = "l" in axes
    if open_axes and len(singles) == 3 and sorted(axes) in (["h", "l", "w"], ["d", "h", "l"]):
        whole = Span(min(s.start for _, s in singles), max(s.end for _, s in singles))
        _take(notes, [("h" if a == "h" else "?", size) for (a, size), _ in singles], whole)
        return
    for (axis, size), span in singles:
        if axis != "l" and not (open_axes and axis != "h"):
            notes.claim(_KEYS[axis], size, span)
        else:
            notes.refuse(span, "a length: which side is the width is not clear")


def _agree(triples: list[list[tuple[str, float]]]) -> bool:
    first = [size for _, size in triples[0]]
    return all(
        all(abs(a - b) <= max(1.5, 0.02 * a) for a, b in zip(first, [s for _, s in t], strict=True))
        for t in triples[1:]
    )


def _take(notes: Notes, sizes: list[tuple[str, float]], span: Span) -> None:
    if all(axis in _KEYS for axis, _ in sizes):
        for axis, size in sizes:
            notes.claim(_KEYS[axis], size, span)
        return
    height = [size for axis, size in sizes if axis == "h"]
    choices: list[tuple[str, dict[str, object]]] = []
    for order in permutations([size for _, size in sizes]):
        width, depth, high = order
        if height and high != height[0]:
            continue
        if not height and high != min(order) and min(order) < 0.7 * sorted(order)[1]:
            continue
        label = f"width {rounded(width)}, depth {rounded(depth)}, height {rounded(high)} mm"
        choice: dict[str, object] = {"width_mm": width, "depth_mm": depth, "height_mm": high}
        if (label, choice) not in choices:
            choices.append((label, choice))
    notes.ask(span, "Which side is which? The width is the side with the power terminals.", choices)
