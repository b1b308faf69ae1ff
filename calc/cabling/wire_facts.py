"""The calculator `wire-facts`: what a cable is, by gauge, by area, or by its strands."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.cabling.drawings import discs
from calc.cabling.fields import (
    BUNDLE,
    CONDUCTOR_C,
    ENGINE_C,
    ENGINE_SPACE,
    INSULATION_C,
    MATERIAL,
    awg_field,
)
from calc.cabling.given import in_engine_space, place_unknown, place_words
from calc.cabling.words import (
    CLAD,
    FUSE_RULE,
    FUSES,
    MATERIAL_WORDS,
    NO_TABLE,
    PERMITTED,
    RESISTANCE,
    RULES_WIN,
)
from calc.inputs.fields import Number, Whole
from calc.physics.conductors import (
    METRIC_SIZES,
    RESISTIVITY_RATIO,
    Material,
    Size,
    awg_area_mm2,
    awg_size,
    metric_size,
    nearest_awg,
    round_diameter_mm,
    stranded,
    strands_area_mm2,
)
from calc.physics.permitted_current import INSULATION_C as INSULATION
from calc.physics.permitted_current import (
    PERMITTED_A,
    engine_factor,
    largest_fuse,
    permitted_current,
)

_TRUE_SHARE = 0.95  # our own: of the area that is printed on it
_STANDARD_MM2 = tuple(one.area_mm2 for one in METRIC_SIZES)


def wire_facts(given: Mapping[str, Any]) -> Sheet:
    """Compute `wire-facts`."""
    size, material = size_of(given), given["material"]
    per_m = size.ohm_per_m(material=material, conductor_c=given["conductor_c"])
    may_carry = _permitted(given, size, material)
    fuse_a, gauge = largest_fuse(may_carry), nearest_awg(area_mm2=size.area_mm2)
    sold, share = given["sold_as_awg"], None
    if sold:
        share = 100 * size.area_mm2 / awg_area_mm2(sold)
    return Sheet(
        sentence=_sentence(given, size, per_m, may_carry, fuse_a),
        verdict=_verdict(sold, share, gauge),
        results={
            "diameter_mm": round_diameter_mm(area_mm2=size.area_mm2),
            "area_mm2": size.area_mm2,
            "mohm_per_m": 1000 * per_m,
            "permitted_a": may_carry,
            "largest_fuse_a": fuse_a,
            "nearest_awg": gauge,
            "kg_per_m": size.kg_per_m(material),
            "same_as_copper_mm2": size.area_mm2 / RESISTIVITY_RATIO[material],
            "share_of_sold_percent": share,
        },
        figures=(
            Figure("Cross-section", Quantity(size.area_mm2, "mm²")),
            Figure(
                "Diameter as a solid wire",
                Quantity(round_diameter_mm(area_mm2=size.area_mm2), "mm"),
            ),
            Figure("Resistance", Quantity(1000 * per_m, "mΩ/m")),
            Figure("May carry", Quantity(may_carry, "A")),
            Figure("Largest fuse", Quantity(fuse_a, "A")),
        ),
        drawings=(_drawing(given, size, gauge),),
        tables=(_materials(given, size), _neighbours(given, size)),
        cautions=(
            FUSE_RULE,
            *((CLAD,) if material != "copper" else ()),
            "Measure strands only on a cut end of a cable that is not connected.",
            RULES_WIN,
        ),
        steps=_steps(given, size, per_m),
        unknowns=(
            "What the strands are made of: copper-clad aluminium looks like copper outside. Scrape "
            "a strand: clad and tinned copper look alike outside; inside, aluminium is silver and "
            "tinned copper is copper-coloured.",
            "How tightly the strands are laid: 2 % is taken; a fine rope lay may reach 6 % (from "
            "memory).",
            *place_unknown(given),
            *(_why_unknown(given) if may_carry is None else ()),
        ),
        sources=(RESISTANCE, "Gauges: ASTM B258.", PERMITTED, FUSES),
    )


def _why_unknown(given: Mapping[str, Any]) -> tuple[str, ...]:
    if given["insulation_c"] != INSULATION:
        return (f"What it may carry: {NO_TABLE}.",)
    return (
        "What it may carry: the table has no such size. Give the area in mm² for a figure between "
        "its rows; below 18 AWG and above 4/0 there is none.",
    )


def size_of(given: Mapping[str, Any]) -> Size:
    """Return the cable that the read values tell: by gauge, area, or strands."""
    if given["awg"]:
        return awg_size(given["awg"])
    if given["mm2"]:
        return metric_size(given["mm2"])
    area = strands_area_mm2(strands=given["strands"], strand_mm=given["strand_mm"])
    return stranded("the cable", area)


def _permitted(given: Mapping[str, Any], size: Size, material: Material) -> float | None:
    """Return the permitted current; a gauge that the table lacks has none."""
    if given["awg"] and given["awg"] not in PERMITTED_A:
        return None
    return permitted_current(
        size,
        material=material,
        insulation_c=given["insulation_c"],
        engine_space=in_engine_space(given),
        engine_c=given["engine_c"],
        bundle=given["bundle"],
    )


def _name(given: Mapping[str, Any], size: Size) -> str:
    if given["awg"] or given["mm2"]:
        return size.words
    return f"{given['strands']} × {quantity(given['strand_mm'], 'mm')}"


def _sentence(
    given: Mapping[str, Any],
    size: Size,
    per_m: float,
    may_carry: float | None,
    fuse_a: float | None,
) -> str:
    gauge = nearest_awg(area_mm2=size.area_mm2)
    about = f" (about {gauge} AWG)" if gauge and not given["awg"] else ""
    told = (
        f"{_name(given, size)} of {MATERIAL_WORDS[given['material']]}: "
        f"{quantity(size.area_mm2, 'mm²')}{about}, {quantity(1000 * per_m, 'mΩ')} per metre at "
        f"{quantity(given['conductor_c'], '°C')}"
    )
    if may_carry is None:
        return f"{told}; what it may carry is not known."
    fuse = f"behind a fuse of at most {quantity(fuse_a, 'A')}" if fuse_a else "no listed fuse fits"
    return f"{told}; it may carry {quantity(may_carry, 'A', 3)} {place_words(given)}, {fuse}."


def _verdict(sold: str | None, share: float | None, gauge: str | None) -> Verdict | None:
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


def _materials(given: Mapping[str, Any], size: Size) -> Table:
    rows = []
    for material, words in MATERIAL_WORDS.items():
        may_carry = _permitted(given, size, material)
        per_m = size.ohm_per_m(material=material, conductor_c=given["conductor_c"])
        rows.append(
            (
                words,
                Quantity(1000 * per_m),
                Quantity(may_carry),
                Quantity(largest_fuse(may_carry)),
                Quantity(size.area_mm2 / RESISTIVITY_RATIO[material]),
                Quantity(1000 * size.kg_per_m(material)),
            )
        )
    return Table(
        caption=f"What the metal costs: {quantity(size.area_mm2, 'mm²')} of each",
        columns=(
            Column("Conductor"),
            Column("Resistance", "mΩ/m"),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
            Column("As good as copper of", "mm²"),
            Column("Mass", "g/m"),
        ),
        rows=tuple(rows),
        marked=list(MATERIAL_WORDS).index(given["material"]),
    )


def _neighbours(given: Mapping[str, Any], size: Size) -> Table:
    """Return the metric sizes and the gauges around a cable, by area."""
    found = {size.name: size}
    gauge = nearest_awg(area_mm2=size.area_mm2)
    around = [one for one in METRIC_SIZES if 0.3 < one.area_mm2 / size.area_mm2 < 3]
    if gauge:
        names = _gauges_around(gauge)
        around += [awg_size(one) for one in names]
    # A size that reads like a standard one stands in its place.
    found = {one.name: one for one in around} | found
    ordered = sorted(found.values(), key=lambda one: one.area_mm2)
    rows = []
    for one in ordered:
        is_gauge = one.name.endswith("AWG")
        known = not is_gauge or one.name.removesuffix(" AWG") in PERMITTED_A
        may_carry = None
        if known:
            may_carry = permitted_current(
                one,
                material=given["material"],
                insulation_c=given["insulation_c"],
                engine_space=in_engine_space(given),
                engine_c=given["engine_c"],
                bundle=given["bundle"],
            )
        per_m = one.ohm_per_m(material=given["material"], conductor_c=given["conductor_c"])
        rows.append(
            (
                one.name,
                Quantity(one.area_mm2),
                Quantity(round_diameter_mm(area_mm2=one.area_mm2)),
                Quantity(1000 * per_m),
                Quantity(may_carry),
                Quantity(largest_fuse(may_carry)),
            )
        )
    return Table(
        caption=f"Sizes around it, {MATERIAL_WORDS[given['material']]}",
        columns=(
            Column("Size"),
            Column("Area", "mm²"),
            Column("Diameter", "mm"),
            Column("Resistance", "mΩ/m"),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
        ),
        rows=tuple(rows),
        marked=ordered.index(size),
        note="Diameter of the solid wire of that area; a stranded conductor is some 15 % thicker "
        "(common practice, no source), and its insulation comes on top.",
    )


def _gauges_around(gauge: str) -> list[str]:
    order = [f"{n}/0" for n in (4, 3, 2, 1)] + [str(n) for n in range(1, 41)]
    at = order.index(gauge)
    return order[max(0, at - 3) : at + 4]


def _drawing(given: Mapping[str, Any], size: Size, gauge: str | None) -> Drawing:
    rows = [(_name(given, size), round_diameter_mm(area_mm2=size.area_mm2))]
    beside = given["sold_as_awg"] or gauge
    if beside and f"{beside} AWG" != size.name:
        rows.append((f"{beside} AWG", round_diameter_mm(area_mm2=awg_area_mm2(beside))))
    metric = min(_STANDARD_MM2, key=lambda one: abs(one - size.area_mm2))
    if given["mm2"] != metric:
        rows.append((metric_size(metric).name, round_diameter_mm(area_mm2=metric)))
    return discs("The cable beside what is nearest to it", rows)


def _steps(given: Mapping[str, Any], size: Size, per_m: float) -> tuple[str, ...]:
    ratio = RESISTIVITY_RATIO[given["material"]]
    if given["awg"]:
        area = "Diameter of a gauge n: 0.127 mm · 92^((36 − n)/39); 1/0 counts as 0, 2/0 as −1."
    elif given["mm2"]:
        area = "The area as given."
    else:
        area = (
            f"{given['strands']} × π/4 × ({quantity(given['strand_mm'], 'mm')})² = "
            f"{quantity(size.area_mm2, 'mm²')}."
        )
    source = "ρ/s × 1.02 for the lay of the strands"
    if given["mm2"]:
        standard = any(abs(one - given["mm2"]) < 1e-9 for one in _STANDARD_MM2)
        source = "the highest value that IEC 60228 permits for class 5"
        if not standard:
            source = "ρ/s with the allowance of the standard sizes around it, class 5"
    return (
        area,
        f"At 20 °C, copper: {quantity(1000 * size.copper_ohm_per_m, 'mΩ/m')}, {source}.",
        f"Times {rounded(ratio)} for {MATERIAL_WORDS[given['material']]}, and for "
        f"{quantity(given['conductor_c'], '°C')}: {quantity(1000 * per_m, 'mΩ/m')}.",
        _carry_step(given, size),
    )


def _carry_step(given: Mapping[str, Any], size: Size) -> str:
    if _permitted(given, size, given["material"]) is None:
        return "May carry: no table gives a current for it."
    between = "" if given["awg"] else ", between its gauges a straight line of logarithms"
    return f"May carry: the table’s current{between}{listed(_factors(given))}."


def _factors(given: Mapping[str, Any]) -> list[str]:
    found = []
    if given["material"] != "copper":
        found.append(" × the root of copper’s resistivity over the conductor’s")
    if in_engine_space(given):
        factor = rounded(engine_factor(given["engine_c"]), 3)
        found.append(f" × {factor} in an engine space of {quantity(given['engine_c'], '°C')}")
    if given["bundle"] > 2:
        found.append(f" × the factor for {given['bundle']} conductors together")
    return found or [""]


_OTHERWISE = "the size is given in another way"
AWG = awg_field("awg", "Gauge (AWG)", "4", hint="As it is printed: 4, or 1/0.", empty=_OTHERWISE)
MM2 = Number(
    key="mm2", label="Cross-section", default="", optional=True, low=0.02, high=240,
    empty=_OTHERWISE, hint="As it is printed.",
)  # fmt: skip
STRANDS = Whole(
    key="strands", label="Number of strands, counted", default="", optional=True, low=1,
    high=20000, empty=_OTHERWISE,
)  # fmt: skip
STRAND_MM = Number(
    key="strand_mm", label="Diameter of one strand", default="", optional=True, low=0.02, high=12,
    empty=_OTHERWISE,
    hint="With a micrometer, or ten side by side.",
)  # fmt: skip
CONDUCTOR_20 = Number(
    key="conductor_c", label=CONDUCTOR_C.label, default="20", low=CONDUCTOR_C.low,
    high=CONDUCTOR_C.high, presets=(20, 50), more=True, hint=CONDUCTOR_C.hint,
)  # fmt: skip

WIRE_FACTS = Calculator(
    name="wire-facts",
    title="Wire facts",
    question="What is this cable really, and what may it carry?",
    fields=(
        AWG,
        MM2,
        STRANDS,
        STRAND_MM,
        MATERIAL,
        awg_field("sold_as_awg", "Sold as gauge (AWG)", "", empty="no claim to check"),
        CONDUCTOR_20,
        INSULATION_C,
        ENGINE_SPACE,
        ENGINE_C,
        BUNDLE,
    ),
    groups=(
        ("The cable, given in one way", ("awg", "mm2", "strands", "strand_mm")),
        (
            "What it is made of, and where it runs",
            (
                "material",
                "sold_as_awg",
                "engine_space",
                "engine_c",
                "conductor_c",
                "insulation_c",
                "bundle",
            ),
        ),
    ),
    compute=wire_facts,
    alternatives=(("awg",), ("mm2",), ("strands", "strand_mm")),
)
