"""Random values for a field, made from its declaration alone."""

from decimal import ROUND_HALF_UP, Decimal

from payloads import HUGE_ROWS
from system_inputs import shelf

from calc.inputs.fields import Choice, Document, Number, Numbers, Pattern, Text, Whole
from calc.inputs.rows import Rows


def valid_field(field, rng, as_text):
    """Return a raw value that a field reads by itself."""
    if field.optional and rng.random() < 0.25:
        return rng.choice(["", " "])
    if isinstance(field, Rows):
        return _valid_rows(field, rng, as_text)
    if isinstance(field, Number):
        return _spelled(_within(field, rng), rng)
    if isinstance(field, Choice):
        return rng.choice([word for word, _ in field.options])
    if isinstance(field, Numbers):
        numbers = [
            valid_field(field.each, rng, as_text)
            for _ in range(rng.randint(1, min(12, field.most)))
        ]
        return ";".join(numbers)
    if isinstance(field, Document):
        return shelf(rng, valid_field)
    if isinstance(field, Pattern):
        return rng.choice(field.examples)
    assert isinstance(field, Text), f"no random inputs for {field.kind}"
    signs = [chr(code) for code in range(33, 127) if chr(code) not in ",;"] + list("äΩ²–😀")
    return "".join(rng.choice(signs) for _ in range(rng.randint(1, min(field.longest, 12))))


def _valid_rows(field, rng, as_text):
    if field.count_of is not None and rng.random() < 0.5:
        return valid_field(field.count_of, rng, as_text).replace(",", ".")
    cells = [
        [valid_field(column, rng, as_text) for column in field.columns]
        for _ in range(rng.randint(1, min(field.most, 5)))
    ]
    if as_text or rng.random() < 0.5:
        # In a text the comma parts the cells, so the decimal mark is a point.
        return ";".join(",".join(cell.replace(",", ".") for cell in row) for row in cells)
    return cells


def _within(field, rng):
    low, high = Decimal(repr(field.low)), Decimal(repr(field.high))
    if isinstance(field, Whole):
        return Decimal(
            rng.choice([field.low, field.high, rng.randint(int(field.low), int(field.high))])
        )
    span = rng.choice([high - low, min(high - low, Decimal(20))])
    value = low + Decimal(repr(rng.random())) * span
    steps = [Decimal(1), Decimal("0.1"), Decimal("0.001"), Decimal("0.0000001")]
    value = value.quantize(rng.choice(steps), rounding=ROUND_HALF_UP)
    usual = [Decimal(repr(preset)) for preset in field.presets]
    return rng.choice([low, high, *usual, *[min(max(value, low), high)] * 4])


def _spelled(value, rng):
    text = f"{value:f}"
    if "." not in text and rng.random() < 0.4:
        text += rng.choice([".0", ".00"])
    if rng.random() < 0.4:
        text = text.replace(".", ",")
    return rng.choice(["", "", " ", "   "]) + text + rng.choice(["", "", " "])


def invalid_field(field, rng, as_text):
    """Return a raw value that a field refuses."""
    wrong = ["" if not field.optional else "\x00", "4\x00", "<b>", "x", "\ud800"]
    if isinstance(field, Rows):
        if not as_text:
            row = [column.default for column in field.columns]
            wrong += [
                [row] * (field.most + 1),
                [row[: -1 - field.added]],
                [[*row, "1"]],
                [["?"] * len(row)],
            ]
        return rng.choice([*wrong, ",", HUGE_ROWS])
    if isinstance(field, Document):
        return rng.choice(["<b>", "name\n", "name,channels\nx,<b>", "\x00", "name\na\na\n"])
    if isinstance(field, Number):
        if isinstance(field, Whole):
            wrong.append(f"{field.low}.5")
        beyond = f"{Decimal(repr(field.high)) + 1:f}"
        below = f"{Decimal(repr(field.low)) - 1:f}"
        return rng.choice([*wrong, beyond, below, "nan", "1e1", "4 4", "9" * 99])
    if isinstance(field, Choice):
        return rng.choice([*wrong, field.options[0][0].swapcase(), field.options[0][0] + "s"])
    if isinstance(field, Numbers):
        beyond = f"{Decimal(repr(field.each.high)) + 1:f}"
        good = field.each.default
        return rng.choice([*wrong, beyond, f"{good};", f"{good},;{good}", ";".join([good] * 500)])
    wrong = ["a,b", "a;b", "a\x00b", "x" * (field.longest + 1)]
    return rng.choice(wrong if field.optional else ["", *wrong])
