"""Generated inputs: links and texts that nobody would write, made from good ones."""

from urllib.parse import quote, urlencode

from inputs import invalid_inputs, valid_inputs
from payloads import PAYLOADS

from calc.app.contents import CALCULATORS
from calc.inputs.rows import Rows

_ODD = "\ufeff\x00\x1f \t\n%&=;,.+-−0123456789eE∞Ωµ²<>\"'`\\/{}[]()\u202e\u0664\uff14\ud800😀"
_NAMES = list(CALCULATORS)


def spoilt_text(text, rng):
    """Return a text with some changes: a piece lost, doubled, turned round, or odd signs put in."""
    for _ in range(rng.randint(1, 3)):
        at, end = sorted(rng.randrange(len(text) + 1) for _ in range(2))
        piece = text[at:end]
        change = rng.randrange(6)
        if change == 0:
            piece = ""
        elif change == 1:
            piece *= rng.choice([2, 2, 3, 40])
        elif change == 2:
            piece = piece[::-1]
        elif change == 3:
            piece += rng.choice(_ODD) * rng.choice([1, 1, 2, 300])
        elif change == 4:
            piece = rng.choice(PAYLOADS)
        else:
            piece = piece.swapcase() + rng.choice(PAYLOADS)[:8]
        text = text[:at] + piece + text[end:]
    return text


def spoilt_link(rng):
    """Return a calculator's name and a query that may be anything but good."""
    name = rng.choice(_NAMES)
    calculator = CALCULATORS[name]
    make = rng.choice([valid_inputs, invalid_inputs])
    given = {key: _text(value) for key, value in make(calculator, rng, as_text=True).items()}
    if rng.random() < 0.5 and given:
        key = rng.choice(list(given))
        given[rng.choice([key, spoilt_text(key, rng)])] = spoilt_text(given[key], rng)
    query = urlencode(given, errors="surrogatepass")
    if rng.random() < 0.5:
        query = spoilt_text(query, rng)
    if rng.random() < 0.1:
        query += f"&packed={quote(spoilt_text('eNoDAAAAAAE', rng), errors='surrogatepass')}"
    return name, "?" + query


def typed(calculator, rng):
    """Return a key of a plain field and what a hand may type into it, good or bad."""
    fields = [one for one in calculator.fields if not isinstance(one, Rows) and not one.hidden]
    field = rng.choice(fields)
    text = _text(
        rng.choice([valid_inputs, invalid_inputs])(calculator, rng, True).get(field.key, "")
    )
    return field.key, spoilt_text(text, rng) if rng.random() < 0.5 else text


def _text(value):
    return value if isinstance(value, str) else ";".join(",".join(map(str, row)) for row in value)
