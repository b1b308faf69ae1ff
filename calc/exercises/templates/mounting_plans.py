"""Exercises on mounting in several steps."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.cabling.kit_list import KIT_LIST
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip
from calc.exercises.draws import Draws
from calc.exercises.templates.spaces import SHEDS, heated
from calc.exercises.templates.usual import CLASS_D_PERCENT, RATINGS, amplifier, bridged
from calc.placement.mounting_reach import MOUNTING_REACH


def _doors_and_sub(ratings: tuple[int, int], percent: int) -> tuple[Ask, float, str, str]:
    """Return the bridged pair, all channels together, the question's and the step's words."""
    pair = bridged(ratings, 4)
    sub = pair.number("bridged_power_w")
    total = sub + 2 * ratings[0]
    return (
        pair,
        total,
        f"{amplifier(ratings)} Two {q(4, 'Ω')} door speakers are on channels 1 and 2, a "
        f"{q(4, 'Ω')} sub is bridged on 3 and 4. It is class D, with an efficiency of "
        f"{rounded(percent)} %, and plays loud music, a third of full power",
        f"2 × {q(ratings[0], 'W')} + {q(sub, 'W')} = {q(total, 'W')} in all.",
    )


def in_the_closed_space(draws: Draws) -> Draft | None:
    """Power, heat, and how warm the closed space ends."""
    ratings, percent = draws.pick(RATINGS), draws.pick(CLASS_D_PERCENT)
    area, cabin = draws.pick((0.8, 1, 1.2, 1.5, 1.8)), draws.pick((20, 25, 30, 35))
    pair, total, words, summed = _doors_and_sub(ratings, percent)
    asked = heated(total, percent, "heavy", area_m2=area, cabin_c=cabin)
    rise = asked.number("rise_c")
    return Figure(
        question=f"{words}, in a closed space with an outer surface of {q(area, 'm²')}. Each m² "
        f"sheds {q(SHEDS, 'W')} for every kelvin that the space is warmer than the cabin, which "
        f"is at {q(cabin, '°C')}. How warm does the air in the space get?",
        asks=(pair, asked),
        result="bay_c",
        unit="°C",
        slips=(
            Slip(cabin + 3 * rise, "that is full power: loud music takes a third"),
            Slip(rise, "that is the warming: the cabin’s own temperature comes on top"),
            Slip(cabin + rise * area, "a larger surface sheds more: divide by it"),
            Slip(cabin + rise / 2, "the two films of air are in it already"),
        ),
        work=(summed,),
        closing=(f"{q(cabin, '°C')} + {q(rise, 'K', 3)} = {q(cabin + rise, '°C', 3)}.",),
    )


def surface_needed(draws: Draws) -> Draft | None:
    """Power, heat, and the surface that keeps the space below its limit."""
    ratings, percent = draws.pick(RATINGS), draws.pick(CLASS_D_PERCENT)
    limit, cabin = draws.pick((45, 50, 55)), draws.pick((25, 30, 35))
    pair, total, words, summed = _doors_and_sub(ratings, percent)
    asked = heated(total, percent, "heavy", cabin_c=cabin, limit_c=limit, tells="nothing")
    area, heat = asked.number("area_needed_m2"), asked.number("heat_w")
    return Figure(
        question=f"{words}. Each m² of the closed space sheds {q(SHEDS, 'W')} for every kelvin "
        f"that it is warmer than the cabin. The cabin is at {q(cabin, '°C')}; the air in the space "
        f"may reach {q(limit, '°C')}. How much outer surface does the space need?",
        asks=(pair, asked),
        result="area_needed_m2",
        unit="m²",
        slips=(
            Slip(3 * area, "that is for full power: loud music takes a third"),
            Slip(area * (limit - cabin) / limit, "count from the cabin’s air, not from 0 °C"),
            Slip(area * SHEDS, "you left out what a square metre sheds"),
        ),
        closing=(
            summed,
            f"{q(total, 'W')} ÷ 3 × (1 ÷ {rounded(percent / 100)} − 1) = {q(heat, 'W', 3)}; "
            f"÷ ({q(SHEDS, 'W')} × {q(limit - cabin, 'K')}) = {q(area, 'm²', 3)}.",
        ),
    )


def rca_along_the_legs(draws: Draws) -> Draft | None:
    """The legs of a route, the slack, and what the kit's RCA lead is short of."""
    first, second, third = (
        draws.pick((0.8, 1, 1.2)), draws.pick((1.8, 2, 2.4, 2.6)), draws.pick((1.6, 2, 2.2)),
    )  # fmt: skip
    slack, kit = draws.pick((10, 15)), draws.pick((4, 5))
    route = round(first + second + third, 2)
    legs = ask(
        MOUNTING_REACH, tells="nothing", bay_width_mm=800, bay_depth_mm=600, keep_outs=None,
        entries=None, slack_percent=0,
        amplifiers="amplifier,260,180,52,controls,none,power,none,none",
        way_points=f"signal,head unit,tunnel,{first};signal,tunnel,sill,{second};"
        f"signal,sill,bay,{third}",
    )  # fmt: skip
    asked = ask(
        KIT_LIST, tells="nothing", amplifiers="amplifier,250,yes,1,2", slack_percent=slack,
        kit_signal_m=kit, efficiency_percent=80,
        routes="power,battery,amplifier,4;earth,amplifier,body,0.5;"
        f"signal,head unit,amplifier,{legs.number('runs.0.length_m'):g};"
        "speaker,amplifier,left door,4;speaker,amplifier,right door,5",
    )  # fmt: skip
    short = -asked.number("kit_signal.spare_m")
    return Figure(
        question=f"The RCA leads run {q(first, 'm')} from the head unit to the tunnel, "
        f"{q(second, 'm')} to the sill and {q(third, 'm')} to the amplifier; you want "
        f"{rounded(slack)} % to spare. The kit brings leads of {q(kit, 'm')}. How many metres are "
        "they short?",
        asks=(legs, asked),
        result="kit_signal.spare_m",
        times=-1.0,
        unit="m",
        slips=(
            Slip(route - kit, "you left nothing to spare"),
            Slip(route * (1 + slack / 100), "that is what you need: take the kit’s lead away"),
            Slip(second + third - kit + route * slack / 100, "you left the first leg out"),
        ),
        closing=(
            f"{q(first, 'm')} + {q(second, 'm')} + {q(third, 'm')} = {q(route, 'm')}.",
            f"{q(route, 'm')} × {rounded(1 + slack / 100)} − {q(kit, 'm')} = {q(short, 'm', 3)}.",
        ),
        tolerance=0.03,
    )
