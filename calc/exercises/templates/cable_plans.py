"""Exercises on cables in several steps."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.cabling.cable_tree import CABLE_TREE
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.cabling.wire_facts import WIRE_FACTS
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip
from calc.exercises.draws import Draws
from calc.exercises.templates.cables_recall import (
    LISTED,
    LISTED_A,
    fuse_slips,
    powered,
    smallest_fuse,
)
from calc.exercises.templates.usual import (
    CLASS_D_PERCENT,
    RATINGS,
    RUN_METRES,
    amplifier,
    bridged,
)

_KIT_MM2 = (10, 20, 35, 50)
_BODY_MOHM, _MOST_DROP_V = 2, 0.5


def two_amplifiers(one: int, other: int, percent: int, length: float) -> Ask:
    """Ask for a main run to a block, and branches to two amplifiers."""
    return ask(
        CABLE_TREE, runs=f"battery,block,{length};block,first,0.5;block,second,0.5",
        loads=f"first,{one};second,{other}", efficiency_percent=percent, amplifier_class="d",
        supply_v=14.4,
    )  # fmt: skip


def _in_all(ratings: tuple[int, int]) -> tuple[Ask, float, str]:
    """Return what a pair makes into a 4 Ω sub, all channels together, and the sum in words."""
    pair = bridged(ratings, 4)
    sub = pair.number("bridged_power_w")
    total = sub + 2 * ratings[0]
    return pair, total, f"2 × {q(ratings[0], 'W')} + {q(sub, 'W')} = {q(total, 'W')} in all."


def _whole(ratings: tuple[int, int], percent: int) -> str:
    return (
        f"{amplifier(ratings)} Two {q(4, 'Ω')} door speakers are on channels 1 and 2, a "
        f"{q(4, 'Ω')} sub is bridged on 3 and 4. The efficiency is "
        f"{rounded(percent)} %, the supply {q(14.4, 'V')}."
    )


def cable_of_a_pair(draws: Draws) -> Draft | None:
    """All outputs together, then the current, then the main fuse."""
    ratings, percent = draws.pick(RATINGS), draws.pick(CLASS_D_PERCENT)
    pair, total, words = _in_all(ratings)
    asked = powered(total, percent, tells="nothing")
    amperes, fuse = asked.number("current_full_a"), asked.number("fuse_a")
    if fuse not in LISTED_A[4:-1]:
        return None
    four = smallest_fuse(amperes * 4 * ratings[0] / total)
    without = smallest_fuse(amperes * percent / 100)
    return Figure(
        question=f"{_whole(ratings, percent)} {LISTED} Which main fuse does the power cable get?",
        asks=(pair, asked),
        result="fuse_a",
        unit="A",
        slips=(
            Slip(float(without), "you left the efficiency out"),
            Slip(float(four), "you counted four channels at 4 Ω: the bridged pair makes more"),
            *fuse_slips(fuse, 1),
        ),
        closing=(
            words,
            f"{q(total, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = {q(amperes, 'A', 3)}; "
            f"the smallest listed fuse at or above that is {q(fuse, 'A')}.",
        ),
    )


def idle_with_a_pair(draws: Draws) -> Draft | None:
    """All outputs together, then what the alternator has left at idle."""
    ratings, percent = draws.pick(RATINGS), draws.pick(CLASS_D_PERCENT)
    alternator, vehicle = draws.pick((90, 100, 110, 120, 140, 150)), draws.pick((25, 30, 35, 40))
    pair, total, words = _in_all(ratings)
    asked = ask(
        SUPPLY_BUDGET, tells="nothing", alternator_a=alternator, idle_percent=50,
        vehicle_a=vehicle, total_power_w=total, efficiency_percent=percent, amplifier_class="d",
        idle_w=0,
    )  # fmt: skip
    hand, draw = asked.number("duties.1.margin_idle_a"), asked.number("duties.1.amplifier_a")
    if hand < 2:
        return None
    return Figure(
        question=f"{_whole(ratings, percent)} It is class D, and loud music takes a third of its "
        f"power. The {q(alternator, 'A')} alternator gives half its rating at idle, and the "
        f"vehicle itself takes {q(vehicle, 'A')}. How many amperes are left at idle with loud "
        "music?",
        asks=(pair, asked),
        result="duties.1.margin_idle_a",
        unit="A",
        slips=(
            Slip(hand + alternator / 2, "that is on the road: at idle it gives half"),
            Slip(hand + vehicle, "you left the vehicle out"),
            Slip(hand - 2 * draw, "that is full power: loud music takes a third"),
            Slip(hand + draw, "you left the amplifier out"),
        ),
        closing=(
            words,
            f"{q(total, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) ÷ 3 = {q(draw, 'A', 3)}.",
            f"{q(alternator, 'A')} ÷ 2 − {q(vehicle, 'A')} − {q(draw, 'A', 3)} = "
            f"{q(hand, 'A', 3)}.",
        ),
    )


def fuse_of_two(draws: Draws) -> Draft | None:
    """Two amplifiers on one main run: its fuse."""
    one, other = draws.several((150, 180, 200, 250, 300, 400, 500), 2)
    percent, length = draws.pick(CLASS_D_PERCENT), draws.pick(RUN_METRES)
    asked = two_amplifiers(one, other, percent, length)
    fuse, amperes = asked.number("main_fuse_a"), asked.number("runs.0.current_a")
    if fuse not in LISTED_A[4:-1]:
        return None
    larger = smallest_fuse(amperes * max(one, other) / (one + other))
    without = smallest_fuse(amperes * percent / 100)
    return Figure(
        question="One main power run feeds a distribution block, and from there two amplifiers of "
        f"{q(one, 'W')} and {q(other, 'W')} RMS in all, each at an efficiency of "
        f"{rounded(percent)} % and {q(14.4, 'V')}. {LISTED} Which "
        "main fuse sits at the battery?",
        asks=(asked,),
        result="main_fuse_a",
        unit="A",
        slips=(
            Slip(float(larger), "that is for the larger amplifier alone"),
            Slip(float(without), "you left the efficiency out"),
            *fuse_slips(fuse, 1),
        ),
        work=(
            f"({q(one, 'W')} + {q(other, 'W')}) ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = "
            f"{q(amperes, 'A', 3)}; the smallest listed fuse at or above that is {q(fuse, 'A')}.",
        ),
        is_shown=False,
    )


def what_to_buy(draws: Draws) -> Draft | None:
    """The size of cable that is sold, for a permitted drop."""
    power, percent = draws.pick((300, 400, 500, 600, 800, 1000)), draws.pick(CLASS_D_PERCENT)
    length = draws.pick((4, 5, 6, 7))
    asked = ask(
        POWER_CABLE, total_power_w=power, length_m=length, efficiency_percent=percent,
        amplifier_class="d", supply_v=14.4, max_drop_v=_MOST_DROP_V, body_mohm=_BODY_MOHM,
    )  # fmt: skip
    bought, amperes = asked.number("kit_mm2"), asked.number("current_full_a")
    each = {
        area: ask(WIRE_FACTS, mm2=area, conductor_c=50).number("mohm_per_m") for area in _KIT_MM2
    }
    drops = {area: amperes * (ohm * length + _BODY_MOHM) / 1000 for area, ohm in each.items()}
    fitting = [area for area in _KIT_MM2 if drops[area] <= _MOST_DROP_V]
    # What carries the drop with nothing to spare, or is asked for by its heat, is no exercise.
    if fitting[:1] != [bought] or any(
        abs(drop / _MOST_DROP_V - 1) < 0.06 for drop in drops.values()
    ):
        return None
    table = ", ".join(f"{q(area, 'mm²')} {q(ohm, 'mΩ', 3)}" for area, ohm in each.items())
    return Figure(
        question=f"An amplifier makes {q(power, 'W')} RMS in all, at an efficiency of "
        f"{rounded(percent)} % and {q(14.4, 'V')}. The cable is {q(length, 'm')} long, the return "
        f"through the body has {q(_BODY_MOHM, 'mΩ')}, and at most {q(_MOST_DROP_V, 'V')} may be "
        f"lost at full power. Sizes sold, with the resistance of a metre when warm: {table}. "
        "Which do you buy?",
        asks=(asked,),
        result="kit_mm2",
        unit="mm²",
        slips=tuple(
            Slip(float(area), f"it loses {q(drop, 'V', 2)}: more than is allowed")
            if drop > _MOST_DROP_V
            else Slip(float(area), "it is enough, but a smaller one is, too")
            for area, drop in drops.items()
            if area != bought
        ),
        work=(
            f"{q(power, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = {q(amperes, 'A', 3)}.",
            *(
                f"{q(area, 'mm²')}: {q(amperes, 'A', 3)} × ({q(length, 'm')} × "
                f"{q(each[area], 'mΩ/m', 3)} + {q(_BODY_MOHM, 'mΩ')}) = {q(drops[area], 'V', 3)}."
                for area in _KIT_MM2
                if area <= bought
            ),
        ),
        is_shown=False,
    )
