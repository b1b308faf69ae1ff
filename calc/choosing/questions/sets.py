"""What several amplifiers draw together, each with its own efficiency and its own range."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from calc.answers.calculator import Calculator, Inputs, Result
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.demand import (
    IDLE_RANGE_A,
    draw_ends,
    idle_draw_w,
    usual_efficiency,
)
from calc.choosing.questions.question import Known, Unsure
from calc.inputs.field_base import Field, Value
from calc.physics.amplifier_draw import AmplifierClass, joint_efficiency
from calc.system.amplifier import Amplifier
from calc.system.usual import amplifier_of

End = Literal["worst", "best", "likely"]


@dataclass(frozen=True, kw_only=True)
class TreeLoad:
    """One of the amplifiers of a set, as the power cable sees it.

    amplifier : with usual figures where none are told
    total_w : the power of all its outputs together [W]; None where it is not known
    is_later : planned for later: cable, holder and block are made for it, fuses for the others
    """

    amplifier: Amplifier
    total_w: float | None
    is_later: bool = False

    @property
    def name(self) -> str:
        """The amplifier's name."""
        return self.amplifier.name


def later_load(amplifier: Amplifier) -> TreeLoad:
    """Return an amplifier that is planned for later: with the most that its plate permits.

    What hangs on it is not planned yet.

    >>> later_load(Amplifier(name="A", channels=1, power_4ohm_w=300.0)).total_w
    300.0
    """
    made, _ = amplifier_of(amplifier)
    each = [made.power_4ohm_w, made.power_2ohm_w, made.power_8ohm_w]
    if made.rated_bridged_w is not None and (made.channels or 0) > 1:
        each.append(made.rated_bridged_w / 2)
    known = [watts for watts in each if watts is not None]
    total_w = (made.channels or 0) * max(known) if known else None
    return TreeLoad(amplifier=made, total_w=total_w, is_later=True)


def load_rows(job: Job, loads: Sequence[TreeLoad], names: Sequence[str]) -> list[dict[str, Value]]:
    """Return each amplifier's draw as a row: told, or the usual of its own class.

    names : the places that they stand at
    """
    rows: list[dict[str, Value]] = []
    for load, name in zip(loads, names, strict=True):
        amplifier = load.amplifier
        percent = amplifier.efficiency_percent or usual_efficiency(amplifier.amplifier_class)
        idle_w = amplifier.idle_w
        if idle_w is None:
            idle_w = idle_draw_w(job, load.total_w, percent, IDLE_RANGE_A[1])
        fuses_a = amplifier.own_fuses_a
        rows.append(
            {
                "at": name,
                "power_w": load.total_w,
                "efficiency_percent": percent,
                "amplifier_class": amplifier.amplifier_class,
                "idle_w": idle_w,
                "own_fuses_a": None if fuses_a is None else sum(fuses_a),
                "regulated_min_v": amplifier.regulated_min_v if amplifier.regulated else None,
                "later": load.is_later,
            }
        )
    return rows


def rows_unsure(
    job: Job,
    loads: Sequence[TreeLoad],
    rows: Sequence[Mapping[str, Value]],
    fields: Mapping[str, Field],
    key: str,
) -> Unsure | None:
    """Return how bad and how good the draw of several may be, each within its own range.

    rows : as `load_rows` has them
    fields : of efficiency and idle draw, for the most that they take
    key : the field of the rows
    """
    ends = [
        None
        if load.total_w is None
        else draw_ends(job, load.total_w, load.amplifier, fields, f"{name}’s")
        for load, name in zip(loads, (str(row["at"]) for row in rows), strict=True)
    ]
    told = [each for each in ends if each is not None]
    if not told:
        return None

    def values(at: End) -> dict[str, Value]:
        made = []
        for row, each in zip(rows, ends, strict=True):
            changed = dict(row)
            if each is not None:
                changed["efficiency_percent"], changed["idle_w"] = getattr(each, at)
            made.append(changed)
        return {key: tuple(made)}

    return Unsure(
        tuple(gap for each in told for gap in each.gaps),
        worst=values("worst"),
        best=values("best"),
        likely=values("likely"),
        keys=tuple(dict.fromkeys(each_key for each in told for each_key in each.keys)),
    )


def joint_class(loads: Sequence[TreeLoad]) -> AmplifierClass | None:
    """Return the class by which a set is reckoned: AB where one is, for it draws more with music.

    None where a class is not known, unless one is AB.
    """
    classes = {load.amplifier.amplifier_class for load in loads}
    if "ab" in classes:
        return "ab"
    return "d" if classes == {"d"} else None


def set_figures(job: Job, loads: Sequence[TreeLoad], power: str) -> dict[str, Known]:
    """Return power, class, efficiency and idle draw of a set, as calculators of one ask for them.

    power : the field of the power
    """
    rows = load_rows(job, loads, [load.name for load in loads])
    words = "worked out: all amplifiers together"
    powers = [load.total_w for load in loads if load.total_w is not None]
    if len(powers) < len(loads):
        return dict.fromkeys((power, "efficiency_percent", "idle_w"), Known(None, words)) | {
            "amplifier_class": Known(joint_class(loads), words)
        }
    figures: dict[str, Value] = {
        power: sum(powers),
        "amplifier_class": joint_class(loads),
        "efficiency_percent": joint_efficiency(powers, [row["efficiency_percent"] for row in rows]),
        "idle_w": sum(row["idle_w"] for row in rows),
    }
    return {key: Known(value, words) for key, value in figures.items()}


def set_unsure(
    job: Job, loads: Sequence[TreeLoad], calculator: Calculator[Inputs, Result], power: str
) -> Unsure | None:
    """Return how bad and how good the draw of a set may be, each amplifier at its own end.

    power : the calculator's field of the power
    """
    columns = calculator.form.by_key
    rows = load_rows(job, loads, [load.name for load in loads])
    unsure = rows_unsure(job, loads, rows, columns, "rows")
    if unsure is None or any(load.total_w is None for load in loads):
        return None

    def joint(end: Mapping[str, Value]) -> Mapping[str, Value]:
        made = end["rows"]
        powers = [row["power_w"] for row in made]
        return {
            power: sum(powers),
            "efficiency_percent": joint_efficiency(
                powers, [row["efficiency_percent"] for row in made]
            ),
            "idle_w": sum(row["idle_w"] for row in made),
        }

    return unsure.at_each_end(joint)
