"""What the answer of `supply-budget` says: sentence, verdict, cautions, steps."""

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.supply_budget.inputs import Inputs
from calc.cabling.supply_budget.solve import Result
from calc.physics.amplifier_draw import Duty


def sentence(result: Result) -> str:
    """Say it by the careful figures: class AB where the class is not known."""
    normal, heavy = result.careful["normal"], result.careful["heavy"]
    off = "With the engine off nothing is drawn."
    if normal.engine_off_h is not None:
        off = f"Engine off, {_time_words(normal.engine_off_h)} of normal listening."
    answer = _answer(result)
    return (
        f"{answer}: {_left_words(normal.idle_a)} at idle with normal listening, "
        f"{_left_words(heavy.running_a)} on the road with loud music. {off}"
    )


def _answer(result: Result) -> str:
    """Say yes or no in a word or two."""
    normal, heavy = result.careful["normal"], result.careful["heavy"]
    if result.left["normal"].running_a < 0:
        return "No"
    if normal.running_a < 0:
        return "Not if it is class AB"
    return "Yes" if min(normal.idle_a, heavy.running_a) >= 0 else "Yes, with limits"


def _left_words(left_a: float) -> str:
    return f"{quantity(abs(left_a), 'A', 3)} {'short' if left_a < 0 else 'in hand'}"


def _time_words(hours: float) -> str:
    if hours > 100:
        return f"more than {quantity(100.0, 'h')}"
    if hours < 1:
        return f"about {quantity(60 * hours, 'min', 2)}"
    return f"about {quantity(hours, 'h', 2)}"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge by normal listening on the road: there the alternator must keep up."""
    on_road_a = result.left["normal"].running_a
    if on_road_a < 0:
        return Verdict(
            "unsuitable",
            f"{quantity(-on_road_a, 'A', 3)} short on the road with normal listening: the battery "
            "runs down. Switch other things off, turn it down, or choose class D.",
        )
    careful = result.careful
    if careful["normal"].running_a < 0:
        return Verdict(
            "not known",
            "The amplifier’s class is not given. Class AB would be "
            f"{quantity(-careful['normal'].running_a, 'A', 3)} short on the road with normal "
            "listening. Enter the class.",
        )
    limits = [
        words
        for left_a, words in (
            (careful["normal"].idle_a, "at idle"),
            (careful["heavy"].running_a, "on the road with loud music"),
            (careful["full"].running_a, "at full power"),
        )
        if left_a < 0
    ]
    beyond = f", but not {listed(limits)} for long" if limits else ""
    counted = (
        ""
        if result.is_class_known
        else " Worked out for class AB, the thirstier type, because the class is not given."
    )
    return Verdict(
        "suitable",
        f"The alternator keeps up on the road with normal listening{beyond}.{counted}",
    )


def short_cautions(result: Result) -> tuple[str, ...]:
    """Warn of what is short at idle or with loud music, with the amplifier's own share of it."""
    left, careful, running = result.left, result.careful, result.running
    places: tuple[tuple[Duty, float, float, str], ...] = (
        (
            "normal",
            left["normal"].idle_a,
            careful["normal"].idle_a,
            "at idle with normal listening",
        ),
        (
            "heavy",
            left["heavy"].running_a,
            careful["heavy"].running_a,
            "on the road with loud music",
        ),
    )
    cautions = []
    for duty, plain_a, careful_a, where in places:
        for left_a, amplifier_a, word in (
            (plain_a, running.current(duty), ""),
            (careful_a, running.most_current(duty), " if it is class AB"),
        ):
            if left_a >= 0:
                continue
            share_a = min(-left_a, amplifier_a)
            cautions.append(
                f"{quantity(-left_a, 'A', 3)} short {where}{word}, {quantity(share_a, 'A', 3)} of "
                "it the amplifier’s: the battery makes it up. Short stops do no harm; long ones "
                "with "
                "music run it down, so turn it down or start the engine."
            )
            break
    return tuple(cautions)


def steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    idle_a, normal_a = result.idle_gives_a, result.running.current("normal")
    off_a = result.resting.current("normal") + inputs.vehicle_off_a
    hours = result.left["normal"].engine_off_h
    lines = [
        f"At full power it draws {quantity(result.running.full_a, 'A')} at "
        f"{quantity(inputs.running_v, 'V')}, normal listening {quantity(normal_a, 'A')}.",
        f"At idle the alternator delivers {rounded(inputs.idle_percent)} % of "
        f"{quantity(inputs.alternator_a, 'A')} = {quantity(idle_a, 'A')}; minus the vehicle’s "
        f"{quantity(inputs.vehicle_a, 'A')} and the amplifier’s {quantity(normal_a, 'A')}: "
        f"{quantity(idle_a - inputs.vehicle_a - normal_a, 'A')}.",
    ]
    if hours is not None:
        lines.append(
            f"Engine off, normal listening: 20 h × ({quantity(inputs.battery_ah, 'Ah')} ÷ "
            f"(20 h × {quantity(off_a, 'A')}))^{rounded(inputs.peukert)} × "
            f"{rounded(100 - inputs.reserve_percent)} % = {quantity(hours, 'h')}."
        )
    return tuple(lines)
