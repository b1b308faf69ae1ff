"""What the answer of `wire-facts` says: sentence, verdict, steps."""

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.wire_facts.inputs import Inputs
from calc.cabling.wire_facts.solve import Result
from calc.cabling.words import MATERIAL_SHORT, MATERIAL_WORDS, NO_TABLE, place_words, rated
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
    """Say what the cable is, its current rating and its largest fuse."""
    if result.permitted_a is None:
        return f"{_what_it_is(inputs, result)}; its current rating is not known."
    rating = f"{rated(result.permitted_a)} {place_words(inputs.limits)}"
    if result.fuse_a is None:
        return f"{_what_it_is(inputs, result)}: rated for {rating}, less than any fuse."
    fuse = quantity(result.fuse_a, "A")
    if not _is_full_size(result):
        return (
            f"{_what_it_is(inputs, result)}. Fuse it at {fuse} or less: it is rated for {rating}."
        )
    return f"{_what_it_is(inputs, result)}: rated for {rating}, with a fuse no bigger than {fuse}."


def _what_it_is(inputs: Inputs, result: Result) -> str:
    """Return the cable's size: as it is, or beside what it is sold as."""
    metal, size, gauge = inputs.material, result.size, result.gauge
    area = quantity(size.area_mm2, "mm²", 3)
    about = f" (about {gauge} AWG)" if gauge and not inputs.awg else ""
    worth = ""
    if metal != "copper":
        worth = f", as good as {quantity(result.same_as_copper_mm2, 'mm²', 3)} of copper"
    if inputs.sold_as_awg and not _is_full_size(result):
        really = f"about {gauge} AWG" if gauge else area
        clad = ", and CCA: as good as " + worth.removeprefix(", as good as ") if worth else ""
        return f"Sold as {inputs.sold_as_awg} AWG, it is really {really}{clad}"
    name = cable_name(inputs, size)
    if inputs.mm2:
        return f"{name} of {MATERIAL_SHORT[metal]}{about}{worth}"
    return f"{name} {MATERIAL_SHORT[metal]} is {area}{about}{worth}"


def _is_full_size(result: Result) -> bool:
    share = result.share_of_sold_percent
    return share is None or share >= 100 * _TRUE_SHARE


def judge_claim(inputs: Inputs, result: Result) -> Verdict | None:
    """Say whether the cable is the size that it is sold as; None without such a claim."""
    sold, share = inputs.sold_as_awg, result.share_of_sold_percent
    if sold is None or share is None:
        return None
    percent = quantity(share, "%", 3)
    if _is_full_size(result):
        return Verdict("suitable", f"Full size: {percent} of the area of {sold} AWG.")
    return Verdict(
        "unsuitable",
        f"Only {percent} of the metal of {sold} AWG. Size and fuse it for what it is.",
    )


def current_unknown(inputs: Inputs) -> tuple[str, ...]:
    """Say why the current rating is not known."""
    if inputs.limits.insulation_c != INSULATION_C:
        return (f"The current rating: {NO_TABLE}.",)
    return (
        "The current rating of this size: enter the area in mm² for a rating between the sizes of "
        "the table. Below 18 AWG and above 4/0 we hold none.",
    )


def steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    size, ratio = result.size, RESISTIVITY_RATIO[inputs.material]
    if inputs.awg:
        area = "Diameter of AWG n: 0.127 mm · 92^((36 − n)/39); 1/0 counts as 0, 2/0 as −1."
    elif inputs.mm2:
        area = "The area as entered."
    else:
        area = (
            f"{inputs.strands} × π/4 × ({quantity(inputs.strand_mm, 'mm')})² = "
            f"{quantity(size.area_mm2, 'mm²')}."
        )
    source = "resistivity ÷ area, and 2 % more because strands twist around one another"
    if inputs.mm2:
        standard = any(abs(area_mm2 - inputs.mm2) < 1e-9 for area_mm2 in STANDARD_MM2)
        source = "the highest that IEC 60228 allows for flexible cable, class 5"
        if not standard:
            source = "resistivity ÷ area, with the allowance of the standard sizes around it"
    return (
        area,
        f"At 20 °C, copper: {quantity(1000 * size.copper_ohm_per_m, 'mΩ/m')}, {source}.",
        f"Times {rounded(ratio)} for {MATERIAL_WORDS[inputs.material]}, and for "
        f"{quantity(inputs.conductor_c, '°C')}: {quantity(1000 * result.ohm_per_m, 'mΩ/m')}.",
        _carry_step(inputs, result),
    )


def _carry_step(inputs: Inputs, result: Result) -> str:
    if result.permitted_a is None:
        return "Current rating: no table gives one for it."
    between = "" if inputs.awg else ", between its AWG sizes a straight line of logarithms"
    return f"Current rating: from the table{between}{listed(_factors(inputs))}."


def _factors(inputs: Inputs) -> list[str]:
    factors = []
    if inputs.material != "copper":
        factors.append(
            " × √(copper’s resistivity ÷ this metal’s), our own working for the same heat"
        )
    if inputs.limits.in_engine_space:
        factor = rounded(engine_factor(inputs.limits.engine_c), 3)
        factors.append(f" × {factor} in an engine bay at {quantity(inputs.limits.engine_c, '°C')}")
    if inputs.limits.bundle > 2:
        factors.append(f" × the factor for {inputs.limits.bundle} cables bundled together")
    return factors or [""]
