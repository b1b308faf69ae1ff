"""What the answer of `supply-budget` holds."""

from calc.answers.calculator import Calculator
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.cabling.supply_budget.drawing import bars
from calc.cabling.supply_budget.inputs import CHECKS, FORM, Inputs
from calc.cabling.supply_budget.solve import Left, Result, solve
from calc.cabling.supply_budget.words import judge, sentence, short_cautions, steps
from calc.cabling.words import DUTY_WORDS, PLAYED, RULES_WIN
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES
from calc.physics.amplifier_draw import Duty


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=sentence(result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(
            bars(
                alternator_a=inputs.alternator_a,
                idle_a=result.idle_gives_a,
                vehicle_a=inputs.vehicle_a,
                amplifier_a=[
                    (duty, result.running.current(duty)) for duty in reversed(DUTY_SHARES)
                ],
            ),
        ),
        tables=(_table(result),),
        cautions=(
            *short_cautions(result),
            "Exhaust gas kills: never run the engine indoors to power an amplifier.",
            "Orange cables can kill. On an electric or hybrid vehicle stay on the 12 V side, and "
            "enter the DC/DC converter’s rating from the vehicle maker, with 100 % at idle, in "
            "place "
            "of the alternator’s.",
            "A larger alternator, a second battery or a converted electrical system can start a "
            "fire: "
            f"leave it to an auto-electrician. {RULES_WIN}",
        ),
        steps=steps(inputs, result),
        unknowns=(
            "What the vehicle draws in winter, at night, with everything on: measure it, or add a "
            "third.",
            "The battery’s age and temperature: a cold or old one holds far less. Each discharge "
            "below half its charge wears a starter battery.",
            "Alternators that the engine computer holds back to save fuel: measure the voltage at "
            "the battery with the music playing.",
            "What a hot alternator delivers: less than its rating.",
            "Very large or very small draws: the formula is only a rough guide there.",
            *(
                ("The amplifier’s class: the second figures are for class AB, the thirstier type.",)
                if not result.is_class_known
                else ()
            ),
        ),
        sources=(
            "alternator-idle",
            "battery-reserve",
            "winter-load",
            "peukert",
            *PLAYED,
        ),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {"duties": [_duty_data(result, duty) for duty in DUTY_SHARES]}


def _duty_data(result: Result, duty: Duty) -> dict[str, object]:
    """Return one duty; its class AB figures exist only where the class is not known."""
    left = result.left[duty]
    careful = None if result.is_class_known else result.careful[duty]
    return {
        "duty": duty,
        "amplifier_a": result.running.current(duty),
        "amplifier_ab_a": None if careful is None else result.running.most_current(duty),
        "margin_idle_a": left.idle_a,
        "margin_running_a": left.running_a,
        "engine_off_h": left.engine_off_h,
        "margin_idle_ab_a": None if careful is None else careful.idle_a,
        "margin_running_ab_a": None if careful is None else careful.running_a,
        "engine_off_ab_h": None if careful is None else careful.engine_off_h,
    }


def _figures(result: Result) -> tuple[Figure, ...]:
    normal, heavy = result.careful["normal"], result.careful["heavy"]
    careful = "" if result.is_class_known else ", class AB"
    return (
        Figure(f"In hand at idle, normal listening{careful}", Quantity(normal.idle_a, "A")),
        Figure(f"In hand on the road, loud music{careful}", Quantity(heavy.running_a, "A")),
        Figure(f"Engine off, normal listening{careful}", Quantity(normal.engine_off_h, "h")),
    )


def _table(result: Result) -> Table:
    def cells(duty: Duty) -> list[Quantity]:
        both: list[Left] = [result.left[duty]]
        if not result.is_class_known:
            both.append(result.careful[duty])
        return [
            *(Quantity(left.idle_a) for left in both),
            *(Quantity(left.running_a) for left in both),
            *(Quantity(left.engine_off_h) for left in both),
        ]

    heads = [("In hand at idle", "A"), ("In hand on the road", "A"), ("Engine off", "h")]
    suffixes = ("",) if result.is_class_known else ("", ", class AB")
    return Table(
        name="duties",
        caption="Current in hand, and playing time with the engine off",
        columns=(
            Column("Played at"),
            Column("Amplifier draws", "A", decimals=1),
            *(
                Column(word + suffix, unit, decimals=1 if unit == "A" else 2)
                for word, unit in heads
                for suffix in suffixes
            ),
        ),
        rows=tuple(
            (DUTY_WORDS[duty], Quantity(result.running.current(duty)), *cells(duty))
            for duty in DUTY_SHARES
        ),
        note="The battery makes up a figure below zero.",
    )


SUPPLY_BUDGET = Calculator(
    name="supply-budget",
    title="Will the alternator cope?",
    question="Will the alternator and the battery cope with this amplifier?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)
