"""The calculator `bay-heat`: how warm a closed bay gets."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.drawing import THIN, WIDEST, box, canvas, label, number, wire
from calc.answers.figures import quantity, rounded
from calc.answers.markup import element
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.inputs.fields import Choice, Number, YesNo
from calc.physics.air import FILM_HIGH, FILM_LOW, air_rise, area_for
from calc.physics.amplifier_draw import DUTIES, amplifier_heat, class_ab_heat
from calc.placement.fields import INVENTED

_PARKED_C = 60.0
_AB_EFFICIENCY = 0.5  # from memory: the lower end of 50 to 60 %
_FAR_K = 100.0  # a rise beyond which natural convection is no longer what it is here
DUTY_WORDS = {
    "full": "full power, a steady tone",
    "heavy": "heavy programme, a third",
    "normal": "normal programme, an eighth",
}


def heats(given: Mapping[str, Any], duty: str) -> tuple[float, float | None]:
    """Return the heat at a duty [W], and the class AB figure where the class is not known."""
    figures: dict[str, Any] = {
        "power_w": given["power_w"],
        "efficiency": given["efficiency_percent"] / 100,
        "duty": duty,
    }
    if given["amplifier_class"] == "ab":
        return max(class_ab_heat(**figures), given["idle_w"] or 0.0), None
    steady = amplifier_heat(**figures)
    idle = given["idle_w"] or 0.0
    if given["amplifier_class"]:
        return steady + idle, None
    # Not known: class AB at the lower end of its efficiencies is the bound.
    efficiency = min(figures["efficiency"], _AB_EFFICIENCY)
    bound = max(class_ab_heat(**{**figures, "efficiency": efficiency}), idle)
    return steady + idle, max(bound, steady + idle)


def bay_heat(given: Mapping[str, Any]) -> Sheet:
    """Compute `bay-heat`."""
    heat, bound = heats(given, given["duty"])
    lowest = min(FILM_LOW, given["h"])
    rises = None
    if given["closed"]:
        rises = tuple(
            air_rise(heat_w=heat, area_m2=given["area_m2"], film=film)
            for film in (max(FILM_HIGH, given["h"]), given["h"], lowest)
        )
    most = bound if bound is not None else heat
    worst = air_rise(heat_w=most, area_m2=given["area_m2"], film=lowest)
    cabin, limit = given["cabin_c"], given["limit_c"]
    needed = None
    if rises and limit is not None and limit > cabin:
        needed = area_for(heat_w=heat, rise_k=limit - cabin, film=given["h"])
    return Sheet(
        sentence=_sentence(given, heat, bound, rises),
        verdict=_verdict(given, rises, worst),
        results={
            "heat_w": heat,
            "heat_ab_w": bound,
            "rise_c": rises[1] if rises else None,
            "rise_low_c": rises[0] if rises else None,
            "rise_high_c": rises[2] if rises else None,
            "bay_c": cabin + rises[1] if rises else None,
            "parked_c": _PARKED_C + rises[1] if rises else None,
            "area_needed_m2": needed,
            "duties": [_duty_result(given, duty) for duty in DUTIES],
        },
        figures=(
            Figure("Heat", Quantity(heat, "W")),
            *(
                (
                    Figure("Warmer than the cabin by", Quantity(rises[1], "K"), 1),
                    Figure("Between", Span(round(rises[0], 1), round(rises[2], 1), "K")),
                )
                if rises
                else ()
            ),
        ),
        drawings=(_section(given, heat, rises),),
        tables=(_duties_table(given, rises is not None),),
        cautions=(
            "The case is hotter than the air around it, and may burn fingers. Nothing that melts "
            "or burns lies on it or against it: no carpet, no clothes, no cardboard.",
            f"In the sun a parked cabin may start at {quantity(_PARKED_C, '°C')} (common practice, "
            "no source): the rise comes on top of that"
            + (f", {quantity(_PARKED_C + rises[1], '°C', 3)} in all." if rises else "."),
            "An amplifier that switches off when it is hot protects itself. Give it air; do not "
            "bypass its protection.",
        ),
        steps=_steps(given, heat, bound, rises),
        unknowns=(
            "How hot the case and the parts inside it get: hotter than the air.",
            "What the bay is made of: the wall between the two films of air is left out, and "
            "carpet, foam or a second skin makes it warmer.",
            "Other heat: a heater duct, the exhaust under the floor, the sun on a panel.",
            "How long it takes: this is the end, after hours of the same programme.",
            *(() if given["closed"] else ("How much air an open bay exchanges.",)),
            *(
                (
                    "What they draw without a signal: it comes on top, and at low level it can be "
                    "the larger part.",
                )
                if given["idle_w"] is None
                else ()
            ),
        ),
        sources=(
            "Heat: what goes in less what comes out as sound, P·(1/η − 1).",
            "h = 5 to 10 W/m²K for natural convection and radiation from painted or cloth "
            "surfaces: heat-transfer handbooks (from memory). Bare metal and foil shed less.",
            "Efficiencies, and duties after IEC 60065 / IEC 62368-1: from memory.",
        ),
    )


def _duty_result(given: Mapping[str, Any], duty: str) -> dict[str, Any]:
    heat, bound = heats(given, duty)
    rise = air_rise(heat_w=heat, area_m2=given["area_m2"], film=given["h"])
    return {
        "duty": duty,
        "heat_w": heat,
        "heat_ab_w": bound,
        "rise_c": rise if given["closed"] else None,
    }


def _sentence(
    given: Mapping[str, Any], heat: float, bound: float | None, rises: tuple[float, ...] | None
) -> str:
    start = f"With {DUTY_WORDS[given['duty']]}, the amplifiers give off {quantity(heat, 'W', 3)}"
    if bound is not None and bound > heat * 1.001:
        start += f", and up to {quantity(bound, 'W', 3)} if they are class AB"
    if rises is None:
        return f"{start}; how warm an open bay gets is not estimated."
    if rises[1] > _FAR_K:
        return f"{start}: far more than a closed bay of this size can shed."
    rise = f"about {quantity(rises[1], 'K', 2)}"
    if bound is not None and bound > heat * 1.001:
        rise += f", or {quantity(rises[1] * bound / heat, 'K', 2)} with class AB,"
    return (
        f"{start}; the air in the closed bay ends {rise} warmer than the cabin: "
        f"{quantity(given['cabin_c'] + rises[1], '°C', 3)} in a cabin of "
        f"{quantity(given['cabin_c'], '°C')}."
    )


def _verdict(given: Mapping[str, Any], rises: tuple[float, ...] | None, worst: float) -> Verdict:
    limit, cabin = given["limit_c"], given["cabin_c"]
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
    if cabin + rises[0] > limit:
        least = quantity(cabin + rises[0], "°C", 3)
        return Verdict("unsuitable", f"by this estimate at least {least}, and {yours}")
    most = quantity(cabin + worst, "°C", 3)
    if cabin + worst > limit:
        is_open = given["amplifier_class"] is None
        gap = "the class of the amplifiers" if is_open else "how well this bay sheds heat"
        return Verdict("not known", f"it may reach {most}, and {yours}: {gap} is missing")
    return Verdict(
        "suitable",
        f"by this estimate at most {most} in a cabin of {quantity(cabin, '°C')}; {yours}",
    )


def _steps(
    given: Mapping[str, Any],
    heat: float,
    bound: float | None,
    rises: tuple[float, ...] | None,
) -> tuple[str, ...]:
    share, efficiency = DUTIES[given["duty"]], given["efficiency_percent"] / 100
    power = quantity(given["power_w"], "W")
    if given["amplifier_class"] == "ab":
        formula = f"{power} × (√{rounded(share)} ÷ {rounded(efficiency)} − {rounded(share)})"
    else:
        formula = f"{power} × {rounded(share)} × (1 ÷ {rounded(efficiency)} − 1)"
    found = [f"Heat: {formula} = {quantity(heat, 'W', 3)}."]
    if bound is not None:
        least = rounded(100 * min(efficiency, _AB_EFFICIENCY))
        found.append(
            f"The class is not known: a class AB amplifier of {least} % is the bound, {power} × "
            f"(√{rounded(share)} ÷ {rounded(min(efficiency, _AB_EFFICIENCY))} − {rounded(share)}), "
            f"at most {quantity(bound, 'W', 3)}."
        )
    if rises:
        through = given["h"] / 2
        found += [
            f"Two films of air in series: U = h ÷ 2 = {rounded(through)} W/m²K.",
            f"Rise: {quantity(heat, 'W', 3)} ÷ ({rounded(through)} W/m²K × "
            f"{quantity(given['area_m2'], 'm²')}) = {quantity(rises[1], 'K', 3)}; with h from "
            f"{rounded(FILM_HIGH)} down to {rounded(FILM_LOW)}: {rounded(rises[0], 3)} to "
            f"{quantity(rises[2], 'K', 3)}.",
        ]
    return tuple(found)


def _duties_table(given: Mapping[str, Any], closed: bool) -> Table:
    rows = []
    for duty, words in DUTY_WORDS.items():
        heat, bound = heats(given, duty)
        rise = air_rise(heat_w=heat, area_m2=given["area_m2"], film=given["h"])
        rows.append(
            (
                words,
                Quantity(heat),
                Quantity(rise) if closed else "not estimated",
                Quantity(given["cabin_c"] + rise) if closed else "not estimated",
                *((Quantity(bound),) if bound is not None else ()),
            )
        )
    has_bound = heats(given, "full")[1] is not None
    return Table(
        caption="Heat at each duty",
        columns=(
            Column("Duty", wide=True),
            Column("Heat", "W", decimals=1),
            Column("Warmer by", "K", decimals=1),
            Column("Bay", "°C", decimals=1),
            *((Column("Heat if class AB", "W", decimals=1),) if has_bound else ()),
        ),
        rows=tuple(rows),
        marked=list(DUTY_WORDS).index(given["duty"]),
    )


def _section(given: Mapping[str, Any], heat: float, rises: tuple[float, ...] | None) -> Drawing:
    """Draw the bay in section: the heat goes out through two films of air."""
    top, left, right, bottom = 60.0, 90.0, 338.0, 190.0
    parts = [
        label(WIDEST / 2, 16, f"cabin {quantity(given['cabin_c'], '°C')}"),
        label(WIDEST / 2, top + 22, f"bay {quantity(given['cabin_c'] + rises[1], '°C', 3)}")
        if rises
        else label(WIDEST / 2, top + 22, "bay: not estimated"),
        box(left + 60, bottom - 60, right - left - 120, 44),
        label(WIDEST / 2, bottom - 38, f"{quantity(heat, 'W', 3)} of heat"),
    ]
    if given["closed"]:
        parts.append(box(left, top, right - left, bottom - top, heavy=True))
    else:
        parts.append(wire((left, top), (left, bottom), (right, bottom), (right, top), width=3))
    for x in (left + 40, WIDEST / 2, right - 40):
        parts += _arrow(x, top - 6, x, top - 28)
    parts += _arrow(left - 6, 120, left - 34, 120)
    parts += _arrow(right + 6, 120, right + 34, 120)
    words = "closed" if given["closed"] else "open"
    parts.append(label(WIDEST / 2, bottom + 18, f"{words}, {quantity(given['area_m2'], 'm²')}"))
    told = (
        f"the air in it ends at {quantity(given['cabin_c'] + rises[1], '°C', 3)}, in a cabin of "
        f"{quantity(given['cabin_c'], '°C')}"
        if rises
        else "how warm it gets is not estimated"
    )
    return Drawing(
        "Where the heat goes",
        f"A bay in section, {words}, outer surface {quantity(given['area_m2'], 'm²')}. The "
        f"amplifiers give off {quantity(heat, 'W', 3)}; {told}.",
        canvas(WIDEST, bottom + 34, parts),
    )


def _arrow(x: float, y: float, to_x: float, to_y: float) -> list[Any]:
    """Return an arrow, level or upright."""
    if x == to_x:
        way = 6 if to_y < y else -6
        head = f"M{number(to_x - 4)} {number(to_y + way)}L{number(to_x)} {number(to_y)}l4 {way}"
    else:
        way = 6 if to_x < x else -6
        head = f"M{number(to_x + way)} {number(to_y - 4)}L{number(to_x)} {number(to_y)}l{way} 4"
    return [wire((x, y), (to_x, to_y), width=THIN), element("path", d=head, stroke_width=THIN)]


BAY_HEAT = Calculator(
    name="bay-heat",
    title="Does it breathe",
    question="How warm does it get in there?",
    fields=(
        Number(
            key="power_w", label="Continuous power, all together", default="250", low=1,
            high=20_000, source=INVENTED, hint="Of all channels in use.",
        ),
        Number(
            key="efficiency_percent", label="Efficiency at rated power", default="75", low=20,
            high=98, hint="Class AB about 50 to 60, class D about 75 to 90 (from memory).",
        ),
        Choice(
            key="amplifier_class", label="Class", default="d", optional=True,
            options=(("ab", "AB"), ("d", "D")), source=INVENTED,
            hint="At part power class AB wastes more than its rated efficiency says.",
        ),
        Number(
            key="idle_w", label="Drawn without a signal", default="", low=0, high=500,
            optional=True, hint="Idle current × supply voltage, all amplifiers together.",
        ),
        Choice(
            key="duty", label="Programme", default="heavy",
            options=tuple(DUTY_WORDS.items()),
            hint="How much of the power is used on average.",
        ),
        YesNo(
            key="closed", label="Closed all round", default="yes",
            hint="A bay with an open side exchanges air, and is not estimated.",
        ),
        Number(
            key="area_m2", label="Outer surface of the bay", default="0.94", low=0.01, high=50,
            source=INVENTED,
            hint="Of sides with free air beyond them, not of one against luggage or a hot floor.",
        ),
        Number(
            key="cabin_c", label="Air in the cabin", default="25", low=-40, high=80,
        ),
        Number(
            key="limit_c", label="Highest air temperature permitted", default="50", low=0,
            high=120, optional=True, source=INVENTED, hint="By the amplifier’s manual.",
        ),
        Number(
            key="h", label="Film of air h in W/m²K", default="7", low=1, high=50,
            source="heat-transfer handbooks, 5 to 10 (from memory)", more=True,
        ),
    ),
    groups=(
        ("The amplifiers", ("power_w", "efficiency_percent", "amplifier_class", "idle_w", "duty")),
        ("The bay", ("closed", "area_m2", "cabin_c", "limit_c", "h")),
    ),
    compute=bay_heat,
)  # fmt: skip
