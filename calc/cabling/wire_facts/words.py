"""What the answer of `wire-facts` says: sentence, verdict, steps."""

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.wire_facts.inputs import Inputs
from calc.cabling.wire_facts.solve import Result
from calc.cabling.words import MATERIAL_WORDS, NO_TABLE, place_words
from calc.physics.conductors import METRIC_SIZES, RESISTIVITY_RATIO, Size
from calc.physics.permitted_current import INSULATION_C, engine_factor

STANDARD_MM2 = tuple(size.area_mm2 for size in METRIC_SIZES)
_TRUE_SHARE = 0.95  # our own: of the area that is printed on it


def cable_name(inputs: Inputs, size: Size) -> str:
    """Return what the cable is called."""
    if inputs.awg or inputs.mm2:
        return size.words
    return f"{inputs.strands} × {quantity(inputs.strand_mm, 'mm')}"


def sentence(inputs: Inputs, result: Result) -> str:
    """Say what the cable is, and what it may carry."""
    gauge, size, fuse_a = result.gauge, result.size, result.fuse_a
    about = f" (about {gauge} AWG)" if gauge and not inputs.awg else ""
    facts = (
        f"{cable_name(inputs, size)} of {MATERIAL_WORDS[inputs.material]}: "
        f"{quantity(size.area_mm2, 'mm²')}{about}, "
        f"{quantity(1000 * result.ohm_per_m, 'mΩ')} per metre at "
        f"{quantity(inputs.conductor_c, '°C')}"
    )
    if result.permitted_a is None:
        return f"{facts}; what it may carry is not known."
    fuse = f"behind a fuse of at most {quantity(fuse_a, 'A')}" if fuse_a else "no listed fuse fits"
    may_carry = f"{quantity(result.permitted_a, 'A', 3)} {place_words(inputs.limits)}"
    return f"{facts}; it may carry {may_carry}, {fuse}."


def judge_claim(inputs: Inputs, result: Result) -> Verdict | None:
    """Say whether the cable is the gauge that it is sold as; None without such a claim."""
    sold, share, gauge = inputs.sold_as_awg, result.share_of_sold_percent, result.gauge
    if sold is None or share is None:
        return None
    if share >= 100 * _TRUE_SHARE:
        return Verdict("suitable", f"it has {rounded(share, 3)} % of the area of {sold} AWG.")
    really = f"; it is about {gauge} AWG" if gauge and gauge != sold else ""
    return Verdict(
        "unsuitable",
        f"sold as {sold} AWG, it has {rounded(share, 3)} % of that area{really}. Size and fuse it "
        "for what it is.",
    )


def current_unknown(inputs: Inputs) -> tuple[str, ...]:
    """Say why it is not known what the cable may carry."""
    if inputs.limits.insulation_c != INSULATION_C:
        return (f"What it may carry: {NO_TABLE}.",)
    return (
        "What it may carry: the table has no such size. Give the area in mm² for a figure between "
        "its rows; below 18 AWG and above 4/0 there is none.",
    )


def steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    size, ratio = result.size, RESISTIVITY_RATIO[inputs.material]
    if inputs.awg:
        area = "Diameter of a gauge n: 0.127 mm · 92^((36 − n)/39); 1/0 counts as 0, 2/0 as −1."
    elif inputs.mm2:
        area = "The area as given."
    else:
        area = (
            f"{inputs.strands} × π/4 × ({quantity(inputs.strand_mm, 'mm')})² = "
            f"{quantity(size.area_mm2, 'mm²')}."
        )
    source = "ρ/s × 1.02 for the lay of the strands"
    if inputs.mm2:
        standard = any(abs(area_mm2 - inputs.mm2) < 1e-9 for area_mm2 in STANDARD_MM2)
        source = "the highest value that IEC 60228 permits for class 5"
        if not standard:
            source = "ρ/s with the allowance of the standard sizes around it, class 5"
    return (
        area,
        f"At 20 °C, copper: {quantity(1000 * size.copper_ohm_per_m, 'mΩ/m')}, {source}.",
        f"Times {rounded(ratio)} for {MATERIAL_WORDS[inputs.material]}, and for "
        f"{quantity(inputs.conductor_c, '°C')}: {quantity(1000 * result.ohm_per_m, 'mΩ/m')}.",
        _carry_step(inputs, result),
    )


def _carry_step(inputs: Inputs, result: Result) -> str:
    if result.permitted_a is None:
        return "May carry: no table gives a current for it."
    between = "" if inputs.awg else ", between its gauges a straight line of logarithms"
    return f"May carry: the table’s current{between}{listed(_factors(inputs))}."


def _factors(inputs: Inputs) -> list[str]:
    factors = []
    if inputs.material != "copper":
        factors.append(" × the root of copper’s resistivity over the conductor’s")
    if inputs.limits.in_engine_space:
        factor = rounded(engine_factor(inputs.limits.engine_c), 3)
        factors.append(
            f" × {factor} in an engine space of {quantity(inputs.limits.engine_c, '°C')}"
        )
    if inputs.limits.bundle > 2:
        factors.append(f" × the factor for {inputs.limits.bundle} conductors together")
    return factors or [""]
