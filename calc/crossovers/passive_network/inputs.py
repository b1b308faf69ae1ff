"""What `passive-network` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.answers.figures import exact
from calc.inputs.fields import Choice, Number, Whole
from calc.inputs.problems import Problem
from calc.inputs.rows import Rows
from calc.parts.filters import KIND_OPTIONS, corner_field, family_field, order_problems
from calc.physics.filters import Family, Kind
from calc.physics.ladder import MOST_PASSIVE_ORDER
from calc.physics.preferred_values import Series

LevellingForm = Literal["none", "exact", "workshop"]


@dataclass(frozen=True, kw_only=True)
class ImpedancePoint:
    """The driver's impedance as measured at a frequency."""

    frequency_hz: Annotated[float, Number("frequency", low=1, high=100_000, start=1000.0)]
    ohm: Annotated[float, Number("impedance", low=0.1, high=1000, start=4.0)]
    phase_deg: Annotated[float, Number("phase", low=-90, high=90, start=0.0)]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A filter, the parts that it is built of, and the driver behind it."""

    side: Annotated[
        Kind,
        Choice(
            "Filter",
            start="high-pass",
            options=KIND_OPTIONS,
            hint="A high-pass (HPF) for a tweeter, a low-pass (LPF) for a mid-bass or woofer.",
        ),
    ]
    family: Annotated[Family, family_field(start="butterworth")]
    order: Annotated[
        int,
        Whole(
            "Slope (order)",
            low=1,
            high=MOST_PASSIVE_ORDER,
            start=2,
            presets=(1, 2, 3, 4),
            hint="1 is 6 dB/oct, 2 is 12, 3 is 18, 4 is 24. Each step is one more part.",
        ),
    ]
    frequency_hz: Annotated[float, corner_field(example=3500.0, presets=(2500, 3500, 5000))]
    ohm: Annotated[
        float,
        Number(
            "Impedance of the speaker",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Nominal: the ohms on the spec sheet. The parts are worked out for it.",
        ),
    ]
    series: Annotated[
        Series,
        Choice(
            "Stock values",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")),
            hint="E24 has the most values; E6 is the smallest stock.",
            source="stock-values",
        ),
    ] = "E12"
    inductor_ohm: Annotated[
        float | None,
        Number(
            "Resistance of each inductor",
            low=0.01,
            high=10,
            hint="DC resistance of its wire, from the supplier; or measure it.",
        ),
    ] = None
    pad_db: Annotated[
        float,
        Number(
            "L-pad",
            low=0,
            high=20,
            presets=(0, 2, 3, 6),
            hint="How much to take off the level; 0 is no L-pad.",
        ),
    ] = 0.0
    levelling: Annotated[
        LevellingForm,
        Choice(
            "Zobel network",
            options=(("none", "none"), ("exact", "exact form"), ("workshop", "usual form")),
            hint="A resistor and a capacitor across the speaker that flatten its impedance rise.",
        ),
    ] = "none"
    power_w: Annotated[
        float | None,
        Number(
            "Amplifier power",
            low=1,
            high=5000,
            example=50.0,
            hint="RMS watts into this impedance, on the spec sheet. It gives the ratings of the "
            "parts.",
        ),
    ] = None
    coil_ohm: Annotated[
        float | None,
        Number("DC resistance of the speaker", low=0.1, high=64, hint="R_e on the spec sheet."),
    ] = None
    coil_mh: Annotated[
        float | None,
        Number("Inductance of the voice coil", low=0.001, high=20, hint="L_e on the spec sheet."),
    ] = None
    impedance: Annotated[
        tuple[ImpedancePoint, ...],
        Rows(
            "Measured impedance of the speaker",
            start="",
            most=40,
            row_name="point",
            hint="In order of rising frequency. Used in place of the two figures above.",
        ),
    ] = ()

    @property
    def coil_h(self) -> float | None:
        """The driver's inductance [H]."""
        return None if self.coil_mh is None else self.coil_mh / 1000


def frequencies_rise(*, impedance: tuple[ImpedancePoint, ...]) -> Iterator[Problem]:
    """Yield what is wrong with the order of measured points."""
    points = [point.frequency_hz for point in impedance]
    if any(later <= earlier for earlier, later in pairwise(points)):
        words = "the frequencies are not in rising order. Enter each once, the lowest first."
        first = ", ".join(exact(point) for point in points[:4])
        yield Problem(field="impedance", given=first, words=words, in_full=True)


def levelling_has_its_inductance(
    *, levelling: LevellingForm, coil_mh: float | None
) -> Iterator[Problem]:
    """Yield what a Zobel network lacks."""
    if levelling != "none" and coil_mh is None:
        yield Problem(field="coil_mh", given="", words=_LEVELLED, label="Voice coil inductance")


def levelling_has_its_resistance(
    *,
    coil_ohm: float | None,
    coil_mh: float | None = None,
    levelling: LevellingForm = "none",
) -> Iterator[Problem]:
    """Yield why the DC resistance is needed; one reason is told."""
    if coil_ohm is None and (levelling != "none" or coil_mh is not None):
        words = "it is needed with the inductance. Enter R_e from the spec sheet."
        words = words if levelling == "none" else _LEVELLED
        yield Problem(field="coil_ohm", given="", words=words, label="DC resistance")


def order_exists(*, family: Family, order: int) -> Iterator[Problem]:
    """Yield what is wrong with the order."""
    return order_problems("order", family=family, order=order, most=MOST_PASSIVE_ORDER)


_LEVELLED = "a Zobel network is worked out from it. Enter it, or choose no Zobel network."
CHECKS = (
    frequencies_rise,
    levelling_has_its_inductance,
    levelling_has_its_resistance,
    order_exists,
)
FORM = (
    Group("Filter", ("side", "family", "order", "frequency_hz", "ohm")),
    Group("Parts", ("series", "inductor_ohm", "pad_db", "levelling", "power_w")),
    Group("The speaker itself", (), more=("coil_ohm", "coil_mh", "impedance")),
)
