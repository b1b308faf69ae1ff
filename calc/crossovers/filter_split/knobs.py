"""What every filter of a unit is set to, in a word or two, as a sheet at the bench has it."""

from dataclasses import dataclass

from calc.answers.figures import quantity
from calc.crossovers.filter_split.solve import Result
from calc.crossovers.splitting.model import Box, Control
from calc.crossovers.splitting.problem import Setting, dial_of
from calc.physics.filters import Kind

SHORT: dict[Kind, str] = {"high-pass": "HPF", "low-pass": "LPF"}


@dataclass(frozen=True)
class Knob:
    """A filter by its short name, the channels it acts on, and its setting in words."""

    name: str
    channels: frozenset[int]
    words: str


def knobs_of(result: Result, box: Box) -> tuple[Knob, ...]:
    """Return the filters of a unit, in the order of the rows."""
    return tuple(
        Knob(SHORT[control.kind], control.channels, setting_words(control, setting))
        for control, setting in result.settings_of(box)
    )


def setting_words(control: Control, setting: Setting) -> str:
    """Say what one filter is set to: off, or frequency and slope, with what its dial shows."""
    if setting is None:
        return "off"
    times, dial = dial_of(control, setting)
    corner = quantity(setting[0], "Hz")
    if len(control.times) > 1:
        corner = f"{corner} (dial {quantity(dial)}, range × {quantity(times)})"
    return f"{corner}, {6 * setting[1]}\u202fdB/oct"
