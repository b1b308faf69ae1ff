"""Rows of a system: its speakers, the passive networks between them, the head unit's filters."""

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from calc.bridging.channel_map import CHANNEL_MAP
from calc.coils.coil_wiring import COIL_WIRING
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.field_base import Field
from calc.inputs.fields import Choice, Number, Text, Whole
from calc.inputs.rows import not_printed_field
from calc.system.borrowed import borrowed_column

LONGEST_NAME = 24

SectionWord = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]
# A set with its own network is one row: what the amplifier sees is one full-range speaker.
RowWord = Literal["components", "full-range", "tweeter", "midrange", "mid-bass", "woofer"]
_SECTIONS = (
    ("components", "component set"),
    ("full-range", "coaxial (full-range)"),
    ("tweeter", "tweeter"),
    ("midrange", "midrange"),
    ("mid-bass", "mid-bass"),
    ("woofer", "subwoofer"),
)
Enclosure = Literal["sealed", "ported", "not-known"]
Family = Literal["butterworth", "linkwitz-riley", "bessel"]
Edge = Literal["high-pass", "low-pass"]


def _name(label: str, **changes: Any) -> Text:
    return Text(label, longest=LONGEST_NAME, **changes)


def _section(key: str, **changes: Any) -> Field:
    return borrowed_column(CHANNEL_MAP, "sections", key, **changes)


def _split(table: str, key: str) -> Field:
    return borrowed_column(FILTER_SPLIT, table, key)


@dataclass(frozen=True, kw_only=True)
class SpeakerRow:
    """Speakers of one kind at one place, as far as they are told; figures of one speaker.

    coil_ohm : the impedance of one coil [Ω]; of a set, what its network shows the amplifier
    need_w : the power that each must reach [W]; None is no must
    sensitivity_db : at 2.83 V and 1 m with all its coils in parallel [dB]
    lowest_hz, order, top_hz, wanted_hz : as `filter-split` asks for them
    output : the head unit's output that feeds it, as a word
    not_printed : the figures that were looked for and stand nowhere
    """

    name: Annotated[str | None, _name("name", start="front doors", names="speaker")] = None
    section: Annotated[RowWord, Choice("kind", start="full-range", options=_SECTIONS)]
    count: Annotated[int, _section("speakers")]
    coils: Annotated[int, Whole("voice coils of each", low=1, high=4)] = 1
    coil_ohm: Annotated[
        float,
        borrowed_column(COIL_WIRING, "drivers", "coil_ohm", label=("impedance of one voice coil")),
    ]
    rated_w: Annotated[float, _section("rated_w", label="RMS rating of one")]
    need_w: Annotated[float | None, Number("power to reach", low=0, high=5000)] = None
    sensitivity_db: Annotated[float | None, _section("sensitivity_db", start=None)] = None
    lowest_hz: Annotated[float | None, _split("sections", "lowest_hz")] = None
    order: Annotated[int, _split("sections", "order")] = 2
    top_hz: Annotated[float | None, _split("sections", "top_hz")] = None
    wanted_hz: Annotated[float | None, _split("sections", "wanted_hz")] = None
    output: Annotated[str | None, _name("head-unit output", start="front")] = None
    distance_m: Annotated[float | None, Number("distance to the listener", low=0, high=50)] = None
    lead_m: Annotated[float | None, Number("longest speaker cable", low=0.01, high=100)] = None
    enclosure: Annotated[
        Enclosure | None,
        Choice(
            "sub’s enclosure",
            options=(("sealed", "sealed"), ("ported", "ported"), ("not-known", "not known")),
        ),
    ] = None
    tuning_hz: Annotated[float | None, Number("tuning of a ported enclosure", low=10, high=200)] = (
        None
    )
    not_printed: Annotated[str | None, not_printed_field()] = None


@dataclass(frozen=True, kw_only=True)
class Speaker:
    """Speakers of one kind at one place, with usual figures where none were told.

    has_network : a set with its own network, whose marks decide the polarity
    The other figures are those of `SpeakerRow`.
    """

    name: str
    section: SectionWord
    count: int
    coils: int
    coil_ohm: float
    rated_w: float
    need_w: float | None
    sensitivity_db: float
    lowest_hz: float | None
    order: int
    top_hz: float | None
    wanted_hz: float | None
    output: str | None
    distance_m: float | None
    lead_m: float | None
    enclosure: Enclosure | None
    tuning_hz: float | None
    has_network: bool = False

    @property
    def parallel_ohm(self) -> float:
        """The load of one speaker with its coils in parallel [Ω]."""
        return self.coil_ohm / self.coils


@dataclass(frozen=True, kw_only=True)
class Network:
    """A passive network between two rows of speakers on the same leads, or at one of them."""

    above: Annotated[str | None, _name("speaker above", refers="speaker")] = None
    below: Annotated[str | None, _name("speaker below", refers="speaker")] = None
    frequency_hz: Annotated[float, _split("passive", "frequency_hz")]
    family: Annotated[Family, _split("passive", "family")] = "butterworth"
    order: Annotated[int, _split("passive", "order")] = 2


@dataclass(frozen=True, kw_only=True)
class HeadFilter:
    """A filter of the head unit, on one of its outputs."""

    output: Annotated[str, _name("output", start="front", numbered=True)]
    kind: Annotated[Edge, _split("head_unit", "kind")]
    corners_hz: Annotated[str, _split("head_unit", "corners_hz")]
    times: Annotated[str, _split("head_unit", "times")] = "1"
    family: Annotated[Family, _split("head_unit", "family")] = "butterworth"
    orders: Annotated[str, _split("head_unit", "orders")]
    switch: Annotated[str | None, _split("head_unit", "switch")] = None
    off: Annotated[bool, _split("head_unit", "off")] = True
