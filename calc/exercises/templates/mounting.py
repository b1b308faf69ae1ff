"""Exercises on mounting: heat, clearances, the space, the runs."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip, Template
from calc.exercises.draws import Draws
from calc.exercises.templates.mounting_plans import (
    in_the_closed_space,
    rca_along_the_legs,
    surface_needed,
)
from calc.exercises.templates.mounting_recall import RECALL as PICKED
from calc.exercises.templates.spaces import BODIES_MM, DUTIES, HEIGHTS_MM, SHEDS, bay, given, heated
from calc.exercises.templates.usual import CLASS_D_PERCENT, TOTAL_WATTS
from calc.placement.footprint import FOOTPRINT
from calc.placement.mounting_reach import MOUNTING_REACH


def heat_given_off(draws: Draws) -> Draft | None:
    """The heat with loud music, or at a normal level."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    words, duty, parts = draws.pick(DUTIES)
    asked = heated(power, percent, duty)
    heat = asked.number("heat_w")
    return Figure(
        question=f"{given(power, percent, words)} How much heat does it give off?",
        asks=(asked,),
        result="heat_w",
        unit="W",
        slips=(
            Slip(heat * parts, "that is full power, as with a test tone"),
            Slip(power / parts, "that goes to the speakers: the heat is what goes in, less that"),
            Slip(power / parts / percent * 100, "that is what goes in, the output included"),
            Slip(heat * percent / 100, "the efficiency counts from what goes in"),
        ),
    )


def warming(draws: Draws) -> Draft | None:
    """How much warmer than the cabin a closed space gets."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    area = draws.pick((0.5, 0.6, 0.8, 0.9, 1, 1.2, 1.5, 1.8))
    asked = heated(power, percent, "heavy", area_m2=area, cabin_c=25)
    heat, rise = asked.number("heat_w"), asked.number("rise_c")
    return Figure(
        question=f"An amplifier gives off {q(heat, 'W', 3)} of heat in a closed space with an "
        f"outer surface of {q(area, 'm²')}. Each m² sheds {q(SHEDS, 'W')} for every kelvin that "
        "the space is warmer than the cabin. How much warmer does it get?",
        asks=(asked,),
        result="rise_c",
        unit="K",
        slips=(
            Slip(rise * area, "a larger surface sheds more: divide by it"),
            Slip(heat * area / SHEDS, "divide by the surface, do not multiply"),
            Slip(rise / 2, "the two films of air are in it already"),
            Slip(rise + 25, "that is the temperature: only the warming is asked for"),
        ),
    )


def depth_with_clearances(draws: Draws) -> Draft | None:
    """The depth of an amplifier with its clearances."""
    body = draws.pick(BODIES_MM)
    hand, signal, power, speaker = (
        draws.pick((100, 120, 150)), draws.pick((50, 60)), draws.pick((60, 70, 80)),
        draws.pick((40, 50)),
    )  # fmt: skip
    asked = ask(
        FOOTPRINT, name="amplifier", width_mm=body[0], depth_mm=body[1], front="signal+controls",
        right="none", back="power+speaker", left="none", power_room_mm=power,
        speaker_room_mm=speaker, signal_room_mm=signal, controls_room_mm=hand,
    )  # fmt: skip
    return Figure(
        question=f"An amplifier is {q(body[1], 'mm')} deep. In front are the RCA inputs "
        f"({q(signal, 'mm')} of clearance) and the controls ({q(hand, 'mm')} for a hand), at the "
        f"back the power terminals ({q(power, 'mm')}) and the speaker terminals "
        f"({q(speaker, 'mm')}). How much depth does it take, clearances included?",
        asks=(asked,),
        result="depth_mm",
        unit="mm",
        slips=(
            Slip(body[1] + hand + signal + power + speaker,
                 "at one end the clearances overlap: only the larger one counts"),
            Slip(body[1] + signal + speaker, "you took the smaller clearance of each end"),
            Slip(body[1] + hand, "you left the back out"),
            Slip(body[1], "that is the amplifier alone"),
        ),
        work=(
            f"{q(hand, 'mm')} + {q(body[1], 'mm')} + {q(power, 'mm')} = "
            f"{q(hand + body[1] + power, 'mm')}: at each end the larger clearance counts.",
        ),
        is_shown=False,
    )  # fmt: skip


def too_shallow(draws: Draws) -> Draft | None:
    """How much depth is missing."""
    body, room = draws.pick(BODIES_MM), (draws.pick((50, 60, 70)), draws.pick((60, 70, 80, 90)))
    width, need = body[0] + draws.pick((10, 20, 30)), body[1] + sum(room)
    missing = draws.pick((20, 30, 40, 50))
    asked = bay(width, need - missing, body, room)
    lacks = [at for at, each in enumerate(asked.value("relax")) if each["what"] == "depth"]
    # Where it also fits turned, the question has two ways to its answer.
    if asked.value("feasible") or not lacks or width >= need:
        return None
    return Figure(
        question=f"An amplifier, {q(body[0], 'mm')} wide and {q(body[1], 'mm')} deep, has its "
        f"RCA inputs in front ({q(room[0], 'mm')} of clearance for the plugs) and its power "
        f"terminals at the back ({q(room[1], 'mm')} for the cables). The space has walls "
        f"all round, {q(width, 'mm')} wide and {q(need - missing, 'mm')} deep: it does not fit. "
        "How much deeper must the space be?",
        asks=(asked,),
        result=f"relax.{lacks[0]}.by_mm",
        unit="mm",
        slips=(
            Slip(float(need), "that is the whole depth: take what is there away"),
            Slip(float(room[1] + missing), "you counted the clearance at the back twice"),
            Slip(float(sum(room)), "that is the clearances alone"),
        ),
        work=(
            f"{q(room[0], 'mm')} + {q(body[1], 'mm')} + {q(room[1], 'mm')} − "
            f"{q(need - missing, 'mm')} = {q(missing, 'mm')}.",
        ),
        is_shown=False,
    )


def under_a_floor(draws: Draws) -> Draft | None:
    """The height of a false floor."""
    body, height = draws.pick(BODIES_MM), draws.pick(HEIGHTS_MM)
    board = draws.pick((9, 12, 15, 18))
    asked = ask(
        MOUNTING_REACH, bay_width_mm=800, bay_depth_mm=600, bay_height_mm=200, keep_outs=None,
        entries=None, way_points=None, board_mm=board,
        amplifiers=f"amplifier,{body[0]},{body[1]},{height},controls,none,power,none,none",
    )  # fmt: skip
    return Figure(
        question=f"An amplifier {q(height, 'mm')} high is screwed to a board of {q(board, 'mm')} "
        "and covered with another of the same thickness. How high is the false floor, at least?",
        asks=(asked,),
        result="false_floor_mm",
        unit="mm",
        slips=(
            Slip(height + board, "there are two boards: one below, one above"),
            Slip(float(height), "you left the boards out"),
            Slip(height + 4 * board, "there are two boards, not four"),
        ),
        work=(
            f"{q(board, 'mm')} + {q(height, 'mm')} + {q(board, 'mm')} = "
            f"{q(height + 2 * board, 'mm')}.",
        ),
        is_shown=False,
    )


def run_to_the_space(draws: Draws) -> Draft | None:
    """The length of a run from its legs, with slack."""
    first, second = draws.pick((0.8, 1, 1.2, 1.5)), draws.pick((1.6, 1.8, 2.2, 2.5, 3))
    slack = draws.pick((10, 15, 20))
    asked = _run(first, second, slack)
    whole = (first + second) * (1 + slack / 100)
    return Figure(
        question=f"The power cable runs {q(first, 'm')} from the battery to the sill and "
        f"{q(second, 'm')} along it to the amplifier. How long is it, with {rounded(slack)} % to "
        "spare?",
        asks=(asked,),
        result="runs.0.length_m",
        unit="m",
        slips=(
            Slip(first + second, "you left nothing to spare"),
            Slip(second * (1 + slack / 100), "you left the first leg out"),
            Slip((first + second) * (1 - slack / 100), "you took the slack away"),
        ),
        work=(
            f"({q(first, 'm')} + {q(second, 'm')}) × {rounded(1 + slack / 100)} = "
            f"{q(whole, 'm', 3)}.",
        ),
        is_shown=False,
        tolerance=0.015,
    )


def _run(first: float, second: float, slack: int) -> Ask:
    return ask(
        MOUNTING_REACH, bay_width_mm=800, bay_depth_mm=600, keep_outs=None, entries=None,
        slack_percent=slack,
        way_points=f"power,battery,sill,{first};power,sill,bay,{second}",
        amplifiers="amplifier,260,180,52,controls,none,power,none,none",
    )  # fmt: skip


RECALL: tuple[Template, ...] = (*PICKED, depth_with_clearances)
CALCULATE: tuple[Template, ...] = (
    heat_given_off,
    warming,
    depth_with_clearances,
    too_shallow,
    under_a_floor,
    run_to_the_space,
)
PLAN: tuple[Template, ...] = (in_the_closed_space, surface_needed, rca_along_the_legs)
