"""What the answer of `supply-budget` holds."""

from calc.answers.calculator import Calculator
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.cabling.supply_budget.drawing import bars
from calc.cabling.supply_budget.inputs import CHECKS, FORM, Inputs
from calc.cabling.supply_budget.solve import Left, Result, solve
from calc.cabling.supply_budget.words import judge, sentence, short_cautions, steps
from calc.cabling.words import DUTIES, DUTY_WORDS, RULES_WIN
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
            "A battery that is run down often dies early; below half its charge a starter battery "
            "is harmed by each discharge (common practice, no source).",
            "Never run the engine in a closed room to feed an amplifier: exhaust gas kills.",
            "A larger alternator, a second battery or a converted electrical system: leave it to "
            "an auto-electrician.",
            "Electric or hybrid: the 12 V side only, never orange cables. A DC/DC converter stands "
            "in the alternator’s place: ask the vehicle maker for its rating, and give that with "
            "100 % at idle.",
            RULES_WIN,
        ),
        steps=steps(inputs, result),
        unknowns=(
            "What the vehicle draws in winter, at night, with everything on: measure it, or add a "
            "third (common practice, no source).",
            "The battery’s age and temperature: a cold or old one may hold half of it.",
            "Alternators that the engine’s computer holds back to save fuel: measure the voltage "
            "at the battery with the music playing.",
            "What a hot alternator gives: less than its rating.",
            "Draws far from a twentieth of the battery’s rating per hour: there Peukert’s law is a "
            "guess.",
            *(
                ("The class of the amplifier: the second figures are for class AB.",)
                if not result.is_class_known
                else ()
            ),
        ),
        sources=(
            "Peukert 1897: t = 20·(C/(20·I))^k with the 20-hour rating, less the reserve.",
            DUTIES,
            "An alternator gives 40–60 % of its rating at idle (from memory).",
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
        Figure(f"Left at idle, normal listening{careful}", Quantity(normal.idle_a, "A")),
        Figure(f"Left on the road, loud music{careful}", Quantity(heavy.running_a, "A")),
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

    heads = [("Left at idle", "A"), ("Left on the road", "A"), ("Engine off", "h")]
    suffixes = ("",) if result.is_class_known else ("", ", class AB")
    return Table(
        name="duties",
        caption="At three duties: what the alternator has left, and the time with the engine off",
        columns=(
            Column("Duty"),
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
        note="A figure below 0 comes out of the battery.",
    )


SUPPLY_BUDGET = Calculator(
    name="supply-budget",
    title="Can the vehicle feed it?",
    question="Will the alternator and the battery carry this amplifier?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)
