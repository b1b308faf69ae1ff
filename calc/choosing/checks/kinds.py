"""A check: one requirement held against an amplifier, of one of the kinds in the job's order."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, Protocol

from calc.answers.sheet import State, Verdict
from calc.choosing.questions.question import Unsure

Kind = Literal[
    "channels", "layout", "power", "filters", "signal", "turn-on", "level control", "boost",
    "cover", "terminals", "place", "controls", "heat", "cable", "its own fuses", "supply",
]  # fmt: skip
REACH: Kind = "controls"
# The field of the system that makes a feature a must or a wish.
WISH_OF: Mapping[Kind, str] = {
    "level control": "level_control",
    "boost": "boost",
    "cover": "cover",
    "terminals": "screw_terminals",
    REACH: "controls_in_place",
}
WANTED: Mapping[Kind, str] = {
    "level control": "a remote level control (bass knob)",
    "boost": "bass boost",
    "cover": "a cover over the controls",
    "terminals": "screw terminals",
    REACH: "controls you can reach once it is in",
}


# What a check is called in the trade; its kind is its name in the data.
_TITLES: Mapping[Kind, str] = {
    "filters": "crossovers",
    "level control": "remote level control",
    "boost": "bass boost",
    "cover": "cover over the controls",
    "terminals": "screw terminals",
    "place": "mounting space",
    "controls": "controls within reach",
    "heat": "cooling",
    "cable": "power cable",
    "its own fuses": "amplifier fuses",
    "supply": "alternator and battery",
}


def title_of(kind: Kind) -> str:
    """Return what a kind of check is called in the trade."""
    return _TITLES.get(kind, kind)


@dataclass(frozen=True)
class Check:
    """One requirement held against an amplifier.

    feed : whose power it is about, of the kind `power`
    about : which amplifier it is about, where several are installed
    is_must : a wish that is not met makes no amplifier unsuitable
    is_weak : a speaker gets less than half of its rating, though nobody asked for more
    quieter_db : by how much it plays less loud than its rating would, where that is to be told
    keys : figures of the amplifier or the system that would settle it
    """

    kind: Kind
    needed: str
    has: str
    state: State
    is_must: bool = True
    is_weak: bool = False
    quieter_db: float | None = None
    feed: str = ""
    keys: tuple[str, ...] = ()
    about: str = ""

    @property
    def name(self) -> str:
        """Its name in the data: its kind, with whose power or which amplifier it is about."""
        whose = self.feed or self.about
        return f"{self.kind}: {whose}" if whose else self.kind

    @property
    def title(self) -> str:
        """What a reader sees of it: the trade's name, with what it is about."""
        whose = self.feed or self.about
        return f"{title_of(self.kind)}: {whose}" if whose else title_of(self.kind)

    @property
    def decides(self) -> bool:
        """Whether it stands in the way of a recommendation."""
        return self.is_must and self.state not in ("suitable", "likely")


def plain(text: str) -> str:
    """Return a reason as a check has it: with plain spaces, and no stop at its end."""
    return text.replace("\u202f", " ").rstrip(".")


class Asked(Protocol):
    """A question of any calculator, as far as its verdict goes."""

    @property
    def verdict(self) -> Verdict:
        """What comes of it."""

    @property
    def unsure(self) -> Unsure | None:
        """What it rests on that is not known."""


def judged(kind: Kind, needed: str, question: Asked) -> Check:
    """Return a calculator's verdict as a check."""
    verdict = question.verdict
    is_settled = verdict.state in ("suitable", "unsuitable") or question.unsure is None
    keys = () if is_settled or question.unsure is None else question.unsure.keys
    return Check(kind, needed, plain(verdict.reason), verdict.state, keys=keys)
