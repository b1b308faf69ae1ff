"""What the answer of `bay-heat` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Cell, Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.physics.air import FILM_HIGH, FILM_LOW
from calc.physics.amplifier_draw import DUTIES
from calc.placement.bay_heat.drawing import section
from calc.placement.bay_heat.inputs import DUTY_WORDS, FORM, Inputs
from calc.placement.bay_heat.solve import AB_EFFICIENCY, Result, solve

_PARKED_C = 60.0
_FAR_K = 100.0  # a rise beyond which natural convection is no longer what it is here


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    rises = result.rises
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(result),
        drawings=(
            section(
                heat_w=result.heat.heat_w,
                rise_k=rises.likely_k if rises else None,
                cabin_c=inputs.cabin_c,
                area_m2=inputs.area_m2,
                is_closed=inputs.closed,
            ),
        ),
        tables=(_duties_table(inputs, result),),
        cautions=(
            "The case is hotter than the air around it, and may burn fingers. Nothing that melts "
            "or burns lies on it or against it: no carpet, no clothes, no cardboard.",
            f"In the sun a parked cabin may start at {quantity(_PARKED_C, '°C')} (common practice, "
            "no source): the rise comes on top of that"
            + (f", {quantity(_PARKED_C + rises.likely_k, '°C', 3)} in all." if rises else "."),
            "An amplifier that switches off when it is hot protects itself. Give it air; do not "
            "bypass its protection.",
        ),
        steps=_steps(inputs, result),
        unknowns=_unknowns(inputs),
        sources=(
            "Heat: what goes in less what comes out as sound, P·(1/η − 1).",
            "h = 5 to 10 W/m²K for natural convection and radiation from painted or cloth "
            "surfaces: heat-transfer handbooks (from memory). Bare metal and foil shed less.",
            "Efficiencies, and duties after IEC 60065 / IEC 62368-1: from memory.",
        ),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    rises = result.rises
    return {
        "heat_w": result.heat.heat_w,
        "heat_ab_w": result.heat.bound_w,
        "rise_c": rises.likely_k if rises else None,
        "rise_low_c": rises.low_k if rises else None,
        "rise_high_c": rises.high_k if rises else None,
        "bay_c": inputs.cabin_c + rises.likely_k if rises else None,
        "parked_c": _PARKED_C + rises.likely_k if rises else None,
        "area_needed_m2": result.area_needed_m2,
        "duties": [
            {
                "duty": at.duty,
                "heat_w": at.heat.heat_w,
                "heat_ab_w": at.heat.bound_w,
                "rise_c": at.rise_k if inputs.closed else None,
            }
            for at in result.duties
        ],
    }


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the air stays below what the amplifier's manual permits."""
    limit, cabin, rises = inputs.limit_c, inputs.cabin_c, result.rises
    if limit is not None and cabin > limit:
        warm = f"the cabin alone has {quantity(cabin, '°C')}"
        return Verdict("unsuitable", f"{warm}, and your limit is {quantity(limit, '°C')}")
    if rises is None:
        return Verdict("not known", "how much air an open bay exchanges is missing")
    if limit is None:
        return Verdict(
            "not known", "the highest air temperature by the amplifier’s manual is missing"
        )
    yours = f"your limit is {quantity(limit, '°C')}"
    if cabin + rises.low_k > limit:
        least = quantity(cabin + rises.low_k, "°C", 3)
        return Verdict("unsuitable", f"by this estimate at least {least}, and {yours}")
    most = quantity(cabin + result.worst_rise_k, "°C", 3)
    if cabin + result.worst_rise_k > limit:
        is_open = inputs.amplifier_class is None
        gap = "the class of the amplifiers" if is_open else "how well this bay sheds heat"
        return Verdict("not known", f"it may reach {most}, and {yours}: {gap} is missing")
    return Verdict(
        "suitable",
        f"by this estimate at most {most} in a cabin of {quantity(cabin, '°C')}; {yours}",
    )


def _figures(result: Result) -> tuple[Figure, ...]:
    heat = Figure("Heat", Quantity(result.heat.heat_w, "W"))
    rises = result.rises
    if rises is None:
        return (heat,)
    return (
        heat,
        Figure("Warmer than the cabin by", Quantity(rises.likely_k, "K"), 1),
        Figure("Between", Span(round(rises.low_k, 1), round(rises.high_k, 1), "K")),
    )


def _unknowns(inputs: Inputs) -> tuple[str, ...]:
    unknowns = [
        "How hot the case and the parts inside it get: hotter than the air.",
        "What the bay is made of: the wall between the two films of air is left out, and "
        "carpet, foam or a second skin makes it warmer.",
        "Other heat: a heater duct, the exhaust under the floor, the sun on a panel.",
        "How long it takes: this is the end, after hours of the same programme.",
    ]
    if not inputs.closed:
        unknowns.append("How much air an open bay exchanges.")
    if inputs.idle_w is None:
        unknowns.append(
            "What they draw without a signal: it comes on top, and at low level it can be the "
            "larger part."
        )
    return tuple(unknowns)


def _sentence(inputs: Inputs, result: Result) -> str:
    heat, bound, rises = result.heat.heat_w, result.heat.bound_w, result.rises
    start = f"With {DUTY_WORDS[inputs.duty]}, the amplifiers give off {quantity(heat, 'W', 3)}"
    if bound is not None and bound > heat * 1.001:
        start += f", and up to {quantity(bound, 'W', 3)} if they are class AB"
    if rises is None:
        return f"{start}; how warm an open bay gets is not estimated."
    if rises.likely_k > _FAR_K:
        return f"{start}: far more than a closed bay of this size can shed."
    rise = f"about {quantity(rises.likely_k, 'K', 2)}"
    if bound is not None and bound > heat * 1.001:
        rise += f", or {quantity(rises.likely_k * bound / heat, 'K', 2)} with class AB,"
    return (
        f"{start}; the air in the closed bay ends {rise} warmer than the cabin: "
        f"{quantity(inputs.cabin_c + rises.likely_k, '°C', 3)} in a cabin of "
        f"{quantity(inputs.cabin_c, '°C')}."
    )


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    share, efficiency = DUTIES[inputs.duty], inputs.efficiency
    heat, bound, rises = result.heat.heat_w, result.heat.bound_w, result.rises
    power = quantity(inputs.power_w, "W")
    if inputs.amplifier_class == "ab":
        formula = f"{power} × (√{rounded(share)} ÷ {rounded(efficiency)} − {rounded(share)})"
    else:
        formula = f"{power} × {rounded(share)} × (1 ÷ {rounded(efficiency)} − 1)"
    steps = [f"Heat: {formula} = {quantity(heat, 'W', 3)}."]
    if bound is not None:
        worst = min(efficiency, AB_EFFICIENCY)
        steps.append(
            f"The class is not known: a class AB amplifier of {rounded(100 * worst)} % is the "
            f"bound, {power} × (√{rounded(share)} ÷ {rounded(worst)} − {rounded(share)}), at most "
            f"{quantity(bound, 'W', 3)}."
        )
    if rises:
        through = inputs.h / 2
        steps += [
            f"Two films of air in series: U = h ÷ 2 = {rounded(through)} W/m²K.",
            f"Rise: {quantity(heat, 'W', 3)} ÷ ({rounded(through)} W/m²K × "
            f"{quantity(inputs.area_m2, 'm²')}) = {quantity(rises.likely_k, 'K', 3)}; with h from "
            f"{rounded(FILM_HIGH)} down to {rounded(FILM_LOW)}: {rounded(rises.low_k, 3)} to "
            f"{quantity(rises.high_k, 'K', 3)}.",
        ]
    return tuple(steps)


def _duties_table(inputs: Inputs, result: Result) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for at in result.duties:
        bound = at.heat.bound_w
        warm: tuple[Cell, Cell] = ("not estimated", "not estimated")
        if inputs.closed:
            warm = (Quantity(at.rise_k), Quantity(inputs.cabin_c + at.rise_k))
        rows.append(
            (
                DUTY_WORDS[at.duty],
                Quantity(at.heat.heat_w),
                *warm,
                *((Quantity(bound),) if bound is not None else ()),
            )
        )
    has_bound = result.heat.bound_w is not None
    return Table(
        name="duties",
        caption="Heat at each duty",
        columns=(
            Column("Duty", wide=True),
            Column("Heat", "W", decimals=1),
            Column("Warmer by", "K", decimals=1),
            Column("Bay", "°C", decimals=1),
            *((Column("Heat if class AB", "W", decimals=1),) if has_bound else ()),
        ),
        rows=tuple(rows),
        marked=list(DUTY_WORDS).index(inputs.duty),
    )


BAY_HEAT = Calculator(
    name="bay-heat",
    title="Does it breathe",
    question="How warm does it get in there?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)
