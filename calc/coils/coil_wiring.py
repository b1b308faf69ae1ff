"""The calculator `coil-wiring`: every circuit of the coils, the best one drawn."""

import math
from collections.abc import Mapping
from itertools import islice
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.cautions import SWITCH_OFF
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.coils.drawings import circuit_drawing, join_words, joined_nets, terminal_drawing
from calc.coils.fields import COIL_OHM, COILS_PER_DRIVER, DRIVERS, check_drivers, drivers_of
from calc.coils.model import (
    METER_HIGH,
    METER_LOW,
    Arrangement,
    Survey,
    meter_range,
    not_below,
    survey_of,
)
from calc.coils.words import share_words, wiring_words
from calc.inputs.fields import Number, Whole, YesNo

SHOWN_ROWS = 12
SOURCES = (
    "Series: loads add; parallel: conductances add (Ohm’s and Kirchhoff’s laws).",
    "Number of series–parallel networks of n like elements: OEIS A000084.",
    "DC resistance 0.75 to 0.95 of a coil’s nominal impedance: common practice, no source; "
    "lowest impedance 0.8 × rated, IEC 60268-5 (from memory).",
)
CAUTIONS = (
    "Measure the load at the free ends before you connect the amplifier; a wrong join can "
    "destroy its output stage.",
    SWITCH_OFF,
    "Use every coil, unless the maker permits one alone: then insulate the open one, do not "
    "short it, and count on half the rating.",
)


def coil_wiring(given: Mapping[str, Any]) -> Sheet:
    """Compute `coil-wiring`."""
    drivers, limit_ohm = drivers_of(given), given["min_load_ohm"]
    survey = survey_of(drivers)
    arrangements = list(islice(survey.ranked(limit_ohm), given["limit"]))
    best = arrangements[0] if fits(arrangements[0], limit_ohm) else None
    shown = arrangements[0]
    total = survey.networks_total
    return Sheet(
        sentence=_sentence(best, shown, given),
        notation=shown.circuit.notation,
        verdict=_verdict(best, given),
        results={
            "networks_total": total,
            "distinct_loads": [
                {"load_ohm": float(one.load), "networks": one.networks, "even": one.even}
                for one in survey.distinct_loads
            ],
            "arrangements": [_data(one, given) for one in arrangements],
            "best": None if best is None else 0,
        },
        figures=_figures(shown, total, given),
        drawings=(
            circuit_drawing(shown.circuit, is_reversed=given["reversed"]),
            terminal_drawing(drivers, shown.circuit, is_reversed=given["reversed"]),
        ),
        tables=(
            _coil_table(shown, given),
            _joins_table(shown, given),
            _arrangement_table(arrangements, total, limit_ohm),
        ),
        cautions=(*_bridged_caution(shown, given), *_uneven_caution(shown), *CAUTIONS),
        steps=_steps(shown, survey, limit_ohm),
        unknowns=(
            "How the impedance of a driver changes with frequency and box: the load is nominal.",
            "Whether the maker permits these coils to be used singly or in another sense.",
        ),
        sources=SOURCES,
    )


def fits(arrangement: Arrangement, limit_ohm: float) -> bool:
    """Tell whether the load is not below the amplifier's limit."""
    return not_below(arrangement.circuit.load, limit_ohm)


def _data(one: Arrangement, given: Mapping[str, Any]) -> dict[str, Any]:
    shares = one.share_percent()
    low, high = meter_range(one.circuit.load)
    power = given["power_w"]
    return {
        "notation": one.circuit.notation,
        "load_ohm": one.load_ohm,
        "even": one.even,
        "fits": fits(one, given["min_load_ohm"]),
        "joints": one.joints,
        "share_percent": list(shares.values()),
        "driver_share_percent": one.driver_share_percent(),
        "coil_power_w": None if power is None else list(_coil_watts(one, power).values()),
        "coil_current_a": None if power is None else list(_coil_amperes(one, power).values()),
        "channel_load_ohm": one.load_ohm / 2 if given["bridged"] else None,
        "meter_low_ohm": low,
        "meter_high_ohm": high,
        "nets": joined_nets(one.circuit, is_reversed=given["reversed"]),
    }


def _sentence(best: Arrangement | None, shown: Arrangement, given: Mapping[str, Any]) -> str:
    if best is None:
        most = quantity(shown.load_ohm, "Ω", 3)
        return (
            f"These coils cannot make {_limit(given)}: the most that they come to is {most}. Use "
            f"an amplifier that is stable to {most}, or other subs."
        )
    low, high = meter_range(best.circuit.load)
    how = wiring_words(best.circuit) or f"them as {best.circuit.notation}"
    even = "" if best.even else " Identical coils do not share alike."
    return (
        f"Wire {how}: {quantity(shown.load_ohm, 'Ω', 3)}.{even} Before you connect it, a meter at "
        f"the free ends should read {rounded(low, 3)} to {quantity(high, 'Ω', 3)}."
    )


def _limit(given: Mapping[str, Any]) -> str:
    return quantity(given["min_load_ohm"], "Ω")


def _verdict(best: Arrangement | None, given: Mapping[str, Any]) -> Verdict:
    if best is None:
        return Verdict("unsuitable", f"these coils cannot make {_limit(given)}.")
    load, told = quantity(best.load_ohm, "Ω", 3), share_words(best)
    if not best.even:
        return Verdict(
            "unsuitable",
            f"they can make {_limit(given)} or more, the lowest {load}, but identical coils then "
            f"never share alike: {told}.",
        )
    joint = ";" if " and " in told else ", and"
    return Verdict(
        "suitable",
        f"{load} is safe on an output that takes {_limit(given)}{joint} {told}.",
    )


def _figures(shown: Arrangement, total: int, given: Mapping[str, Any]) -> tuple[Figure, ...]:
    low, high = meter_range(shown.circuit.load)
    figures = [
        Figure("Load", Quantity(shown.load_ohm, "Ω")),
        Figure("DC reading, without the leads’ own", Span(low, high, "Ω")),
        Figure("Joints", Quantity(shown.joints)),
        Figure("Circuits that exist", Quantity(total)),
    ]
    if given["bridged"]:
        figures.insert(1, Figure("Each channel sees", Quantity(shown.load_ohm / 2, "Ω")))
    return tuple(figures)


def _coil_watts(one: Arrangement, power_w: float) -> dict[str, float]:
    return {name: power_w * share / 100 for name, share in one.share_percent().items()}


def _coil_amperes(one: Arrangement, power_w: float) -> dict[str, float]:
    ohms = {coil.name: float(coil.load) for coil in one.circuit.coils()}
    return {
        name: math.sqrt(watts / ohms[name]) for name, watts in _coil_watts(one, power_w).items()
    }


def _coil_table(shown: Arrangement, given: Mapping[str, Any]) -> Table:
    power = given["power_w"]
    of_driver = shown.driver_share_percent()
    ohms = {coil.name: float(coil.load) for coil in shown.circuit.coils()}
    columns = [
        Column("Coil", code=True),
        Column("Impedance", "Ω"),
        Column("Share of power", "%"),
        Column("Its driver’s share", "%"),
    ]
    rows = [
        [name, Quantity(ohms[name]), Quantity(share), Quantity(of_driver[int(name[0]) - 1])]
        for name, share in shown.share_percent().items()
    ]
    if power is not None:
        columns += [Column("Power", "W"), Column("Current", "A")]
        carried = zip(
            _coil_watts(shown, power).values(), _coil_amperes(shown, power).values(), strict=True
        )
        for row, (watts, amperes) in zip(rows, carried, strict=True):
            row += [Quantity(watts), Quantity(amperes)]
    of = f" of {quantity(power, 'W')}" if power is not None else ""
    return Table(
        name="coils",
        caption=f"What each coil carries{of} in {shown.circuit.notation}",
        columns=tuple(columns),
        rows=tuple(tuple(row) for row in rows),
    )


def _joins_table(shown: Arrangement, given: Mapping[str, Any]) -> Table:
    words = join_words(joined_nets(shown.circuit, is_reversed=given["reversed"]))
    return Table(
        name="joins",
        caption="The joins, in the order in which to make them",
        columns=(Column("Step"), Column("Join")),
        rows=tuple((at, text) for at, text in enumerate(words, start=1)),
    )


def _arrangement_table(arrangements: list[Arrangement], total: int, limit_ohm: float) -> Table:
    listed = arrangements[:SHOWN_ROWS]
    rows = tuple(
        (
            one.circuit.notation,
            Quantity(one.load_ohm),
            "yes" if one.even else "no",
            "yes" if fits(one, limit_ohm) else "no",
            one.joints,
        )
        for one in listed
    )
    rest = total - len(listed)
    return Table(
        name="circuits",
        caption="The circuits, best first",
        columns=(
            Column("Circuit", code=True),
            Column("Load", "Ω"),
            Column("Even"),
            Column("Fits"),
            Column("Joints"),
        ),
        rows=rows,
        marked=0 if fits(arrangements[0], limit_ohm) else None,
        note="+ joins in series, | joins in parallel; 1a is coil a of driver 1, n1 the first join."
        + (f" {rest} more exist; the data holds as many as the limit asks for." if rest else ""),
    )


def _bridged_caution(shown: Arrangement, given: Mapping[str, Any]) -> tuple[str, ...]:
    if not given["bridged"]:
        return ()
    return (
        f"Bridged, each channel sees {quantity(shown.load_ohm / 2, 'Ω', 3)}: the plate must permit "
        "that. The limit to give here is the lowest bridged load, twice a channel’s lowest.",
    )


def _uneven_caution(shown: Arrangement) -> tuple[str, ...]:
    drivers = shown.driver_share_percent()
    if shown.even and max(drivers) - min(drivers) < 1e-9:
        return ()
    if shown.even:
        most_of = drivers.index(max(drivers))
        return (
            f"Unlike subs share unequally: sub {most_of + 1} takes "
            f"{quantity(max(drivers), '%', 3)} of the power. Its rating limits the whole.",
        )
    shares = shown.share_percent()
    most = max(shares, key=lambda name: shares[name])
    return (
        f"The coils share unevenly: coil {most} takes {quantity(shares[most], '%', 3)} of the "
        "power and will overheat first. Take other drivers, or another amplifier.",
    )


def _steps(shown: Arrangement, survey: Survey, limit_ohm: float) -> tuple[str, ...]:
    low, high = meter_range(shown.circuit.load)
    load = quantity(shown.load_ohm, "Ω", 3)
    return (
        f"Every series–parallel circuit of the coils is made, {survey.networks_total} in all; "
        "circuits that differ only in which of two like drivers, or of a driver’s like coils, "
        "stands where count once.",
        f"They come to {len(survey.distinct_loads)} different loads, from "
        f"{quantity(float(survey.distinct_loads[0].load), 'Ω', 3)} to "
        f"{quantity(float(survey.distinct_loads[-1].load), 'Ω', 3)}.",
        f"Fitting ({quantity(limit_ohm, 'Ω')} or more) and even ones come first, then the lowest "
        "load, then the fewest joints.",
        f"DC reading of {load}: {METER_LOW} × {load} = {quantity(low, 'Ω', 3)} to {METER_HIGH} × "
        f"{load} = {quantity(high, 'Ω', 3)}, without leads.",
    )


COIL_WIRING = Calculator(
    name="coil-wiring",
    title="Coil wiring",
    question="How do I wire these woofers and their coils to a load that the output can take?",
    fields=(
        DRIVERS,
        COILS_PER_DRIVER,
        COIL_OHM,
        Number(
            key="min_load_ohm",
            label="Lowest load of the output",
            default="2",
            low=0.25,
            high=64,
            presets=(1, 2, 4),
            hint="As the output is used: for a bridged pair, its lowest bridged load.",
        ),
        YesNo(key="bridged", label="The output is a bridged pair", default="no"),
        YesNo(
            key="reversed",
            label="Joined reversed",
            default="no",
            more=True,
            hint="Yes: the amplifier’s + goes to the speakers’ −, as the crossovers ask.",
        ),
        Number(
            key="power_w",
            label="Power of the output into this load",
            default="",
            low=1,
            high=20000,
            optional=True,
            hint="For power and current of each coil.",
        ),
        Whole(
            key="limit",
            label="Circuits to list in the data",
            default="50",
            low=1,
            high=1000,
            more=True,
        ),
    ),
    groups=(
        ("The drivers", ("drivers", "coils_per_driver", "coil_ohm")),
        ("The output", ("min_load_ohm", "bridged", "power_w", "limit", "reversed")),
    ),
    compute=coil_wiring,
    check=check_drivers,
    heaviest={"drivers": "4"},
)
