"""A folded text as lines, statements and clauses: what stands together, and under which head."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from calc.reading.quantities import Quantity, quantities_in
from calc.reading.record import Span

_ENDS = re.compile(r"[.!?](?=\s+[a-z0-9(])")
_ABBREVIATED = re.compile(
    r"\b(?:min|max|approx|ca|incl|nom|imp|cont|res|freq|sens|no|nr|ch|chan|resp|rec|recomm|vol|adj|"
    r"inc|bzw|mind|zul|env|dim|abs|e\.g|i\.e|z\.b|p)$"
)
_ELSEWHERE = re.compile(
    r"(?<![a-z])(?:also (?:available|as|comes|in)|other (?:model|version|variant)|"
    r"previous|predecess|"
    r"success|older (?:model|version)|former|bigger (?:model|brother)|vorganger|nachfolge|"
    r"auch als|aussi en|sister model|unlike the|compared (?:to|with)|see also|similar (?:to|model)|"
    r"customers (?:also|who)|you may also|related)"
)
_SPLIT = re.compile(
    r"(?P<mark>[,()\[\]+])|(?P<cell>\t+|[ \t]*\|[ \t]*|[ ]{2,}\t*)|(?P<slash>/)|"
    r"(?P<word>\b(?:and|und|et|or|oder|ou|while|plus)\b)"
)
# What a single sentence may hold: of more, nobody can say what belongs to what, and looking for it
# would take long.
MOST_QUANTITIES = 60
MOST_CLAUSES = 120
_LOAD_ONLY = {"Ω", "", "ch"}


@dataclass
class Clause:
    """A piece of a statement between commas, brackets or cells.

    opener : the sign that it begins after; ‘(’ within brackets, a tab for a cell
    """

    text: str
    span: Span
    opener: str
    quantities: tuple[Quantity, ...]

    def search(self, pattern: re.Pattern[str]) -> Span | None:
        match = pattern.search(self.text, self.span.start, self.span.end)
        return Span(match.start(), match.end()) if match else None

    @property
    def first(self) -> int:
        """Where its first quantity begins; its end where there is none."""
        return self.quantities[0].span.start if self.quantities else self.span.end

    def of(self, *units: str) -> list[Quantity]:
        return [each for each in self.quantities if each.unit in units]


@dataclass
class Statement:
    """A sentence, or what stands between semicolons; `heads` are the lines it stands under."""

    span: Span
    clauses: tuple[Clause, ...]
    head: Clause | None = None
    line: int = 0

    @property
    def label(self) -> Span:
        """What stands before the first quantity."""
        first = next((c.first for c in self.clauses if c.quantities), self.span.end)
        return Span(self.span.start, first)

    def with_aside(self, at: int) -> Clause:
        """Return a clause with the words in brackets after it: ‘4 Ω (bridged)’."""
        clause, after = self.clauses[at], self.clauses[at + 1 : at + 2]
        if not after or after[0].opener != "(" or after[0].quantities:
            return clause
        whole = Span(clause.span.start, after[0].span.end)
        return Clause(clause.text, whole, clause.opener, clause.quantities)

    @property
    def quantities(self) -> list[Quantity]:
        """All its quantities, in their order."""
        return [each for clause in self.clauses for each in clause.quantities]

    def has(self, pattern: re.Pattern[str]) -> bool:
        """Tell whether its own words are of a kind, or those of its head where it has none."""
        text = self.clauses[0].text
        if pattern.search(text, self.span.start, self.span.end):
            return True
        own = any(c.isalpha() for c in text[self.label.start : self.label.end])
        return not own and self.head is not None and self.head.search(pattern) is not None


@dataclass
class Page:
    """A text with all that stands in it."""

    raw: str
    text: str
    statements: list[Statement] = field(default_factory=list)
    lines: list[Span] = field(default_factory=list)
    quantities: list[Quantity] = field(default_factory=list)
    skipped: list[Span] = field(default_factory=list)
    _by_line: dict[int, list[Quantity]] = field(default_factory=dict)

    def is_skipped(self, at: int) -> bool:
        """Tell whether a place lies in a question, or in words about another model."""
        return any(span.start <= at < span.end for span in self.skipped)

    def of_line(self, line: Span) -> list[Quantity]:
        """Return the quantities of a line."""
        return self._by_line.get(line.start, [])


def page_of(raw: str, text: str) -> Page:
    """Part a text; `text` is its folded form."""
    page = Page(raw, text, quantities=quantities_in(text, raw))
    at = 0
    for words in text.split("\n"):
        page.lines.append(Span(at, at + len(words)))
        at += len(words) + 1
    queue = list(reversed(page.quantities))
    for each in page.lines:
        own = page._by_line.setdefault(each.start, [])
        while queue and queue[-1].span.start < each.end:
            own.append(queue.pop())
    page.statements = list(_parted(page))
    return page


def _parted(page: Page) -> Iterator[Statement]:
    """Part the lines into statements, each under the heads above it."""
    text = page.text
    head: Clause | None = None
    used = False
    for number, line in enumerate(page.lines):
        own = page.of_line(line)
        blank = not text[line.start : line.end].strip()
        if blank:
            if used:
                head = None
            continue
        if is_head(text, line, own):
            head, used = Clause(text, line, "", tuple(own)), False
            yield Statement(line, tuple(_clauses(text, line.start, line.end, own)), None, number)
            continue
        for start, end in _statements(text, line, own):
            mine = [q for q in own if start <= q.span.start < end]
            if len(mine) > MOST_QUANTITIES:
                continue  # no sentence: it is left as not understood
            if text[start:end].rstrip().endswith("?") or _ELSEWHERE.search(text, start, end):
                page.skipped.append(Span(start, end))
                continue
            clauses = tuple(_clauses(text, start, end, mine))
            if 0 < len(clauses) <= MOST_CLAUSES:
                yield Statement(Span(start, end), clauses, head, number)
        used = True


def is_head(text: str, line: Span, own: list[Quantity]) -> bool:
    """Tell whether a line is the head of those below: words, at most with a load."""
    piece = text[line.start : line.end].strip()
    if len(piece) > 60 or not any(map(str.isalpha, piece)):
        return False
    if any(q.unit not in _LOAD_ONLY or q.count is not None for q in own):
        return False
    if any(q.unit == "" and q.shape != "one" for q in own):
        return False
    if re.search(r"[:\t|] *\S", piece) or "  " in piece:
        return False
    return not re.search(r"\b(?:min|stable|stabil|impedan)", piece)


def _statements(text: str, line: Span, own: list[Quantity]) -> list[tuple[int, int]]:
    within = [(q.span.start, q.span.end) for q in own]
    cuts = [line.start]
    for match in re.finditer(r"[;]|[.!?](?=\s+\S)", text[line.start : line.end]):
        at = line.start + match.start()
        if any(start < at < end for start, end in within):
            continue
        before = text[max(line.start, at - 12) : at]
        if match[0] == "." and (before.endswith(".") or _ABBREVIATED.search(before)):
            continue
        cuts.append(at + 1)
    cuts.append(line.end)
    return [(a, b) for a, b in pairwise(cuts) if text[a:b].strip(" \t.;")]


def _clauses(text: str, start: int, end: int, own: list[Quantity]) -> list[Clause]:
    cuts: list[tuple[int, int, str]] = []
    spans = iter([(q.span.start, q.span.end) for q in own])
    current = next(spans, None)
    depth = 0
    for match in _SPLIT.finditer(text, start, end):
        at = match.start()
        while current is not None and current[1] <= at:
            current = next(spans, None)
        if current is not None and current[0] < match.end() and at < current[1]:
            continue
        if match["slash"] and not _parts_clauses(text, at, own, start, end):
            continue
        if match["cell"] and at == start:
            continue
        sign = match["mark"] or ("\t" if match["cell"] else "/" if match["slash"] else "&")
        if sign in "([":
            depth += 1
            sign = "("
        elif sign in ")]":
            depth = max(0, depth - 1)
        opener = "(" if depth and sign != "(" else sign
        cuts.append((at, match.end(), opener))
    clauses = []
    left, opener = start, ""
    queue = list(own)
    at_queue = 0
    for at, after, sign in [*cuts, (end, end, "")]:
        mine = []
        while at_queue < len(queue) and queue[at_queue].span.start < at:
            mine.append(queue[at_queue])
            at_queue += 1
        if text[left:at].strip(" \t.:-"):
            clauses.append(Clause(text, _trimmed(text, left, at), opener, tuple(mine)))
        left, opener = after, sign
    return clauses


def _parts_clauses(text: str, at: int, own: list[Quantity], start: int, end: int) -> bool:
    """Tell whether a slash parts two statements: a number on both sides."""
    if text[at - 1 : at] == " " and text[at + 1 : at + 2] == " ":
        return bool(own)
    # ‘4x60W@4Ω/4x90W@2Ω’: each side is complete.
    before = [q for q in own if q.span.end == at and q.unit == "Ω"]
    after = [q for q in own if q.span.start == at + 1 and q.unit == "W"]
    return bool(before and after)


def _trimmed(text: str, start: int, end: int) -> Span:
    while start < end and text[start] in " \t-.:=":
        start += 1
    while end > start and text[end - 1] in " \t-.:=":
        end -= 1
    return Span(start, end)
