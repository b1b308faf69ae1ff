"""What a chapter's calculator takes from the system, and what it gives back to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.answers.calculator import Calculator
from calc.choosing.amplifier_choice import weights_of
from calc.choosing.asks import Ask, Path
from calc.choosing.chapter_asks import asks_of
from calc.choosing.choose import Judge, ranking
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.job import Job
from calc.choosing.plan import plan_of
from calc.inputs.fields import Raw, Rows, Value

# The calculators that can take figures of a system.  The others ask about things that no system
# holds: two filters by themselves, a pad, a cable in the hand, the chart for the wall.
ASKED = (
    "channel-map", "bridged-output", "coil-wiring", "filter-split", "arrival-delay",
    "signal-chain", "turn-on", "mounting-reach", "bay-heat", "power-cable", "kit-list",
    "supply-budget", "gain-voltage", "commissioning", "passive-network", "footprint",
    "cable-tree", "speaker-lead", "meter-check", "boost-cost", "test-tone",
)  # fmt: skip
_THREE = {"yes": "yes", "no": "no", "not-known": ""}


@dataclass(frozen=True)
class Given:
    """What came back to a system.

    system : the fields that changed, as texts; all others stay as they were typed
    changed : in words, what it took over
    kept_out : the labels of changed inputs that the system works out itself, or does not hold;
        figures of an amplifier that stands in the shelf list alone are changed there
    """

    system: Mapping[str, str]
    changed: tuple[str, ...]
    kept_out: tuple[str, ...]


def read_kept(kept: Mapping[str, Raw]) -> dict[str, Value]:
    """Return a system that a device kept as values; raises InputError for what is wrong."""
    known = {key: raw for key, raw in kept.items() if key in FIT_PLAN.form.by_key}
    return FIT_PLAN.form.read(known)


def asks_for(calculator: Calculator, system: Mapping[str, Value]) -> tuple[Ask, ...]:
    """Return what the plan of a system asks of a calculator; nothing without an amplifier.

    An open bay is asked about here too: the reader may want to know what it gives off.
    """
    rows = system["amplifier"] or system["shelf"] or ()
    if not rows:
        return ()
    job, weights = Job(system), weights_of(system)
    best = ranking([Judge(job, one, weights).best() for one in rows])[0]
    plan = plan_of(job, best)
    asks = (*plan.asks, *asks_of(job, plan))
    return tuple(ask for ask in asks if ask.calculator is calculator)


def sources_of(ask: Ask) -> list[str]:
    """Return in words where each input came from; what is not named has its usual value."""
    fields = ask.calculator.form.by_key
    return [f"{fields[key].label}: {one.origin}" for key, one in ask.inputs.items() if one.text]


def give_back(ask: Ask, values: Mapping[str, Value], system: Mapping[str, Value]) -> Given:
    """Return those fields of the system of which inputs are copies, with what was changed.

    values : the calculator's inputs as read
    """
    texts: dict[str, Any] = {}
    before = ask.calculator.form.read(ask.given) if not ask.missing else None
    changed, kept_out = [], []
    for key, field in ask.calculator.form.by_key.items():
        traced = ask.inputs.get(key)
        old = None if before is None else before[key]
        if (before is not None and values[key] == old) or key == "readings":
            continue
        if traced is None or traced.path is None or not _has_place(traced.path, system):
            if before is not None:
                kept_out.append(field.label)
            continue
        text = field.write(values[key])
        if text == traced.text:
            continue
        _put(texts, traced.path, text, system)
        changed.append(f"{field.label} {field.say(values[key]) or field.empty}")
    joined = {
        key: ";".join(",".join(row) for row in text) if isinstance(text, list) else text
        for key, text in texts.items()
    }
    return Given(joined, tuple(changed), tuple(kept_out))


def _has_place(path: Path, system: Mapping[str, Value]) -> bool:
    return len(path) == 1 or int(path[1]) < len(system[str(path[0])] or ())


def _rows(one: Rows, rows: Sequence[Mapping[str, Value]]) -> list[list[str]]:
    cells = [one.cells_of(row) for row in rows]
    return [[column.write(row[column.key]) for column in one.columns] for row in cells]


def _put(texts: dict[str, Any], path: Path, text: str, system: Mapping[str, Value]) -> None:
    key = str(path[0])
    if len(path) == 1:
        texts[key] = text
        return
    field = FIT_PLAN.form.by_key[key]
    assert isinstance(field, Rows)
    column = next(at for at, one in enumerate(field.columns) if one.key == path[2])
    if field.columns[column].kind == "yes/no":
        text = _THREE.get(text, text)
    texts.setdefault(key, _rows(field, system[key]))
    texts[key][int(path[1])][column] = text
