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

_ALL_PERCENT = 100
_TABLE_A = (0.005, 0.02, 0.5, 1.0)
_STAYS_AWAKE = (
    "Some factory radios keep a voltage on the speaker leads after locking, and the amplifier "
    "stays awake and empties the battery. Lock the vehicle, wait, and measure the current."
)

_METHOD: dict[Mode, str] = {
    "trigger": "the remote turn-on lead",
    "signal-sensing": "signal-sensing turn-on",
    "supply-sensing": "voltage-sensing turn-on",
    "relay-added": "an ignition-switched relay",
}
_WORKS: dict[Mode, str] = {
    "trigger": "The head unit switches it on and off.",
    "signal-sensing": "Works from the speaker leads; it switches off a little late.",
    "supply-sensing": "Works from the supply voltage; it plays only with the engine running.",
    "relay-added": "Works in every vehicle; the feed has to be found with a meter.",
}


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=(
            Figure(f"Standby drain in {_days(inputs)}", Quantity(result.drain_ah, "Ah")),
            Figure("Share of the battery", Quantity(result.drain_percent, "%")),
        ),
        drawings=(turn_on_drawing(result.best, has_terminal=result.has_terminal),),
        tables=(
            _ways_table(result),
            _drain_table(inputs),
        ),
        cautions=(
            "A tap on an airbag, brake, lighting or engine-control circuit can disable it. Never "
            "take the remote signal from one, and fuse the lead at 1 A where it is tapped.",
            "Tapping a factory circuit can cost the warranty or an inspection. Follow the vehicle "
            "maker’s body-builder rules.",
            *((_STAYS_AWAKE,) if result.best == "signal-sensing" else ()),
        ),
        steps=(
            f"Charge: {quantity(inputs.quiescent_a, 'A')} × 24 h × "
            f"{rounded(inputs.parked_days)} = {quantity(result.drain_ah, 'Ah')}.",
            f"Share of {quantity(inputs.battery_ah, 'Ah')}: "
            f"{quantity(result.drain_percent, '%', 3)}. We take half of a starter battery as the "
            "most it can lose and still start the engine.",
        ),
        unknowns=(
            "What else drains the battery, and how full it is when you park: an old or half-empty "
            "one has less to give.",
            "Whether the amplifier turns off: measure its current some time after locking.",
        ),
        sources=(
            "standby-drain",
            "ignition-feed",
            "voltage-sensing",
            "remote-output",
            "circuit-symbols",
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
        caption="Ways to turn it on",
        columns=(Column("Method"), Column("Works"), Column("Reason", wide=True)),
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
    return f"{rounded(days)} day{'' if days == 1 else 's'}"


def _sentence(inputs: Inputs, result: Result) -> str:
    method = f"Use {_METHOD[result.best]}."
    if result.vehicle.is_always_live is False:
        return f"{method} Its supply goes off with the ignition, so there is no standby drain."
    drain = quantity(result.drain_ah, "Ah", 2)
    if result.drain_percent >= _ALL_PERCENT:
        return f"{method} {_gone(inputs, result)}."
    return (
        f"{method} Standby drain is {drain}, {quantity(result.drain_percent, '%', 2)} of the "
        f"battery, in {_days(inputs)}."
    )


def _gone(inputs: Inputs, result: Result) -> str:
    """Say how much of the battery parking takes, or when it is empty."""
    if result.drain_percent >= _ALL_PERCENT:
        days = inputs.parked_days * _ALL_PERCENT / result.drain_percent
        return f"Standby drain empties the battery in {rounded(days, 2)} days"
    return f"{quantity(result.drain_percent, '%', 2)} of the battery is gone after {_days(inputs)}"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether it can be turned on without emptying the battery while parked."""
    cost = _gone(inputs, result)
    if result.empties:
        return Verdict(
            "unsuitable",
            f"{cost}: the engine might not start. Find what keeps the amplifier awake, or switch "
            "its supply with a relay.",
        )
    if result.empties is None:
        return Verdict(
            "not known",
            f"{cost} if the supply stays live. Find out whether it does, and answer that question.",
        )
    return Verdict("suitable", _WORKS[result.best])


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
        caption=f"Standby drain in {_days(inputs)}",
        columns=(
            Column("Standby drain", "A"),
            Column("Charge", "Ah"),
            Column("Share of the battery", "%"),
            Column("Half of it gone", "days"),
        ),
        rows=tuple(rows),
        marked=currents.index(inputs.quiescent_a),
        note="Above 100 % the battery is empty before the end.",
    )


TURN_ON = Calculator(
    name="turn-on",
    title="How it turns on",
    question="This car has no remote turn-on lead. How do I switch the amplifier on?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)
