"""The usual figures that a plan rests on, as a table of the job sheet."""

from collections.abc import Sequence

from calc.answers.figures import rounded
from calc.answers.sheet import Column, Table
from calc.choosing.candidates import Candidate
from calc.choosing.layouts.feeds import Job
from calc.choosing.origins import assumed_of
from calc.system.usual import SOURCE, Assumed, Usual

_SLOPE = "dB per octave"


def usual_tables(job: Job, candidate: Candidate) -> tuple[Table, ...]:
    """Return the table of usual figures; none where every figure is the reader's."""
    taken = assumed_of(job, candidate)
    if not taken:
        return ()
    return (
        Table(
            name="assumed",
            caption="Usual figures, taken for want of yours",
            columns=(
                Column("Of", wide=True),
                Column("Figure", wide=True),
                Column("Taken"),
                Column("Usual range"),
            ),
            # A side with nothing on it is not worth a line.
            rows=tuple(_row(each) for each in taken if each.usual.value != ()),
            note=f"Put in your own where you know them. {SOURCE[0].upper()}{SOURCE[1:]}.",
            cards=True,
        ),
    )


def _row(taken: Assumed) -> tuple[str, str, str, str]:
    usual = taken.usual
    return (taken.where, usual.what, value_words(usual), range_words(usual))


def value_words(usual: Usual) -> str:
    """Return a usual figure with its unit."""
    if isinstance(usual.value, tuple):
        return " + ".join(usual.value) or "none"
    if isinstance(usual.value, bool):
        return "yes" if usual.value else "no"
    if isinstance(usual.value, str):
        unit = _SLOPE if usual.key == "filter_db_per_octave" else usual.unit
        text = usual.value.replace("-", "–")
        return f"{text}\u202f{unit}" if unit else text
    return _measured((usual.value,), usual)


def range_words(usual: Usual) -> str:
    """Return the usual range with its unit; a dash where there is none to tell."""
    if usual.low is None or usual.high is None:
        return "–"
    return _measured((usual.low, usual.high), usual)


def _measured(values: Sequence[float], usual: Usual) -> str:
    """Return one figure or a range with the unit; a standby current in milliamperes."""
    unit = usual.unit
    if usual.key == "quiescent_a":
        values, unit = [1000 * value for value in values], "mA"
    text = "–".join(map(rounded, values))
    return f"{text}\u202f{unit}" if unit else text
