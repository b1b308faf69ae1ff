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
    ohm: Annotated[float, Number("size", low=0.1, high=1000, start=4.0)]
    phase_deg: Annotated[float, Number("phase", low=-90, high=90, start=0.0)]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A filter, the parts that it is built of, and the driver behind it."""

    side: Annotated[
        Kind,
        Choice(
            "Side",
            start="high-pass",
            options=KIND_OPTIONS,
            hint="High-pass for a tweeter, low-pass for a woofer.",
        ),
    ]
    family: Annotated[Family, family_field(start="butterworth")]
    order: Annotated[
        int,
        Whole(
            "Order",
            low=1,
            high=MOST_PASSIVE_ORDER,
            start=2,
            presets=(1, 2, 3, 4),
            hint="Each order is one part and 6 dB per octave.",
        ),
    ]
    frequency_hz: Annotated[float, corner_field(example=3500.0, presets=(2500, 3500, 5000))]
    ohm: Annotated[
        float,
        Number(
            "Impedance of the driver",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Nominal; the parts are worked out for it.",
        ),
    ]
    series: Annotated[
        Series,
        Choice(
            "Series of preferred values",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")),
            source="IEC 60063 (from memory)",
        ),
    ] = "E12"
    inductor_ohm: Annotated[
        float | None, Number("Resistance of each coil’s wire", low=0.01, high=10)
    ] = None
    pad_db: Annotated[
        float,
        Number(
            "Level pad",
            low=0,
            high=20,
            presets=(0, 2, 3, 6),
            hint="How much quieter; 0 is no pad.",
        ),
    ] = 0.0
    levelling: Annotated[
        LevellingForm,
        Choice(
            "Levelling network (Zobel)",
            options=(("none", "none"), ("exact", "exact form"), ("workshop", "workshop form")),
            hint="Keeps the driver’s impedance from rising.",
        ),
    ] = "none"
    power_w: Annotated[
        float | None,
        Number(
            "Amplifier’s power into this load",
            low=1,
            high=5000,
            example=50.0,
            hint="For what the parts must stand.",
        ),
    ] = None
    coil_ohm: Annotated[
        float | None,
        Number("Driver’s DC resistance", low=0.1, high=64, hint="R_e of the data sheet."),
    ] = None
    coil_mh: Annotated[
        float | None,
        Number("Driver’s inductance", low=0.001, high=20, hint="L_e of the data sheet."),
    ] = None
    impedance: Annotated[
        tuple[ImpedancePoint, ...],
        Rows(
            "Measured impedance of the driver",
            start="",
            most=40,
            row_name="point",
            hint="Frequencies rising; wins over the coil’s figures.",
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
        words = "the frequencies do not rise. Give them in rising order, each once."
        first = ", ".join(exact(point) for point in points[:4])
        yield Problem(field="impedance", given=first, words=words, in_full=True)


def levelling_has_its_inductance(
    *, levelling: LevellingForm, coil_mh: float | None
) -> Iterator[Problem]:
    """Yield what a levelling network lacks."""
    if levelling != "none" and coil_mh is None:
        yield Problem(field="coil_mh", given="", words=_LEVELLED, label="Inductance")


def levelling_has_its_resistance(
    *,
    coil_ohm: float | None,
    coil_mh: float | None = None,
    levelling: LevellingForm = "none",
) -> Iterator[Problem]:
    """Yield why the DC resistance is needed; one reason is told."""
    if coil_ohm is None and (levelling != "none" or coil_mh is not None):
        words = "an inductance is given, so give the resistance too."
        words = words if levelling == "none" else _LEVELLED
        yield Problem(field="coil_ohm", given="", words=words, label="DC resistance")


def order_exists(*, family: Family, order: int) -> Iterator[Problem]:
    """Yield what is wrong with the order."""
    return order_problems("order", family=family, order=order, most=MOST_PASSIVE_ORDER)


_LEVELLED = "a levelling network needs it. Give it, or choose none."
CHECKS = (
    frequencies_rise,
    levelling_has_its_inductance,
    levelling_has_its_resistance,
    order_exists,
)
FORM = (
    Group("Filter", ("side", "family", "order", "frequency_hz", "ohm")),
    Group("Parts", ("series", "inductor_ohm", "pad_db", "levelling", "power_w")),
    Group("The driver itself", (), more=("coil_ohm", "coil_mh", "impedance")),
)
