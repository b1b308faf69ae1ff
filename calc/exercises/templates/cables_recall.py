"""Exercises on cables whose answer is picked."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.speaker_lead import SPEAKER_LEAD
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.cabling.wire_facts import WIRE_FACTS
from calc.exercises.asking import Ask, Tells, ask
from calc.exercises.drafts import (
    Draft,
    Figure,
    Option,
    Slip,
    Statement,
    Template,
    judged_options,
)
from calc.exercises.draws import Draws
from calc.exercises.templates.usual import CLASS_D_PERCENT, TOTAL_WATTS
from calc.physics.permitted_current import FUSES_A

# Fuses that a car’s amplifiers ask for [A].
LISTED_A = tuple(each for each in FUSES_A if 5 <= each <= 150)
LISTED = (
    f"Fuses are listed at {', '.join(rounded(each) for each in LISTED_A[3:-2])} and "
    f"{q(LISTED_A[-2], 'A')}."
)


def powered(power: float, percent: float, length: float = 4, *, tells: Tells = "steps") -> Ask:
    """Ask for the cable of a class D amplifier at 14.4 V."""
    return ask(
        POWER_CABLE, tells=tells, total_power_w=power, length_m=length,
        efficiency_percent=percent, amplifier_class="d", supply_v=14.4,
    )  # fmt: skip


def smallest_fuse(amperes: float) -> float:
    """Return the smallest listed fuse that carries a current."""
    return next(each for each in LISTED_A if each >= amperes)


def fuse_slips(fuse: float, *steps_above: int) -> tuple[Slip, ...]:
    """Return the listed fuses below and above the right one as mistakes.

    steps_above : how many places above it in the list
    """
    at = LISTED_A.index(fuse)
    return (
        Slip(LISTED_A[at - 1], "it would blow at full power"),
        *(
            Slip(LISTED_A[at + step], "the smallest that carries the current is enough")
            for step in steps_above
        ),
    )


_GAUGES = ("16", "14", "12", "10", "8", "6", "4", "2", "1/0", "2/0")


def thickest_gauge(draws: Draws) -> Draft | None:
    """The thickest, or the thinnest, of four gauges."""
    gauges = draws.several(_GAUGES, 4)
    asks = tuple(ask(WIRE_FACTS, awg=each) for each in gauges)
    areas = [each.number("area_mm2") for each in asks]
    word, best = draws.pick((("thickest", max(areas)), ("thinnest", min(areas))))
    options = judged_options(
        tuple(f"{each} AWG" for each in gauges),
        tuple(area == best for area in areas),
        tuple(f"that is {q(area, 'mm²', 3)}: a lower number is thicker" for area in areas),
    )
    if options is None:
        return None
    return Statement(
        question=f"Which of these cables is the {word}?",
        asks=asks,
        options=options,
        work=tuple(
            f"{gauge} AWG: {q(area, 'mm²', 3)}." for gauge, area in zip(gauges, areas, strict=True)
        ),
        is_shown=False,
    )


def twice_as_long(draws: Draws) -> Draft | None:
    """What a longer or a thicker speaker cable makes of its resistance."""
    length, area = draws.pick((2, 2.5, 3, 4, 5)), draws.pick((1, 1.5, 2.5))
    load = draws.pick((2, 4, 8))
    short = ask(SPEAKER_LEAD, load_ohm=load, length_m=length, mm2=area)
    before = short.number("lead_ohm") * 1000
    asked = ask(SPEAKER_LEAD, load_ohm=load, length_m=2 * length, mm2=area)
    return Figure(
        question=f"{q(length, 'm')} of speaker cable, {q(area, 'mm²')}, has {q(before, 'mΩ', 3)} "
        f"out and back. What does the same cable have at {q(2 * length, 'm')}?",
        asks=(asked,),
        result="lead_ohm",
        times=1000.0,
        unit="mΩ",
        slips=(
            Slip(before, "resistance grows with the length"),
            Slip(before / 2, "a longer cable has more resistance, not less"),
            Slip(4 * before, "twice the length is twice the resistance; out and back is in it"),
            Slip(1.414 * before, "it grows with the length itself, not with its root"),
        ),
        work=(f"2 × {q(before, 'mΩ', 3)} = {q(2 * before, 'mΩ', 3)}.",),
        is_shown=False,
    )


def listed_fuse(draws: Draws) -> Draft | None:
    """The listed fuse for a current."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    asked = powered(power, percent)
    amperes, fuse = asked.number("current_full_a"), asked.number("fuse_a")
    if fuse not in LISTED_A[2:-2]:
        return None
    return Figure(
        question=f"At full power an amplifier draws {q(amperes, 'A', 3)}. Which main fuse does its "
        "cable get?",
        asks=(asked,),
        result="fuse_a",
        unit="A",
        slips=(
            *fuse_slips(fuse, 2, 1),
            Slip(2.0 * fuse, "twice what it needs: it may not protect the cable"),
        ),
        work=(f"The smallest listed rating at or above {q(amperes, 'A', 3)}: {q(fuse, 'A')}.",),
        is_shown=False,
    )


def a_third_of_the_power(draws: Draws) -> Draft | None:
    """What a class D amplifier draws with loud music."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    asked = ask(
        SUPPLY_BUDGET, total_power_w=power, efficiency_percent=percent, amplifier_class="d",
        idle_w=0,
    )  # fmt: skip
    full = asked.number("duties.0.amplifier_a")
    word, at, parts = draws.pick(
        (("loud music, a third", 1, 3), ("normal listening, an eighth", 2, 8))
    )
    return Figure(
        question=f"A class D amplifier draws {q(full, 'A', 3)} at full power, and hardly anything "
        f"without a signal. What does it draw with {word} of its power?",
        asks=(asked,),
        result=f"duties.{at}.amplifier_a",
        unit="A",
        slips=(
            Slip(full, "that is full power, as with a test tone"),
            Slip(full / parts**0.5, "class D draws in step with its power, not with its voltage"),
            Slip(full / (11 - parts), f"that is {'an eighth' if parts == 3 else 'a third'}"),
            Slip(full / 2, "half the current is half the power"),
        ),
        work=(f"{q(full, 'A', 3)} ÷ {parts} = {q(full / parts, 'A', 3)}.",),
        is_shown=False,
    )


def good_as_copper(draws: Draws) -> Draft | None:
    """What copper-clad aluminium is worth."""
    gauge, material = draws.pick(("8", "4", "2", "1/0")), draws.pick(("cca10", "cca15"))
    clad, copper = ask(WIRE_FACTS, awg=gauge, material=material), ask(WIRE_FACTS, awg=gauge)
    area, worth = copper.number("area_mm2"), clad.number("same_as_copper_mm2")
    share = {"cca10": 10, "cca15": 15}[material]

    def said(value: float) -> str:
        return f"As good as {q(value, 'mm²', 3)} of copper"

    return Statement(
        question=f"{'An' if gauge == '8' else 'A'} {gauge} AWG cable ({q(area, 'mm²', 3)}) turns "
        f"out to be copper-clad aluminium (CCA) with {rounded(share)} % copper. How good is it?",
        asks=(clad, copper),
        options=(
            Option(said(worth)),
            Option(said(area), "aluminium has more resistance than copper"),
            Option(said(area * share / 100), "the aluminium carries current too"),
            Option(said(area * 1.5), "it has more resistance than copper, not less"),
        ),
        work=(
            f"Its resistance is {rounded(area / worth, 3)} times that of copper: "
            f"{q(area, 'mm²', 3)} ÷ {rounded(area / worth, 3)} = {q(worth, 'mm²', 3)}.",
        ),
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (
    thickest_gauge,
    twice_as_long,
    listed_fuse,
    a_third_of_the_power,
    good_as_copper,
)
