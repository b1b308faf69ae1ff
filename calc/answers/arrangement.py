"""How a long form is laid out for somebody who stands at the car: parts, cards and columns.

A calculator without an arrangement has a plain form.  With one, a few fields stand in numbered
parts, as cards that fold to a line and as columns of one table; the rest of a row stands behind
“I know more” in its card, the rest of the form behind “I know more” after the parts.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Asked:
    """One answer that a row asks for: its label, and the columns that it fills.

    Of two columns the first has a box of its own before the sign (`4 × 60`); with `as_one`, a
    single text fills both, and a text without the sign the second alone (`2 × 2`, `4`).  What is
    `needed` is gone to first.
    """

    label: str
    columns: tuple[str, ...]
    hint: str = ""
    sign: str = "×"
    as_one: bool = False
    needed: bool = False


@dataclass(frozen=True)
class Adder:
    """A button that adds cards; `ways` are the rows that it brings, each way in its turn.

    Each row holds texts by column: the kind, the place and the number come with the button.
    """

    label: str
    note: str
    ways: tuple[tuple[Mapping[str, str], ...], ...]


@dataclass(frozen=True, kw_only=True)
class Cards:
    """Rows of a table as cards.

    name : the column that is a card's title
    counted : the column that has a stepper
    offered : columns that are in sight and need no answer
    only_for : columns that a row has for one word of another column alone
    usual_for : what is usual in a column, by the words of the column `kind`, the figure first
    pastes : what a text pasted into a card is read as; empty where none is
    singles : kinds of which two are no pair
    """

    key: str
    name: str
    counted: str
    asked: tuple[Asked, ...]
    adders: tuple[Adder, ...]
    offered: tuple[str, ...] = ()
    only_for: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    kind: str = ""
    singles: tuple[str, ...] = ()
    usual_for: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    pastes: str = ""


@dataclass(frozen=True, kw_only=True)
class Roles:
    """What each of several columns is for: one is chosen, or a few together; others wait.

    key : the column of the table that holds it
    chosen, other, later : its words
    most : how many can be chosen together, those for later included
    join, leave, put_off, join_all : what the buttons say; `{count}` stands for “both”, “all three”
    later_says : what is said of one for later
    """

    key: str
    chosen: str
    other: str
    later: str
    most: int
    join: str
    leave: str
    put_off: str
    join_all: str
    later_says: str


@dataclass(frozen=True, kw_only=True)
class Columns:
    """Rows of a table as columns beside one another, each with its own verdict.

    name : the column that is a column's title; `title` stands there until it is filled
    ready : empty ones that stand ready
    most : columns that can be added by hand; `beyond` says what to do with more
    roles : what tells which of them is chosen; None where none is
    to_list : what the button says that puts one into the list on the device; none where empty
    pastes : what a text pasted into a column is read as; empty where none is
    """

    key: str
    name: str
    title: str
    asked: tuple[Asked, ...]
    more: str
    ready: int = 2
    most: int = 3
    beyond: str = ""
    roles: Roles | None = None
    to_list: str = ""
    pastes: str = ""


@dataclass(frozen=True, kw_only=True)
class FieldCard:
    """A few fields as a card of their own, folded to a line when they are answered.

    when_left : what the line says while nothing is given; the card is folded then where it says so
    opens : the word of the button that opens it then
    only_for : the word of a choice without which it is not shown; the style sheet knows which
    """

    title: str
    keys: tuple[str, ...]
    only_for: str = ""
    when_left: str = ""
    opens: str = "Change"
    labels: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of the form under a number and a name.

    has_rest : what stands in no part follows it, behind “I know more”
    """

    name: str
    heading: str
    holds: tuple[Cards | Columns | FieldCard, ...]
    hint: str = ""
    note: str = ""
    has_examples: bool = False
    has_rest: bool = False


def keys_of(parts: tuple[Part, ...]) -> frozenset[str]:
    """Return the keys of the fields that stand in parts."""
    return frozenset(
        key
        for part in parts
        for each in part.holds
        for key in (each.keys if isinstance(each, FieldCard) else (each.key,))
    )
