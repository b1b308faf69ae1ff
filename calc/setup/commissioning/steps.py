"""The steps of commissioning a system: what is read, and what it should be.

The words for a step are found by its key, in `words`.
"""

from dataclasses import dataclass
from typing import Literal

from calc.physics.levels import ratio
from calc.physics.readings import Expected, coil_resistance, gain_window
from calc.setup.commissioning.inputs import Inputs, OutputRow
from calc.setup.ways import Mode

Kind = Literal["ohm", "volt", "tick"]
Finding = Literal["within", "below", "above", "opened", "not known"]

# Common practice, no source, unless said otherwise.
_EARTH_OHM = 0.1
_INSULATION_MOHM = 1.0
_CAPACITOR_OHM = 1000.0
_OFFSET_MV = 50.0
_OFF_V = 0.5
_REST_TOLERANCE_V = 0.3
_RUNNING_BELOW_V, _RUNNING_ABOVE_V = 0.7, 0.5
_TRIGGER_BELOW_V, _TRIGGER_ABOVE_V = 1.5, 0.5
_SOURCE_TOLERANCE_DB = 1.0
NOTHING_KNOWN = Expected()


@dataclass(frozen=True, kw_only=True)
class Step:
    """One reading or one tick.

    phase : 0 nothing powered, 1 the engine off, 2 the speakers on and the engine running
    kind : `ohm` may read open, `volt` is any other number, `tick` is yes or no
    aim : the value to set, where the reading is set and not only read
    output : the number of the output that it is about; None for one about the whole system
    """

    key: str
    phase: int
    kind: Kind
    unit: str = ""
    expected: Expected = NOTHING_KNOWN
    aim: float | None = None
    output: int | None = None


def steps_of(inputs: Inputs) -> tuple[Step, ...]:
    """Return the steps for this system, in their order."""
    outputs = list(enumerate(inputs.outputs, 1))
    return (
        _ohms("earth_ohm", "Ω", Expected(low=0.0, high=_EARTH_OHM)),
        _insulation("supply_insulation_mohm"),
        *(_coil(at, row) for at, row in outputs),
        _insulation("leads_insulation_mohm"),
        _tick("polarity", 0),
        *_powered(inputs),
        *(_gain(at, row) for at, row in outputs),
        *_playing(inputs),
    )


def _ohms(key: str, unit: str, expected: Expected, output: int | None = None) -> Step:
    return Step(key=key, phase=0, kind="ohm", unit=unit, expected=expected, output=output)


def _volts(key: str, phase: int, low: float, high: float, unit: str = "V") -> Step:
    return Step(key=key, phase=phase, kind="volt", unit=unit, expected=Expected(low=low, high=high))


def _tick(key: str, phase: int) -> Step:
    return Step(key=key, phase=phase, kind="tick")


def _insulation(key: str) -> Step:
    return _ohms(key, "MΩ", Expected(low=_INSULATION_MOHM, open_is_right=True))


def _coil(at: int, row: OutputRow) -> Step:
    expected = Expected(low=_CAPACITOR_OHM, open_is_right=True)
    if row.path != "capacitor":
        expected = coil_resistance(
            load_ohm=row.load_ohm, lead_ohm=row.lead_ohm, has_network=row.path == "network"
        )
    return _ohms(f"coil_{at}_ohm", "Ω", expected, at)


def _powered(inputs: Inputs) -> list[Step]:
    rest, drawn = inputs.resting_v, inputs.quiescent_a
    parked = NOTHING_KNOWN if drawn is None else Expected(low=0.0, high=drawn)
    steps = [
        _volts("rest_v", 1, rest - _REST_TOLERANCE_V, rest + _REST_TOLERANCE_V),
        *_turning_on(inputs.turned_on_by, rest),
        Step(key="parked_a", phase=1, kind="volt", unit="A", expected=parked),
        _volts("offset_mv", 1, -_OFFSET_MV, _OFFSET_MV, "mV"),
    ]
    if inputs.factory_v is not None:
        steps.append(_volts("clean_v", 1, 0.0, inputs.factory_v * ratio(_SOURCE_TOLERANCE_DB)))
    if inputs.source_v is not None:
        aim = inputs.source_v * ratio(inputs.outputs[0].tone_dbfs)
        expected = Expected(
            low=aim * ratio(-_SOURCE_TOLERANCE_DB), high=aim * ratio(_SOURCE_TOLERANCE_DB)
        )
        steps.append(
            Step(key="source_v", phase=1, kind="volt", unit="V", expected=expected, aim=aim)
        )
    return steps


def _turning_on(way: Mode | None, rest_v: float) -> list[Step]:
    """Return the steps that show that it turns on and off, with the engine off.

    Sensing the running engine's voltage is tried later, with the engine running.
    """
    if way == "supply-sensing":
        return []
    if way in ("trigger", "relay-added"):
        return [
            _volts("trigger_on_v", 1, rest_v - _TRIGGER_BELOW_V, rest_v + _TRIGGER_ABOVE_V),
            _volts("trigger_off_v", 1, -_OFF_V, _OFF_V),
        ]
    return [_tick("turns_on", 1), _tick("turns_off", 1)]


def _gain(at: int, row: OutputRow) -> Step:
    """Return the step that sets a gain: to the starting voltage if there is one, else the ceiling.

    The ceiling is what the output brings cleanly, or the speakers bear; nothing goes beyond it.
    """
    return Step(
        key=f"target_{at}_v", phase=1, kind="volt", unit="V", aim=row.aim_v, output=at,
        expected=gain_window(row.aim_v, ceiling_v=row.ceiling_v),
    )  # fmt: skip


def _playing(inputs: Inputs) -> list[Step]:
    running = inputs.running_v
    with_engine = ["turns_on", "turns_off"] if inputs.turned_on_by == "supply-sensing" else []
    return [
        *(_tick(key, 2) for key in with_engine),
        _volts("idle_v", 2, running - _RUNNING_BELOW_V, running + _RUNNING_ABOVE_V),
        _volts("drop_v", 2, 0.0, inputs.drop_v),
        *(_tick(key, 2) for key in ("noise", "heat", "loose")),
    ]


def is_open_allowed(step: Step) -> bool:
    """Return whether “open” is a reading of this step."""
    return step.kind == "ohm"


def finding_of(step: Step, reading: str) -> Finding:
    """Return where a reading lies beside what is expected; a tick that is missing lies below.

    reading : a number, `open`, `yes` or `no`, as fits the step

    >>> step = Step(key="a_v", phase=0, kind="volt", expected=Expected(high=1))
    >>> finding_of(step, "2"), finding_of(step, "1")
    ('above', 'within')
    """
    if step.kind == "tick":
        return "within" if reading == "yes" else "below"
    if reading == "open":
        return "within" if step.expected.open_is_right else "opened"
    if not step.expected.is_known:
        return "not known"
    return step.expected.place(number_of(reading))


def number_of(reading: str) -> float:
    """Return the number of a reading with a point or a comma.

    >>> number_of("12,6")
    12.6
    """
    return float(reading.replace(",", "."))
