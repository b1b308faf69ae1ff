"""What was read from a text: figures, what was refused and why, what to ask, and what is left."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from calc.inputs.declared import fields_of
from calc.inputs.field_base import Field, Refused
from calc.system.amplifier import COLUMNS
from calc.system.speakers import SpeakerRow

Kind = Literal["amplifier", "speaker"]

LONGEST_PIECE = 160  # of what is left over, as it is told below the text
MOST_TOLD = 60  # refusals, questions and pieces left over; of more, no reader reads all


def columns_of(kind: Kind) -> dict[str, Field]:
    """Return the fields that a card of this kind has, by their keys."""
    own = COLUMNS if kind == "amplifier" else tuple(fields_of(SpeakerRow).values())
    return {column.key: column for column in own}


@dataclass(frozen=True)
class Span:
    """A piece of the text, from `start` up to `end`."""

    start: int
    end: int


@dataclass(frozen=True)
class Figure:
    """A figure that was read.

    key : of the column
    value : as the column's field holds it, written
    words : the piece of the text that it was read from
    follows : what it follows from, where the text does not give it in so many words
    """

    key: str
    value: str
    span: Span
    words: str
    follows: str = ""


@dataclass(frozen=True)
class Refusal:
    """A piece of the text that looks like a figure and was not taken, and why."""

    span: Span
    words: str
    reason: str


@dataclass(frozen=True)
class Question:
    """What the text does not settle; each choice is a label with the figures that it gives."""

    span: Span
    words: str
    asks: str
    choices: tuple[tuple[str, Mapping[str, str]], ...]


@dataclass(frozen=True)
class Reading:
    """All that was read from a text.

    left : pieces that nobody understood
    """

    text: str
    kind: Kind
    figures: tuple[Figure, ...]
    refused: tuple[Refusal, ...]
    questions: tuple[Question, ...]
    left: tuple[Span, ...]

    def words(self, span: Span) -> str:
        """Return a piece of the text on one line."""
        return " ".join(self.text[span.start : span.end].split())

    def brief(self, span: Span) -> str:
        """Return a piece of the text on one line, shortened where it is long."""
        words = self.words(span)
        return words if len(words) <= LONGEST_PIECE else f"{words[:LONGEST_PIECE]}…"

    @property
    def values(self) -> dict[str, str]:
        """The figures' texts by their keys."""
        return {figure.key: figure.value for figure in self.figures}


@dataclass
class _Claim:
    """A figure as a rule found it, before it is held against the others."""

    value: str
    span: Span
    follows: str
    rank: int


@dataclass
class Notes:
    """What the rules find in a text, as they find it."""

    text: str
    kind: Kind
    claims: dict[str, list[_Claim]] = field(default_factory=dict)
    refused: list[Refusal] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._columns = columns_of(self.kind)

    def words(self, span: Span) -> str:
        return " ".join(self.text[span.start : span.end].split())

    def raw(self, span: Span) -> str:
        return self.text[span.start : span.end]

    def claim(
        self, key: str, value: object, span: Span, *, follows: str = "", rank: int = 0
    ) -> bool:
        """Take a figure, if its column permits it; tell whether.

        rank : of two figures that differ the one of the higher rank counts; of the same rank none
        """
        column = self._columns.get(key)
        if column is None:
            return False
        try:
            text = column.write(column.taken(value))
        except (Refused, ValueError, TypeError):
            return False
        self.claims.setdefault(key, []).append(_Claim(text, span, follows, rank))
        return True

    def refuse(self, span: Span, reason: str) -> None:
        self.refused.append(Refusal(span, self.words(span), reason))

    def ask(
        self, span: Span, asks: str, choices: Iterable[tuple[str, Mapping[str, object]]]
    ) -> None:
        """Ask what the text leaves open; a choice that no column permits is not offered."""
        offered = []
        for label, values in choices:
            try:
                written = {
                    key: self._columns[key].write(self._columns[key].taken(value))
                    for key, value in values.items()
                }
            except (Refused, KeyError, ValueError, TypeError):
                continue
            offered.append((label, written))
        if offered:
            self.questions.append(Question(span, self.words(span), asks, tuple(offered)))

    def of(self, key: str) -> list[str]:
        """Return what was claimed for a key, each text once."""
        return list(dict.fromkeys(claim.value for claim in self.claims.get(key, ())))

    def withdraw(self, key: str, reason: str) -> None:
        """Refuse what was claimed for a key."""
        for claim in self.claims.pop(key, ()):
            self.refuse(claim.span, reason)

    def settled(self) -> list[Figure]:
        """Return the figures on which the text agrees with itself; the others are refused."""
        figures = []
        for key in list(self.claims):
            top = max(claim.rank for claim in self.claims[key])
            best = [claim for claim in self.claims[key] if claim.rank == top]
            values = list(dict.fromkeys(claim.value for claim in best))
            if len(values) > 1:
                label = self._columns[key].label
                both = " and ".join(values[:3])
                self.withdraw(key, f"{label}: the text gives {both}; take the right one")
                continue
            for claim in self.claims[key]:
                if claim.value != values[0]:
                    self.refuse(claim.span, f"the text gives {values[0]} more clearly elsewhere")
            first = best[0]
            figures.append(
                Figure(key, first.value, first.span, self.words(first.span), first.follows)
            )
        return figures


def joined(spans: Sequence[Span]) -> list[Span]:
    """Return pieces in their order; those that overlap are one.

    >>> joined([Span(5, 9), Span(0, 3), Span(8, 12)])
    [Span(start=0, end=3), Span(start=5, end=12)]
    """
    whole: list[Span] = []
    for span in sorted(spans, key=lambda one: (one.start, one.end)):
        if whole and span.start < whole[-1].end:
            whole[-1] = Span(whole[-1].start, max(whole[-1].end, span.end))
        else:
            whole.append(span)
    return whole


def gaps(spans: Sequence[Span], start: int, end: int) -> list[Span]:
    """Return what lies between pieces that do not overlap.

    >>> gaps([Span(2, 4)], 0, 6)
    [Span(start=0, end=2), Span(start=4, end=6)]
    """
    within = [span for span in spans if span.end > start and span.start < end]
    edges = [Span(start, start), *within, Span(end, end)]
    return [
        Span(left.end, right.start) for left, right in pairwise(edges) if left.end < right.start
    ]
