"""Exercises on mounting whose answer is picked."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.exercises.drafts import Draft, Figure, Slip, Statement, Template, judged_options
from calc.exercises.draws import Draws
from calc.exercises.templates.spaces import BODIES_MM, DUTIES, bay, heated
from calc.exercises.templates.usual import CLASS_D_PERCENT, TOTAL_WATTS


def heat_picked(draws: Draws) -> Draft | None:
    """What an amplifier gives off, to be picked."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    asked = heated(power, percent, "full")
    heat = asked.number("heat_w")
    return Figure(
        question=f"A class D amplifier makes {q(power, 'W')} RMS in all at an efficiency of "
        f"{rounded(percent)} %. How much heat does it give off at full power?",
        asks=(asked,),
        result="heat_w",
        unit="W",
        slips=(
            Slip(float(power), "that is what goes to the speakers"),
            Slip(power / percent * 100, "that is what goes in: the heat is the rest"),
            Slip(power * (1 - percent / 100), "the efficiency counts from what goes in"),
            Slip(heat / 3, "that is loud music, a third"),
        ),
        work=(
            f"In: {q(power, 'W')} ÷ {rounded(percent / 100)} = {q(power / percent * 100, 'W', 3)}; "
            f"less {q(power, 'W')} out: {q(heat, 'W', 3)}.",
        ),
        is_shown=False,
    )


def least_depth(draws: Draws) -> Draft | None:
    """The least of four depths that takes an amplifier."""
    body, room = draws.pick(BODIES_MM), (draws.pick((50, 60, 70)), draws.pick((60, 70, 80, 90)))
    width = body[0] + draws.pick((10, 20, 30))
    need = body[1] + sum(room)
    depths = (body[1] + 20, body[1] + room[0] + 10, need + 10, need + 150)
    asks = tuple(bay(width, depth, body, room) for depth in depths)
    fits = [bool(each.value("feasible")) for each in asks]
    least = min((depth for depth, each in zip(depths, fits, strict=True) if each), default=0)
    options = judged_options(
        tuple(f"{q(depth, 'mm')} deep" for depth in depths),
        tuple(depth == least for depth in depths),
        (
            "the clearances at both ends are missing",
            "the clearance for the power cables is missing",
            "that is too shallow",
            "it fits, but a smaller space takes it, too",
        ),
    )
    if options is None or options[2].mistake or width >= need:
        return None
    return Statement(
        question=f"An amplifier, {q(body[0], 'mm')} wide and {q(body[1], 'mm')} deep, has its "
        f"RCA inputs in front ({q(room[0], 'mm')} of clearance for the plugs) and its power "
        f"terminals at the back ({q(room[1], 'mm')} for the cables). The space is "
        f"{q(width, 'mm')} wide, with walls all round. Which is the smallest space that takes it?",
        asks=asks,
        options=options,
        work=(
            f"{q(room[0], 'mm')} + {q(body[1], 'mm')} + {q(room[1], 'mm')} = {q(need, 'mm')}; "
            "turned, it is too wide.",
        ),
        is_shown=False,
    )


def warmer_by(draws: Draws) -> Draft | None:
    """What half the power makes of the warming."""
    power, percent = draws.pick(TOTAL_WATTS), draws.pick(CLASS_D_PERCENT)
    area = draws.pick((0.6, 0.8, 1, 1.2, 1.5))
    words, duty, parts = draws.pick(DUTIES)
    full = heated(power, percent, "full", area_m2=area, cabin_c=25).number("rise_c")
    asked = heated(power, percent, duty, area_m2=area, cabin_c=25)
    if full > 60:
        return None
    return Figure(
        question=f"At full power a class D amplifier would warm its closed space by "
        f"{q(full, 'K', 3)}. By how much does it warm it with {words}?",
        asks=(asked,),
        result="rise_c",
        unit="K",
        slips=(
            Slip(full, "that is full power, as with a test tone"),
            Slip(full / parts**0.5, "heat and warming go in step with the power"),
            Slip(full / (11 - parts), f"that is {'an eighth' if parts == 3 else 'a third'}"),
            Slip(full / 2, "that is half the power"),
        ),
        work=(f"{q(full, 'K', 3)} ÷ {parts} = {q(full / parts, 'K', 3)}.",),
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (heat_picked, least_depth, warmer_by)
