"""What the answer of `coil-wiring` says."""

from calc.answers.calculator import Calculator
from calc.answers.cautions import SWITCH_OFF
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Cell, Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.coils.coil_wiring.inputs import FORM, Inputs
from calc.coils.coil_wiring.solve import Result, fits, solve
from calc.coils.drawings import circuit_drawing, join_words, terminal_drawing
from calc.coils.survey import Arrangement
from calc.coils.words import SOURCES, share_words, wiring_words
from calc.parts.drivers import coils_are_not_too_many
from calc.physics.coils import METER_HIGH, METER_LOW, meter_range

SHOWN_ROWS = 12
CAUTIONS = (
    SWITCH_OFF,
    "A wrong connection can destroy the amplifier’s output stage: measure across the two leads "
    "before you connect them to it.",
    "A sub with one coil left out loses part of its motor, and the coils in use can burn out. If "
    "the maker allows it, insulate the open coil and count on half the RMS rating.",
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    shown = result.shown
    return Sheet(
        sentence=_sentence(inputs, result),
        notation=shown.circuit.notation,
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(inputs, result),
        drawings=(
            circuit_drawing(shown.circuit, is_reversed=inputs.reversed),
            terminal_drawing(inputs.drivers.each, shown.circuit, is_reversed=inputs.reversed),
        ),
        tables=(
            _coil_table(shown, inputs.power_w),
            _joins_table(result),
            _arrangement_table(inputs, result),
        ),
        cautions=(*CAUTIONS, *_bridged_caution(inputs, shown), *_uneven_caution(shown)),
        steps=_steps(inputs, result),
        unknowns=(
            "How a sub’s impedance changes with frequency and enclosure: every load is nominal.",
            "Whether the maker allows one coil alone, or one coil reversed.",
        ),
        sources=SOURCES,
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "networks_total": result.survey.networks_total,
        "distinct_loads": [
            {"load_ohm": float(count.load), "networks": count.networks, "even": count.even}
            for count in result.survey.distinct_loads
        ],
        "arrangements": [
            _arrangement_data(arrangement, inputs, result) for arrangement in result.arrangements
        ],
        "best": None if result.best is None else 0,
    }


def _arrangement_data(
    arrangement: Arrangement, inputs: Inputs, result: Result
) -> dict[str, object]:
    shares = arrangement.share_percent()
    low, high = meter_range(arrangement.circuit.load)
    watts = amperes = None
    if inputs.power_w is not None:
        watts = list(arrangement.coil_power_w(inputs.power_w).values())
        amperes = list(arrangement.coil_current_a(inputs.power_w).values())
    return {
        "notation": arrangement.circuit.notation,
        "load_ohm": arrangement.load_ohm,
        "even": arrangement.even,
        "fits": fits(arrangement, inputs.min_load_ohm),
        "joints": arrangement.joints,
        "share_percent": list(shares.values()),
        "driver_share_percent": arrangement.driver_share_percent(),
        "coil_power_w": watts,
        "coil_current_a": amperes,
        "channel_load_ohm": arrangement.load_ohm / 2 if inputs.bridged else None,
        "meter_low_ohm": low,
        "meter_high_ohm": high,
        "nets": result.nets_of(arrangement),
    }


def _sentence(inputs: Inputs, result: Result) -> str:
    best, shown = result.best, result.shown
    if best is None:
        most = quantity(shown.load_ohm, "Ω", 3)
        return (
            f"These coils cannot make {_limit(inputs)}; the most is {most}. Use an amplifier that "
            f"is stable to {most}, or a different sub."
        )
    low, high = meter_range(best.circuit.load)
    how = wiring_words(best.circuit) or f"them as {best.circuit.notation}"
    even = "" if best.even else " The coils then get different powers."
    return (
        f"Wire {how}: {quantity(shown.load_ohm, 'Ω', 3)}.{even} Before you connect it, a meter "
        f"should read {rounded(low, 3)} to {quantity(high, 'Ω', 3)}."
    )


def _limit(inputs: Inputs) -> str:
    return quantity(inputs.min_load_ohm, "Ω")


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the output runs the best wiring, and whether its coils share alike."""
    best = result.best
    if best is None:
        most = quantity(result.shown.load_ohm, "Ω", 3)
        return Verdict(
            "unsuitable",
            f"These coils cannot make {_limit(inputs)}. Use an amplifier that is stable to {most}, "
            "or a different sub.",
        )
    load, shares = quantity(best.load_ohm, "Ω", 3), share_words(best)
    if not best.even:
        return Verdict(
            "unsuitable",
            f"{load} is safe on an output that takes {_limit(inputs)}, but identical coils get "
            f"different powers: {shares}. Use a different sub, or an amplifier that takes less.",
        )
    joint = ";" if " and " in shares else ", and"
    return Verdict(
        "suitable",
        f"{load} is safe on an output that takes {_limit(inputs)}{joint} {shares}.",
    )


def _figures(inputs: Inputs, result: Result) -> tuple[Figure, ...]:
    shown = result.shown
    low, high = meter_range(shown.circuit.load)
    figures = [
        Figure("Load", Quantity(shown.load_ohm, "Ω")),
        Figure("Meter reading, without its leads", Span(low, high, "Ω")),
        Figure("Connections", Quantity(shown.joints)),
        Figure("Wiring options", Quantity(result.survey.networks_total)),
    ]
    if inputs.bridged:
        figures.insert(1, Figure("Each channel sees", Quantity(shown.load_ohm / 2, "Ω")))
    return tuple(figures)


def _coil_table(shown: Arrangement, power: float | None) -> Table:
    of_driver = shown.driver_share_percent()
    ohms = {coil.name: float(coil.load) for coil in shown.circuit.coils()}
    columns = [
        Column("Coil", code=True),
        Column("Impedance", "Ω"),
        Column("Share of power", "%"),
        Column("Its sub’s share", "%"),
    ]
    rows: list[list[Cell]] = [
        [name, Quantity(ohms[name]), Quantity(share), Quantity(of_driver[int(name[0]) - 1])]
        for name, share in shown.share_percent().items()
    ]
    if power is not None:
        columns += [Column("Power", "W"), Column("Current", "A")]
        carried = zip(
            shown.coil_power_w(power).values(), shown.coil_current_a(power).values(), strict=True
        )
        for row, (watts, amperes) in zip(rows, carried, strict=True):
            row += [Quantity(watts), Quantity(amperes)]
    of = f" of {quantity(power, 'W')}" if power is not None else ""
    return Table(
        name="coils",
        caption=f"Power in each coil{of}",
        columns=tuple(columns),
        rows=tuple(tuple(row) for row in rows),
    )


def _joins_table(result: Result) -> Table:
    words = join_words(result.nets)
    return Table(
        name="joins",
        caption="The connections, in the order to make them",
        columns=(Column("Step"), Column("Connection")),
        rows=tuple((at, text) for at, text in enumerate(words, start=1)),
    )


def _arrangement_table(inputs: Inputs, result: Result) -> Table:
    listed = result.arrangements[:SHOWN_ROWS]
    rows = tuple(
        (
            arrangement.circuit.notation,
            Quantity(arrangement.load_ohm),
            "yes" if arrangement.even else "no",
            "yes" if fits(arrangement, inputs.min_load_ohm) else "no",
            arrangement.joints,
        )
        for arrangement in listed
    )
    rest = result.survey.networks_total - len(listed)
    return Table(
        name="circuits",
        caption="Wiring options, best first",
        columns=(
            Column("Wiring", code=True),
            Column("Load", "Ω"),
            Column("Balanced"),
            Column("Load allowed"),
            Column("Connections"),
        ),
        rows=rows,
        marked=None if result.best is None else 0,
        note="+ is series, | is parallel; 1a is coil a of sub 1. Balanced: no coil of a sub takes "
        "more power than another, and no sub more than one like it."
        + (f" There are {rest} more; set how many the data lists." if rest else ""),
    )


def _bridged_caution(inputs: Inputs, shown: Arrangement) -> tuple[str, ...]:
    if not inputs.bridged:
        return ()
    return (
        f"Bridged, each channel sees {quantity(shown.load_ohm / 2, 'Ω', 3)}. Below the channel’s "
        "minimum it overheats: enter the bridged minimum here, twice a channel’s.",
    )


def _uneven_caution(shown: Arrangement) -> tuple[str, ...]:
    drivers = shown.driver_share_percent()
    if shown.even and max(drivers) - min(drivers) < 1e-9:
        return ()
    if shown.even:
        most_of = drivers.index(max(drivers))
        return (
            f"Different subs share unequally: sub {most_of + 1} takes "
            f"{quantity(max(drivers), '%', 3)} of the power and overheats first. Set the gain for "
            "its RMS rating.",
        )
    shares = shown.share_percent()
    most = max(shares, key=lambda name: shares[name])
    return (
        f"The coils share unequally: coil {most} takes {quantity(shares[most], '%', 3)} of the "
        "power and overheats first. Use different subs, or another amplifier.",
    )


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    shown, survey = result.shown, result.survey
    low, high = meter_range(shown.circuit.load)
    load = quantity(shown.load_ohm, "Ω", 3)
    lowest, highest = survey.load_range_ohm
    return (
        f"We work out every way to wire the coils in series and parallel, "
        f"{survey.networks_total} in all. Swapping identical subs, or identical coils of a sub, "
        "makes no new one.",
        f"They make {survey.loads_total} different loads, from {quantity(lowest, 'Ω', 3)} to "
        f"{quantity(highest, 'Ω', 3)}.",
        f"First come those with {_limit(inputs)} or more that are balanced; then the lowest load, "
        "then the fewest connections.",
        f"Meter reading for {load}: {METER_LOW} × {load} = {quantity(low, 'Ω', 3)} to "
        f"{METER_HIGH} × {load} = {quantity(high, 'Ω', 3)}, without the meter’s leads.",
    )


COIL_WIRING = Calculator(
    name="coil-wiring",
    title="Voice coils: series and parallel",
    question="How do I wire these voice coils, and what load does the amplifier see?",
    inputs=Inputs,
    groups=FORM,
    checks=(coils_are_not_too_many,),
    solve=solve,
    judge=judge,
    present=present,
    heaviest={"drivers": "4"},
)
