"""What the answer of `turn-on` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table, Verdict
from calc.physics.charge import drain_ah
from calc.setup.drawings import turn_on_drawing
from calc.setup.turn_on.inputs import FORM, Inputs
from calc.setup.turn_on.solve import Result, solve
from calc.setup.turn_on.words import reason_of
from calc.setup.ways import MODE_WORDS, MODES, Mode
from calc.setup.words import word_of

_TABLE_A = (0.005, 0.02, 0.5, 1.0)
_STAYS_AWAKE = (
    "Signal sensing on a factory unit: some keep a test voltage on the leads after locking, and "
    "the amplifier stays awake. It then draws 0.5 to 1.5 A, 30 Ah in 20 to 60 h. Lock the vehicle, "
    "wait, and measure."
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=(
            Figure(f"Drawn in {_days(inputs)}", Quantity(result.drain_ah, "Ah")),
            Figure("Of the battery", Quantity(result.drain_percent, "%")),
        ),
        drawings=(turn_on_drawing(result.best, has_terminal=result.has_terminal),),
        tables=(
            _ways_table(result),
            _drain_table(inputs),
        ),
        cautions=(
            "Never take the remote signal from a circuit of airbags, brakes, lights or engine "
            "control. A fuse of 1 A at its source protects the wire.",
            "No circuit that a warranty or an inspection rests on is tapped without the vehicle "
            "maker’s body-builder rules.",
            *((_STAYS_AWAKE,) if result.best == "signal-sensing" else ()),
        ),
        steps=(
            f"Charge: {quantity(inputs.quiescent_a, 'A')} × 24 h × "
            f"{rounded(inputs.parked_days)} = {quantity(result.drain_ah, 'Ah')}.",
            f"Of {quantity(inputs.battery_ah, 'Ah')}: {quantity(result.drain_percent, '%', 3)}.",
        ),
        unknowns=(
            "What else the vehicle draws when parked, and how full the battery is when you leave "
            "it: an old or half-empty one has less to give.",
            "Whether the amplifier really turns off: measure its current some time after locking.",
        ),
        sources=(
            "Charge is current times time. Half of a starter battery as the limit, 5 to 20 mA "
            "turned off, 0.5 to 2 A left on: from memory.",
            "Ways of turning on and what speaks against them: common practice, no source.",
            "Symbols: IEC 60617.",
        ),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "modes": [
            {"mode": mode, "works": word_of(result.works[mode]), "why": _reason(mode, result)}
            for mode in MODES
        ],
        "best": result.best,
        "drain_ah": result.drain_ah,
        "drain_percent": result.drain_percent,
        "drain_parked_ah": result.parked_ah,
    }


def _reason(mode: Mode, result: Result) -> str:
    return reason_of(mode, result.vehicle, result.senses)


def _ways_table(result: Result) -> Table:
    return Table(
        name="ways",
        caption="The ways to turn it on",
        columns=(Column("Way"), Column("Works"), Column("Why", wide=True)),
        rows=tuple(
            (
                MODE_WORDS[mode],
                word_of(result.works[mode]).replace("-", " "),
                _reason(mode, result),
            )
            for mode in MODES
        ),
        marked=MODES.index(result.best),
    )


def _days(inputs: Inputs) -> str:
    days = inputs.parked_days
    return f"{rounded(days)} day{'' if days == 1 else 's'} of parking"


def _sentence(inputs: Inputs, result: Result) -> str:
    cost = (
        f"{quantity(inputs.quiescent_a, 'A')} over {_days(inputs)} take "
        f"{quantity(result.drain_ah, 'Ah', 3)}, {quantity(result.drain_percent, '%', 3)} of the "
        "battery."
    )
    if result.vehicle.is_always_live is False:
        cost = "Its supply goes off with the ignition, so that parking costs nothing."
    return f"Turn it on by {_with_article(result.best)}. {cost}"


def _with_article(mode: Mode) -> str:
    return {
        "trigger": "the trigger wire",
        "signal-sensing": "signal sensing",
        "supply-sensing": "supply-voltage sensing",
        "relay-added": "an ignition-switched feed with a relay",
    }[mode]


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether it can be turned on without emptying the battery while parked."""
    cost = f"{quantity(result.drain_percent, '%', 3)} of the battery gone after {_days(inputs)}"
    if result.empties:
        return Verdict("unsuitable", f"{cost}: the engine may not start")
    if result.empties is None:
        return Verdict("not known", f"{cost} if its supply stays live; whether it does is missing")
    return Verdict("suitable", f"{MODE_WORDS[result.best]} works")


def _drain_table(inputs: Inputs) -> Table:
    currents = sorted({*_TABLE_A, inputs.quiescent_a})
    rows = []
    for ampere in currents:
        drain = drain_ah(quiescent_a=ampere, parked_days=inputs.parked_days)
        half_h = inputs.battery_ah / 2 / ampere if ampere else None
        rows.append(
            (
                Quantity(ampere),
                Quantity(drain),
                Quantity(100 * drain / inputs.battery_ah),
                "never" if half_h is None else Quantity(half_h / 24),
            )
        )
    return Table(
        name="drains",
        caption=f"What {_days(inputs)} cost",
        columns=(
            Column("Current", "A"),
            Column("Charge", "Ah"),
            Column("Of the battery", "%"),
            Column("Half of it gone after", "days"),
        ),
        rows=tuple(rows),
        marked=currents.index(inputs.quiescent_a),
        note="More than 100 %: empty before the end.",
    )


TURN_ON = Calculator(
    name="turn-on",
    title="How it turns on",
    question="There is no trigger wire in this car: how does the amplifier know when to play?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)
