"""The calculator `turn-on`: how the amplifier turns on in this vehicle."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table, Verdict
from calc.inputs.fields import Number
from calc.setup.drawings import turn_on_drawing
from calc.setup.fields import three_valued, truth, word_of
from calc.setup.turning_on import (
    MODE_WORDS,
    MODES,
    Mode,
    Senses,
    Vehicle,
    all_of,
    best,
    drain_ah,
    opposite,
    works,
)

_TOO_MUCH_PERCENT = 50.0  # a starter battery that has lost half may not start an engine
_TABLE_A = (0.005, 0.02, 0.5, 1.0)


def _vehicle(given: Mapping[str, Any]) -> Vehicle:
    return Vehicle(
        has_trigger=truth(given["trigger_available"]),
        has_speaker_signal=truth(given["speaker_level_signal"]),
        is_always_live=truth(given["supply_always_live"]),
        stops_engine=truth(given["stop_start"]),
        has_button=truth(given["push_button"]),
    )


def _senses(given: Mapping[str, Any]) -> Senses:
    return Senses(
        trigger=truth(given["amp_trigger"]),
        signal=truth(given["amp_signal_sensing"]),
        supply=truth(given["amp_supply_sensing"]),
    )


def why(mode: Mode, vehicle: Vehicle, senses: Senses) -> str:
    """Return the reason why a way works, does not, or is open, in a sentence."""
    if mode == "trigger":
        return (
            _why_parts(
                (
                    senses.trigger,
                    "the amplifier has no trigger terminal",
                    "a trigger terminal at the amplifier",
                ),
                (
                    vehicle.has_trigger,
                    "the head unit has no trigger wire",
                    "a trigger wire at the head unit",
                ),
            )
            or "The head unit’s trigger wire turns it on and off with the music."
        )
    if mode == "signal-sensing":
        return (
            _why_parts(
                (
                    senses.signal,
                    "the amplifier does not sense a signal",
                    "signal sensing at the amplifier",
                ),
                (
                    vehicle.has_speaker_signal,
                    "no speaker leads go to the amplifier",
                    "a signal over speaker leads",
                ),
            )
            or "It turns on with the signal on the speaker leads, a little late, and off later."
        )
    if mode == "supply-sensing":
        if senses.supply is False:  # decides by itself, whatever the engine does
            return "This amplifier has no voltage sensing."
        return (
            _why_parts(
                (
                    senses.supply,
                    "the amplifier has no voltage sensing",
                    "supply sensing at the amplifier",
                ),
                (
                    opposite(vehicle.stops_engine),
                    "the engine stops at each halt, and the music with it",
                    "whether the engine stops by itself at a halt",
                ),
            )
            or "It turns on with the running engine’s voltage, and plays only while that runs."
        )
    return _why_ignition(vehicle, senses)


def _why_ignition(vehicle: Vehicle, senses: Senses) -> str:
    """Say how a feed that goes off with the ignition turns it on; this way always exists."""
    if senses.trigger is False:
        told = (
            "The amplifier has no remote terminal: a relay rated for the main fuse switches its "
            "supply. A feed that goes off with the ignition, fused at 1 A, works the relay."
        )
    else:
        told = (
            "A feed that is live with the key at accessory and stays live through an engine "
            "restart, fused at 1 A where it is tapped, gives the remote signal through a relay."
        )
    if vehicle.has_button is not False:
        told += (
            " Behind a start button circuits stay live for a while, or wake by themselves: measure "
            "live when on, dead when off, and dead still after 30 min."
        )
    if senses.trigger is None:
        told += " Look for the remote terminal first: nearly every amplifier has one."
    return told


def _why_parts(*parts: tuple[bool | None, str, str]) -> str:
    """Return what stands against it; else what is missing; else nothing."""
    against = [told for holds, told, _ in parts if holds is False]
    missing = [told for holds, _, told in parts if holds is None]
    if against:
        told = "; ".join(against)
        return f"{told[0].upper()}{told[1:]}."
    return f"Not known: {listed(missing)}." if missing else ""


def turn_on(given: Mapping[str, Any]) -> Sheet:
    """Compute `turn-on`."""
    vehicle, senses = _vehicle(given), _senses(given)
    chosen = best(vehicle, senses)
    states = {mode: works(mode, vehicle, senses) for mode in MODES}
    drain = drain_ah(quiescent_a=given["quiescent_a"], parked_days=given["parked_days"])
    percent = 100 * drain / given["battery_ah"]
    parked = {True: drain, False: 0.0, None: None}[vehicle.is_always_live]
    reasons = {mode: why(mode, vehicle, senses) for mode in MODES}
    return Sheet(
        sentence=_sentence(given, chosen, drain, percent),
        verdict=_verdict(given, chosen, percent),
        results={
            "modes": [
                {"mode": mode, "works": word_of(states[mode]), "why": reasons[mode]}
                for mode in MODES
            ],
            "best": chosen,
            "drain_ah": drain,
            "drain_percent": percent,
            "drain_parked_ah": parked,
        },
        figures=(
            Figure(f"Drawn in {_days(given)}", Quantity(drain, "Ah")),
            Figure("Of the battery", Quantity(percent, "%")),
        ),
        drawings=(turn_on_drawing(chosen, has_terminal=senses.trigger is not False),),
        tables=(
            Table(
                name="ways",
                caption="The ways to turn it on",
                columns=(Column("Way"), Column("Works"), Column("Why", wide=True)),
                rows=tuple(
                    (
                        MODE_WORDS[mode],
                        word_of(states[mode]).replace("-", " "),
                        reasons[mode],
                    )
                    for mode in MODES
                ),
                marked=MODES.index(chosen),
            ),
            _drain_table(given),
        ),
        cautions=(
            "Never take the remote signal from a circuit of airbags, brakes, lights or engine "
            "control. A fuse of 1 A at its source protects the wire.",
            "No circuit that a warranty or an inspection rests on is tapped without the vehicle "
            "maker’s body-builder rules.",
            *(
                (
                    "Signal sensing on a factory unit: some keep a test voltage on the leads after "
                    "locking, and the amplifier stays awake. It then draws 0.5 to 1.5 A, 30 Ah in "
                    "20 to 60 h. Lock the vehicle, wait, and measure.",
                )
                if chosen == "signal-sensing"
                else ()
            ),
        ),
        steps=(
            f"Charge: {quantity(given['quiescent_a'], 'A')} × 24 h × "
            f"{rounded(given['parked_days'])} = {quantity(drain, 'Ah')}.",
            f"Of {quantity(given['battery_ah'], 'Ah')}: {quantity(percent, '%', 3)}.",
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


def _days(given: Mapping[str, Any]) -> str:
    days = given["parked_days"]
    return f"{rounded(days)} day{'' if days == 1 else 's'} of parking"


def _sentence(
    given: Mapping[str, Any],
    chosen: Mode,
    drain: float,
    percent: float,
) -> str:
    cost = (
        f"{quantity(given['quiescent_a'], 'A')} over {_days(given)} take "
        f"{quantity(drain, 'Ah', 3)}, {quantity(percent, '%', 3)} of the battery."
    )
    if given["supply_always_live"] == "no":
        cost = "Its supply goes off with the ignition, so that parking costs nothing."
    return f"Turn it on by {_with_article(chosen)}. {cost}"


def _with_article(mode: Mode) -> str:
    return {
        "trigger": "the trigger wire",
        "signal-sensing": "signal sensing",
        "supply-sensing": "supply-voltage sensing",
        "relay-added": "an ignition-switched feed with a relay",
    }[mode]


def _verdict(given: Mapping[str, Any], chosen: Mode, percent: float) -> Verdict:
    empties = all_of(percent >= _TOO_MUCH_PERCENT, truth(given["supply_always_live"]))
    told = f"{quantity(percent, '%', 3)} of the battery gone after {_days(given)}"
    if empties:
        return Verdict("unsuitable", f"{told}: the engine may not start")
    if empties is None:
        return Verdict("not known", f"{told} if its supply stays live; whether it does is missing")
    return Verdict("suitable", f"{MODE_WORDS[chosen]} works")


def _drain_table(given: Mapping[str, Any]) -> Table:
    currents = sorted({*_TABLE_A, given["quiescent_a"]})
    rows = []
    for ampere in currents:
        drain = drain_ah(quiescent_a=ampere, parked_days=given["parked_days"])
        half_h = given["battery_ah"] / 2 / ampere if ampere else None
        rows.append(
            (
                Quantity(ampere),
                Quantity(drain),
                Quantity(100 * drain / given["battery_ah"]),
                "never" if half_h is None else Quantity(half_h / 24),
            )
        )
    return Table(
        caption=f"What {_days(given)} cost",
        columns=(
            Column("Current", "A"),
            Column("Charge", "Ah"),
            Column("Of the battery", "%"),
            Column("Half of it gone after", "days"),
        ),
        rows=tuple(rows),
        marked=currents.index(given["quiescent_a"]),
        note="More than 100 %: empty before the end.",
    )


TURN_ON = Calculator(
    name="turn-on",
    title="How it turns on",
    question="There is no trigger wire in this car: how does the amplifier know when to play?",
    fields=(
        three_valued(
            "trigger_available", "Head unit has a trigger wire", "no",
            "A wire that is live while it plays; not the one for an aerial motor.",
        ),
        three_valued(
            "speaker_level_signal", "Signal comes over speaker leads", "yes",
            "Factory leads go to the high-level input.",
        ),
        three_valued(
            "supply_always_live", "Supply is always live", "yes",
            "Yes: straight from the battery, as is usual.",
        ),
        three_valued(
            "stop_start", "Engine stops by itself at a halt", "yes",
            "So do most hybrids: their engine rests while they drive.",
        ),
        three_valued("push_button", "Started by a button", "no", "No: by a key that turns."),
        three_valued("amp_trigger", "Trigger terminal", "yes"),
        three_valued("amp_signal_sensing", "Senses the signal", "yes"),
        three_valued(
            "amp_supply_sensing", "Senses the running engine’s voltage", "no",
        ),
        Number(
            key="quiescent_a", label="Drawn while parked", default="0.02", low=0, high=20,
            hint="Turned off: some 0.005 to 0.02 A; left on: 0.5 to 2 A (from memory).",
        ),
        Number(
            key="parked_days", label="Days parked", default="7", low=0, high=365,
        ),
        Number(
            key="battery_ah", label="Battery", default="60", low=5, high=1000,
        ),
    ),
    groups=(
        (
            "The vehicle",
            ("trigger_available", "speaker_level_signal", "supply_always_live", "stop_start",
             "push_button"),
        ),
        ("The amplifier", ("amp_trigger", "amp_signal_sensing", "amp_supply_sensing")),
        ("Parking", ("quiescent_a", "parked_days", "battery_ah")),
    ),
    compute=turn_on,
)  # fmt: skip
