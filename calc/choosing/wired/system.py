"""What a drawing of the whole system shows: boxes with their pins, and what joins these.

Pure data.  A pin is named by its box and its own name, as `hazel.3+`.  Which pins belong together
stands here and nowhere else; a drawing adds places, never a join.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

LeadKind = Literal["rca", "high +", "high -", "remote", "power", "later"]
WireKind = Literal[
    "rca", "high +", "high -", "remote", "power", "later", "earth", "speaker +", "speaker -", "link"
]
LoadKind = Literal["speaker", "set", "coils"]
BodyKind = Literal["amplifier", "later", "radio"]
REMOTE, SUPPLY, GROUND = "rem", "+12", "gnd"
BLOCK, MAIN_FUSE, BATTERY = "block", "main fuse", "battery"


@dataclass(frozen=True)
class Pin:
    """A terminal on the edge of a box: its name there, and what is written at it.

    is_close : belongs to the one above it, as − to +
    is_open : what it is joined to is not known yet
    """

    key: str
    label: str
    is_close: bool = False
    is_open: bool = False


@dataclass(frozen=True, kw_only=True)
class Source:
    """What signal, a remote signal or a switched supply comes from; all stand in one column.

    name : at most two lines
    pins : on its right edge
    inlets, outlets : pairs of speaker leads on its upper and lower edge, as `FL` for the front
        left one; each has a pin with + and one with −.  Outlets go to the inlets of the next
    earth : the pin on its lower edge that goes to the body; empty for none
    """

    key: str
    name: tuple[str, ...]
    pins: tuple[Pin, ...] = ()
    inlets: tuple[str, ...] = ()
    outlets: tuple[str, ...] = ()
    earth: str = ""


@dataclass(frozen=True)
class Part:
    """A speaker behind a passive crossover."""

    name: str
    is_reversed: bool = False


@dataclass(frozen=True, kw_only=True)
class Load:
    """What hangs on an output: a speaker, a set on its crossover, or the voice coils of one.

    name : what and where it is; `note` is what is said of it, on a second line
    parts : the speakers of a set
    coils : the names of its voice coils, as `1` and `2`
    words : how its coils are joined
    is_reversed : + of the output goes to its −
    """

    key: str
    kind: LoadKind
    name: str
    note: str = ""
    parts: tuple[Part, ...] = ()
    coils: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    is_reversed: bool = False

    @property
    def terminals(self) -> tuple[str, ...]:
        """Its own terminals from the top: + above −, or the other way round where reversed."""
        signs = ("-", "+") if self.is_reversed else ("+", "-")
        return tuple(f"{coil}{sign}" for coil in self.coils or ("",) for sign in signs)


@dataclass(frozen=True, kw_only=True)
class Output:
    """An output of an amplifier: one channel, or a bridged pair.

    terminals : all its terminals from the top, as `3+`, `3-`, `4+`, `4-`
    plus, minus : the two that the leads + and − are joined to; empty where it is not used
    plus_to, minus_to : the pins that they lead to
    links : pins that are joined with one another and with no lead
    capacitor : in the + lead, as written
    block : outputs of another block are parted by a line
    """

    terminals: tuple[str, ...]
    plus: str = ""
    minus: str = ""
    loads: tuple[Load, ...] = ()
    plus_to: tuple[str, ...] = ()
    minus_to: tuple[str, ...] = ()
    links: tuple[tuple[str, ...], ...] = ()
    cable: str = ""
    capacitor: str = ""
    block: int = 0

    @property
    def is_bridged(self) -> bool:
        """Whether two channels work as one."""
        return len(self.terminals) > 2


@dataclass(frozen=True, kw_only=True)
class Body:
    """An amplifier, one that comes later, or the radio where its own power drives speakers.

    inputs : the pins of its left edge, with remote, supply and earth
    """

    key: str
    name: str
    kind: BodyKind = "amplifier"
    inputs: tuple[Pin, ...] = ()
    outputs: tuple[Output, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Lead:
    """A lead from a source's pin to a pin of an amplifier or of another source."""

    start: str
    end: str
    kind: LeadKind
    words: str = ""


@dataclass(frozen=True, kw_only=True)
class Branch:
    """A branch of the power cable: the pin that it ends at, its own fuse, size and length.

    fuse : as written; empty where the cable needs none of its own
    is_later : for an amplifier that is not there yet; its place in the block stays free
    """

    end: str
    fuse: str = ""
    words: str = ""
    is_later: bool = False


@dataclass(frozen=True, kw_only=True)
class Power:
    """The power tree: battery, main fuse, main run, and what it ends at.

    battery : lines beside it
    fuse, fuse_where : rating of the main fuse, and how far from the battery
    main : size and length of the main run
    branches : without a block the only one is the main run itself
    """

    battery: tuple[str, ...]
    fuse: str
    fuse_where: str
    main: tuple[str, str]
    branches: tuple[Branch, ...]
    has_block: bool = False


@dataclass(frozen=True, kw_only=True)
class Earth:
    """An earth lead: the pin that it starts at, size and length, and the point where it ends.

    point : leads with the same one meet there; empty is a point of its own
    by_cable : it ends at the battery's negative terminal
    """

    start: str
    words: str = ""
    point: str = ""
    by_cable: bool = False


@dataclass(frozen=True, kw_only=True)
class Wired:
    """The whole system: what stands where, and what is joined with what."""

    title: str
    sources: tuple[Source, ...]
    bodies: tuple[Body, ...]
    leads: tuple[Lead, ...]
    power: Power
    earths: tuple[Earth, ...] = ()

    @property
    def amplifiers(self) -> tuple[Body, ...]:
        """Its amplifiers, those that come later too."""
        return tuple(body for body in self.bodies if body.kind != "radio")

    def used(self) -> Iterator[str]:
        """Yield the pins of sources and inputs that a lead is joined to."""
        for lead in self.leads:
            yield from (lead.start, lead.end)
        for branch in self.power.branches:
            yield branch.end
        for earth in self.earths:
            yield earth.start
