"""The name at the head of a text, and what of it nobody understood."""

import re

from calc.reading.clauses import Page
from calc.reading.power_words import MAX, words
from calc.reading.record import Notes, Reading, Refusal, Span, gaps, joined
from calc.system.speakers import LONGEST_NAME

_LABEL = re.compile(
    r"^[ \t]*(?:model|modell|modele|modello|modelo|name|type|typ|product|produkt|article|item)"
    r"(?: (?:name|no\.?|number|nr\.?))?[ \t]*[:=\t|][ \t]*(?P<name>[^\n\t|,;]{2,24})[ \t]*$"
)
_NO_NAME = words(
    r"spec", r"technical", r"technisch", r"data(?![a-z])", r"daten", r"features", r"power",
    r"output",
    r"rms", r"amplifier", r"amp(?![a-z])", r"verstarker", r"channel", r"kanal", r"speaker", r"sub",
    r"woofer", r"tweeter", r"coax", r"component", r"description", r"overview", r"new(?![a-z])",
    r"sale", r"in stock", r"class(?![a-z])", r"dimension", r"max", r"peak", r"watt", r"the ",
    r"from ",
    r"price", r"leistung", r"caracter", r"ampli", r"impedance", r"fuse", r"warning", r"caution",
    r"note(?![a-z])", r"important", r"set(?![a-z])", r"pair", r"general", r"details", r"product",
    r"manual", r"this ", r"our ", r"great", r"best", r"top(?![a-z])", r"buy", r"add to",
    r"altoparlant", r"lautsprech", r"enceinte", r"parlant", r"altavo", r"bass", r"audio",
    r"car(?![a-z])", r"load", r"stereo", r"mono", r"bridged", r"mode", r"table", r"rated",
    r"rating", r"versterk", r"wzmacn", r"forstark", r"forsterk", r"zesilov", r"vahvist",
    r"page", r"seite", r"chapter", r"step", r"review", r"rank", r"only(?![a-z])", r"year",
    r"[1-8]\s?-?\s?(?:ch|kan|can)", r"does ", r"hello", r"hi(?![a-z])",
)  # fmt: skip
_GLUE_WORDS = (
    "a an and as at by for from in into is it of on or per the to with x rms power watt watts w "
    "output channel channels each ohm ohms v hz db fuse fuses input high low pass filter filters "
    "range rating rated typ type und bei mit pro an oct octave level switch variable adjustable "
    "crossover dimensions size weight mass mm cm kg lb lbs sensitivity yes no up total model name "
    "product hpf lpf stereo bridged mono class load impedance supply voltage thd n amplifier amp "
    "amps leistung ausgang kanal et ou de le la sur par bass boost nominal continuous minimum min "
    "stable net speaker speakers included plus all driven number efficiency external internal "
    "main recommended coil coils voice"
)
_GLUE = frozenset(_GLUE_WORDS.split())
_WORD = re.compile(r"[^\W_]+", re.UNICODE)


def read_name(notes: Notes, page: Page) -> None:
    """Take the name: after its label, or a short first line that is nothing else."""
    for line in page.lines:
        match = _LABEL.match(page.text[line.start : line.end])
        if match is not None and not _NO_NAME.search(match["name"]):
            span = Span(line.start + match.start("name"), line.start + match.end("name"))
            notes.claim("name", notes.raw(span).strip(), span)
            return
    for line in page.lines:
        raw = notes.raw(line)
        if not raw.strip():
            continue
        start = line.start + len(raw) - len(raw.lstrip())
        name = raw.strip()
        inside = [q for q in page.quantities if line.start <= q.span.start < line.end]
        is_plain = len(page.lines) > 1 and len(name) <= LONGEST_NAME and name[:1].isalnum()
        if (
            not is_plain
            or any(q.unit or q.count for q in inside)
            or not any(map(str.isalpha, name))
            or max(name) > "\u2fff"  # of a script without blanks, where kind and name run together
            or not any(map(str.isdigit, name))  # a model has a number; ‘Free delivery’ has none
        ):
            return
        if set(name) & set(",;:|\t=()/@") or "  " in name or name.endswith("."):
            return
        if MAX.search(page.text, line.start, line.end) or _NO_NAME.search(
            page.text[line.start : line.end]
        ):
            return
        notes.claim("name", name, Span(start, start + len(name)))
        return


def reading_of(notes: Notes, page: Page) -> Reading:
    """Return the reading: what agrees is taken, the rest is refused, asked or left over."""
    figures = sorted(notes.settled(), key=lambda one: one.span.start)
    refused = _once(notes)
    taken = joined(
        [
            *(figure.span for figure in figures),
            *(each.span for each in refused),
            *(each.span for each in notes.questions),
        ]
    )
    left = [
        piece
        for line in page.lines
        for gap in gaps(taken, line.start, line.end)
        for piece in _pieces(page.text, gap)
    ]
    return Reading(
        notes.text, notes.kind, tuple(figures), tuple(refused), tuple(notes.questions), tuple(left)
    )


def _once(notes: Notes) -> list[Refusal]:
    """Return each refusal once, in the order of the text."""
    seen: dict[tuple[int, str], Refusal] = {}
    for each in sorted(notes.refused, key=lambda one: (one.span.start, one.span.end)):
        seen.setdefault((each.span.start, each.reason), each)
    return list(seen.values())


def _pieces(text: str, gap: Span) -> list[Span]:
    """Return what is left of a gap that says something: not words that only join."""
    start, end = gap.start, gap.end
    while start < end and not text[start].isalnum():
        start += 1
    while end > start and not (text[end - 1].isalnum() or text[end - 1] in "%Ω\"')°"):
        end -= 1
    said = _WORD.findall(text[start:end])
    if all(word in _GLUE for word in said):
        return []
    return [Span(start, end)]
