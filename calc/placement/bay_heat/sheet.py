"""What the answer of `bay-heat` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Cell, Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.physics.air import FILM_HIGH, FILM_LOW
from calc.physics.amplifier_draw import DUTIES, Duty
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
            "The case is hotter than the air around it and can burn your fingers. Keep carpet, "
            "clothes and cardboard off it.",
            f"In the sun, a parked cabin can start at {quantity(_PARKED_C, '°C')} or more. The "
            "rise comes on top of that"
            + (f": {_degrees(_PARKED_C + rises.likely_k)} in total." if rises else "."),
            "An amplifier that shuts down when hot is protecting itself. Give it air; never bypass "
            "the protection.",
        ),
        steps=_steps(inputs, result),
        unknowns=_unknowns(inputs),
        sources=("efficiency", "loud-music", "normal-listening", "air-film", "parked-cabin"),
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
    """Say whether the air stays below the limit in the amplifier's manual."""
    limit, cabin, rises = inputs.limit_c, inputs.cabin_c, result.rises
    if limit is not None and cabin > limit:
        return Verdict(
            "unsuitable",
            f"The cabin alone is at {quantity(cabin, '°C')}; your limit is "
            f"{quantity(limit, '°C')}. Choose a cooler place.",
        )
    if rises is None:
        return Verdict(
            "not known",
            "How much air an open space exchanges cannot be worked out. Measure the air beside the "
            "amplifier after an hour of loud music.",
        )
    if limit is None:
        return Verdict(
            "not known", "Enter the highest air temperature from the amplifier’s manual."
        )
    yours = f"your limit is {quantity(limit, '°C')}"
    if cabin + rises.low_k > limit:
        least = _degrees(cabin + rises.low_k, limit)
        return Verdict(
            "unsuitable",
            f"At least {least}; {yours}. Open a side, fit a fan with an inlet and an outlet, or "
            "choose another place.",
        )
    most = _degrees(cabin + result.worst_rise_k, limit)
    if cabin + result.worst_rise_k > limit:
        ask = (
            "Ask for the class of the amplifier."
            if inputs.amplifier_class is None
            else "Measure it in the vehicle, or open a side."
        )
        return Verdict("not known", f"It could reach {most}; {yours}. {ask}")
    return Verdict("suitable", f"At most {most}; {yours}.")


def _degrees(value_c: float, limit_c: float | None = None) -> str:
    """Write a temperature in whole degrees, finer where these would be those of the limit."""
    whole = float(round(value_c))
    if limit_c is not None and (whole > limit_c) != (value_c > limit_c):
        return quantity(value_c, "°C", 3)
    return quantity(whole, "°C")


def _figures(result: Result) -> tuple[Figure, ...]:
    heat = Figure("Heat", Quantity(result.heat.heat_w, "W"))
    rises = result.rises
    if rises is None:
        return (heat,)
    return (
        heat,
        Figure("Warmer than the cabin by", Quantity(rises.likely_k, "°C"), 1),
        Figure("Best and worst case", Span(round(rises.low_k, 1), round(rises.high_k, 1), "°C")),
    )


def _unknowns(inputs: Inputs) -> tuple[str, ...]:
    unknowns = [
        "How hot the case and the parts inside it get: hotter than the air.",
        "What the space is made of: the wall itself is left out, and carpet, foam or a second skin "
        "makes it warmer.",
        "Other heat: a heater duct, the exhaust under the floor, the sun on a panel.",
        "How long it takes: this is the temperature after hours of the same music.",
    ]
    if not inputs.closed:
        unknowns.append("How much air an open space exchanges.")
    if inputs.idle_w is None:
        unknowns.append(
            "The idle current: it comes on top, and at low volume it can be the larger part."
        )
    return tuple(unknowns)


_WHEN: dict[Duty, str] = {
    "full": "On a test tone",
    "heavy": "On loud music",
    "normal": "With normal listening",
}


def _sentence(inputs: Inputs, result: Result) -> str:
    heat, bound, rises = result.heat.heat_w, result.heat.bound_w, result.rises
    start = f"{_WHEN[inputs.duty]} it gives off {_watts(heat)}"
    is_open = bound is not None and bound > heat * 1.001
    if is_open and bound is not None:
        start += f" (up to {_watts(bound)} if it is class AB)"
    if rises is None:
        return f"{start}. How warm an open space gets cannot be estimated."
    if rises.likely_k > _FAR_K:
        return f"{start}: far more than a closed space of this size can get rid of."
    rise = _degrees(rises.likely_k)
    if is_open and bound is not None:
        rise += f" (class AB: {_degrees(rises.likely_k * bound / heat)})"
    return (
        f"{start} and warms this closed space by about {rise}, to "
        f"{_degrees(inputs.cabin_c + rises.likely_k)} in a {quantity(inputs.cabin_c, '°C')} cabin."
    )


def _watts(heat_w: float) -> str:
    return quantity(float(round(heat_w)) if heat_w >= 10 else heat_w, "W", 3)


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
            "The class is not known. The worst case is class AB at "
            f"{rounded(100 * worst)} %: {power} × (√{rounded(share)} ÷ {rounded(worst)} − "
            f"{rounded(share)}), at most {quantity(bound, 'W', 3)}."
        )
    if rises:
        through = inputs.h / 2
        steps += [
            "Heat leaves through two air films, one inside and one outside: U = h ÷ 2 = "
            f"{rounded(through)} W/m²K. We take 7 W/m²K for h unless you enter another.",
            f"Rise: {quantity(heat, 'W', 3)} ÷ ({rounded(through)} W/m²K × "
            f"{quantity(inputs.area_m2, 'm²')}) = {quantity(rises.likely_k, '°C', 3)}; with h from "
            f"{rounded(FILM_HIGH)} down to {rounded(FILM_LOW)}: {rounded(rises.low_k, 3)} to "
            f"{quantity(rises.high_k, '°C', 3)}.",
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
        caption="Heat by how hard it is played",
        columns=(
            Column("Played", wide=True),
            Column("Heat", "W", decimals=1),
            Column("Warmer by", "°C", decimals=1),
            Column("Air in the space", "°C", decimals=1),
            *((Column("Heat if class AB", "W", decimals=1),) if has_bound else ()),
        ),
        rows=tuple(rows),
        marked=list(DUTY_WORDS).index(inputs.duty),
    )


BAY_HEAT = Calculator(
    name="bay-heat",
    title="Will it stay cool?",
    question="How warm does the space around the amplifier get?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)
