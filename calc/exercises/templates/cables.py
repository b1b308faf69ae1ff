"""Exercises on cables, to be worked out."""

from math import pi

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.cabling.kit_list import KIT_LIST
from calc.cabling.speaker_lead import SPEAKER_LEAD
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.cabling.wire_facts import WIRE_FACTS
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip, Template
from calc.exercises.draws import Draws
from calc.exercises.templates.cable_plans import (
    cable_of_a_pair,
    fuse_of_two,
    idle_with_a_pair,
    two_amplifiers,
    what_to_buy,
)
from calc.exercises.templates.cables_recall import (
    LISTED,
    LISTED_A,
    RECALL,
    fuse_slips,
    powered,
    smallest_fuse,
)
from calc.exercises.templates.usual import (
    CLASS_D_PERCENT,
    RUN_METRES,
    TOTAL_WATTS,
)

_NO_EFFICIENCY = "you left the efficiency out: the amplifier draws more than it gives"


def _amplifier(power: int, percent: int) -> str:
    return (
        f"An amplifier makes {q(power, 'W')} RMS in all, at an efficiency of {rounded(percent)} % "
        f"and {q(14.4, 'V')}."
    )


def current_drawn(draws: Draws) -> Draft | None:
    """The current at full power."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    return Figure(
        question=f"{_amplifier(power, percent)} What current does it draw at full power?",
        asks=(powered(power, percent),),
        result="current_full_a",
        unit="A",
        slips=(
            Slip(power / 14.4, _NO_EFFICIENCY),
            Slip(power * percent / 100 / 14.4, "divide by the efficiency, do not multiply"),
            Slip(power * 14.4 / 1000, "divide by the voltage: I = P ÷ V"),
        ),
    )


def main_fuse(draws: Draws) -> Draft | None:
    """The main fuse of an amplifier."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    asked = powered(power, percent)
    amperes, fuse = asked.number("current_full_a"), asked.number("fuse_a")
    if fuse not in LISTED_A[4:-1]:
        return None
    without = smallest_fuse(power / 14.4)
    return Figure(
        question=f"{_amplifier(power, percent)} {LISTED} Which main fuse does its cable get?",
        asks=(asked,),
        result="fuse_a",
        unit="A",
        slips=(
            Slip(float(without), _NO_EFFICIENCY),
            *fuse_slips(fuse, 1),
        ),
        work=(
            f"{q(power, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = {q(amperes, 'A', 3)}; "
            f"the smallest listed fuse at or above that is {q(fuse, 'A')}.",
        ),
        is_shown=False,
    )


def drop_of_a_run(draws: Draws) -> Draft | None:
    """The voltage lost in a power cable and the body."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    length = draws.pick(RUN_METRES)
    asked = powered(power, percent, length)
    amperes, area = asked.number("current_full_a"), asked.number("size_mm2")
    wire = ask(WIRE_FACTS, mm2=area, conductor_c=50)
    each = wire.number("mohm_per_m")
    alone, body = amperes * each * length / 1000, amperes * 2 / 1000
    return Figure(
        question=f"{_amplifier(power, percent)} It is fed over {q(length, 'm')} of "
        f"{q(area, 'mm²')} cable with {q(each, 'mΩ', 3)} in each metre when warm; the return "
        f"through the body has {q(2, 'mΩ')}. How many volts are lost at full power?",
        asks=(asked,),
        result="drop_full_v",
        unit="V",
        slips=(
            Slip(2 * alone + body, "the way back is the body here, not a second cable"),
            Slip(alone, "you left the body out"),
            Slip((alone + body) * percent / 100, _NO_EFFICIENCY),
        ),
        work=(
            f"{q(power, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = {q(amperes, 'A', 3)}.",
            f"{q(length, 'm')} × {q(each, 'mΩ/m', 3)} + {q(2, 'mΩ')} = "
            f"{q(each * length + 2, 'mΩ', 3)}; {q(amperes, 'A', 3)} × "
            f"{q(each * length + 2, 'mΩ', 3)} = {q(alone + body, 'V', 3)}.",
        ),
        is_shown=False,
    )


def main_run_of_two(draws: Draws) -> Draft | None:
    """The current in the main run to two amplifiers."""
    one, other = draws.several((150, 180, 200, 250, 300, 400, 500), 2)
    percent, length = draws.pick(CLASS_D_PERCENT), draws.pick(RUN_METRES)
    asked = two_amplifiers(one, other, percent, length)
    whole = asked.number("runs.0.current_a")
    larger = max(one, other)
    return Figure(
        question=f"One main power run feeds a distribution block, and from there two amplifiers of "
        f"{q(one, 'W')} and {q(other, 'W')} RMS in all, each at an efficiency of "
        f"{rounded(percent)} % and {q(14.4, 'V')}. What current does the main run carry at full "
        "power?",
        asks=(asked,),
        result="runs.0.current_a",
        unit="A",
        slips=(
            Slip(whole * larger / (one + other), "that is the larger amplifier alone"),
            Slip(whole * percent / 100, _NO_EFFICIENCY),
            Slip(whole / 2, "that is the mean: the main run carries both"),
        ),
        work=(
            f"({q(one, 'W')} + {q(other, 'W')}) ÷ ({rounded(percent)} % × {q(14.4, 'V')}) = "
            f"{q(whole, 'A', 3)}.",
        ),
        is_shown=False,
    )


def area_of_strands(draws: Draws) -> Draft | None:
    """The cross-section of a cable whose strands were counted."""
    strands, each = draws.pick(
        ((50, 0.25), (56, 0.3), (84, 0.3), (80, 0.4), (126, 0.4), (196, 0.4), (276, 0.4), (32, 0.2))
    )
    asked = ask(WIRE_FACTS, strands=strands, strand_mm=each)
    area = asked.number("area_mm2")
    return Figure(
        question=f"You count {strands} strands of {q(each, 'mm')} in a cable. What is its "
        "cross-section?",
        asks=(asked,),
        result="area_mm2",
        unit="mm²",
        slips=(
            Slip(4 * area, "you took the diameter for the radius"),
            Slip(strands * each**2, "a strand is round: times π ÷ 4"),
            Slip(strands * each * pi / 4, "the diameter is squared"),
            Slip(strands * each, "that is the strands side by side: area goes with d²"),
        ),
    )


def lead_in_milliohms(draws: Draws) -> Draft | None:
    """The resistance of a speaker cable, out and back."""
    length, area = draws.pick((2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6)), draws.pick((0.75, 1, 1.5, 2.5))
    asked = ask(SPEAKER_LEAD, load_ohm=4, length_m=length, mm2=area)
    each = ask(WIRE_FACTS, mm2=area).number("mohm_per_m")
    whole = asked.number("lead_ohm") * 1000
    return Figure(
        question=f"{q(length, 'm')} of speaker cable, {q(area, 'mm²')}: one conductor has "
        f"{q(each, 'mΩ', 3)} in each metre. What resistance lies between amplifier and speaker, "
        "out and back?",
        asks=(asked,),
        result="lead_ohm",
        times=1000.0,
        unit="mΩ",
        slips=(
            Slip(whole / 2, "that is one way: the current comes back too"),
            Slip(whole / 4, "two conductors in a row add: they are not in parallel"),
            Slip(2 * each, "times the length"),
        ),
        work=(f"2 × {q(length, 'm')} × {q(each, 'mΩ/m', 3)} = {q(whole, 'mΩ', 3)}.",),
        is_shown=False,
    )


def lost_in_the_lead(draws: Draws) -> Draft | None:
    """The share of the power that a speaker cable costs."""
    length, area = draws.pick((4, 5, 6, 7, 8)), draws.pick((0.75, 1, 1.5))
    load = draws.pick((2, 4))
    asked = ask(SPEAKER_LEAD, load_ohm=load, length_m=length, mm2=area)
    lead = asked.number("lead_ohm")
    share = lead / (load + lead)
    return Figure(
        question=f"The speaker cable has {q(lead * 1000, 'mΩ', 3)} out and back, the speaker "
        f"{q(load, 'Ω')}. What share of its power does the speaker lose, against no cable at all?",
        asks=(asked,),
        result="loss_percent",
        unit="%",
        slips=(
            Slip(100 * share, "that is the voltage: power goes with its square"),
            Slip(100 * lead / load / 2, "that is one way: the current comes back too"),
            Slip(100 * (1 - share) ** 2, "that is what is left"),
        ),
        work=(
            f"{q(load, 'Ω')} ÷ ({q(load, 'Ω')} + {q(lead, 'Ω', 3)}) = {rounded(1 - share, 3)} of "
            f"the voltage; {rounded(1 - share, 3)}² = {rounded((1 - share) ** 2, 3)} of the power: "
            f"{rounded(100 - 100 * (1 - share) ** 2, 3)} % are lost.",
        ),
        is_shown=False,
        tolerance=0.03,
    )


def left_at_idle(draws: Draws) -> Draft | None:
    """What the alternator has in hand at idle."""
    alternator, vehicle = (
        draws.pick((90, 100, 110, 120, 140, 150)),
        draws.pick((25, 30, 35, 40, 45)),
    )
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    asked = ask(
        SUPPLY_BUDGET, alternator_a=alternator, idle_percent=50, vehicle_a=vehicle,
        total_power_w=power, efficiency_percent=percent, amplifier_class="d", idle_w=0,
    )  # fmt: skip
    hand, draw = asked.number("duties.1.margin_idle_a"), asked.number("duties.1.amplifier_a")
    if hand < 2:
        return None
    return Figure(
        question=f"{_amplifier(power, percent)} It is class D, and loud music takes a third of "
        f"its power. The {q(alternator, 'A')} alternator gives half its rating at idle, and the "
        f"vehicle itself takes {q(vehicle, 'A')}. How many amperes are left at idle with loud "
        "music?",
        asks=(asked,),
        result="duties.1.margin_idle_a",
        unit="A",
        slips=(
            Slip(hand + alternator / 2, "that is on the road: at idle it gives half"),
            Slip(hand + vehicle, "you left the vehicle out"),
            Slip(hand - 2 * draw, "that is full power: loud music takes a third"),
            Slip(hand + draw, "you left the amplifier out"),
        ),
        work=(
            f"{q(power, 'W')} ÷ ({rounded(percent)} % × {q(14.4, 'V')}) ÷ 3 = {q(draw, 'A', 3)}.",
            f"{q(alternator, 'A')} ÷ 2 − {q(vehicle, 'A')} − {q(draw, 'A', 3)} = "
            f"{q(hand, 'A', 3)}.",
        ),
        is_shown=False,
    )


def length_to_buy(draws: Draws) -> Draft | None:
    """The length of power cable to buy."""
    length, slack = draws.pick(RUN_METRES), draws.pick((10, 15, 20))
    asked = _kit(power_m=length, signal_m=5, slack=slack)
    return Figure(
        question=f"The route of the power cable measures {q(length, 'm')}. How much do you buy, "
        f"with {rounded(slack)} % to spare?",
        asks=(asked,),
        result="items.0.length_m",
        unit="m",
        slips=(
            Slip(length, "you left nothing to spare"),
            Slip(length * (1 - slack / 100), "you took the slack away"),
            Slip(2 * length * (1 + slack / 100), "the body is the way back: one cable is enough"),
        ),
        work=(
            f"{q(length, 'm')} × {rounded(1 + slack / 100)} = "
            f"{q(length * (1 + slack / 100), 'm', 3)}.",
        ),
        is_shown=False,
        tolerance=0.01,
    )


def short_of_rca(draws: Draws) -> Draft | None:
    """How much the kit's RCA lead is too short."""
    signal, slack = draws.pick((4.8, 5, 5.2, 5.5, 6, 6.5)), draws.pick((10, 15, 20))
    kit = draws.pick((4, 5))
    asked = _kit(power_m=4, signal_m=signal, slack=slack, kit_m=kit)
    short = -asked.number("kit_signal.spare_m")
    return Figure(
        question=f"The route of the RCA leads measures {q(signal, 'm')}; you want "
        f"{rounded(slack)} % to spare. The kit brings leads of {q(kit, 'm')}. How many metres are "
        "they short?",
        asks=(asked,),
        result="kit_signal.spare_m",
        times=-1.0,
        unit="m",
        slips=(
            Slip(signal - kit, "you left nothing to spare"),
            Slip(short + signal, "you took the route twice"),
            Slip(signal * slack / 100, "that is the spare alone"),
        ),
        work=(
            f"{q(signal, 'm')} × {rounded(1 + slack / 100)} − {q(kit, 'm')} = {q(short, 'm', 3)}.",
        ),
        is_shown=False,
        tolerance=0.03,
    )


def _kit(*, power_m: float, signal_m: float, slack: int, kit_m: float = 5) -> Ask:
    routes = (
        f"power,battery,amplifier,{power_m};earth,amplifier,body,0.5;"
        f"signal,head unit,amplifier,{signal_m};speaker,amplifier,left door,4;"
        "speaker,amplifier,right door,5"
    )
    return ask(
        KIT_LIST, amplifiers="amplifier,250,yes,1,2", routes=routes, slack_percent=slack,
        kit_signal_m=kit_m, efficiency_percent=80,
    )  # fmt: skip


__all__ = ("CALCULATE", "PLAN", "RECALL")

CALCULATE: tuple[Template, ...] = (
    current_drawn,
    main_fuse,
    drop_of_a_run,
    main_run_of_two,
    area_of_strands,
    lead_in_milliohms,
    lost_in_the_lead,
    left_at_idle,
    length_to_buy,
    short_of_rca,
)
PLAN: tuple[Template, ...] = (cable_of_a_pair, fuse_of_two, idle_with_a_pair, what_to_buy)
