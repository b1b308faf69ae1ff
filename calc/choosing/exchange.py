"""What a chapter's calculator takes from the system, and what it gives back to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from types import ModuleType

from calc.choosing import questions
from calc.choosing.candidates import ranking
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.fit_plan import Inputs as Planning
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import AnyQuestion, Plan, plan_of
from calc.choosing.questions.cabling import lead_questions, tree_question
from calc.choosing.questions.coils import meter_questions
from calc.choosing.questions.crossovers import network_questions
from calc.choosing.questions.placement import footprint_question
from calc.choosing.questions.question import Path
from calc.choosing.questions.setup import boost_questions, tone_questions
from calc.choosing.search import Judge
from calc.inputs.field_base import Raw, Value
from calc.inputs.rows import Rows
from calc.system.amplifier import Amplifier

_THREE = {"yes": "yes", "no": "no", "not-known": ""}


@cache
def asked() -> frozenset[str]:
    """Return the names of the calculators that can take figures of a system.

    Those whose packages a module of questions imports.  The others ask about things that no
    system holds: two filters by themselves, a pad, a cable in the hand, the chart for the wall.
    """
    # Only the build asks this: no page needs these two.
    from importlib import import_module
    from pkgutil import iter_modules

    modules = [
        import_module(f"{questions.__name__}.{module.name}")
        for module in iter_modules(questions.__path__)
    ]
    packages = {value for module in modules for value in vars(module).values() if _is_asked(value)}
    return frozenset(package.__name__.rsplit(".", 1)[-1].replace("_", "-") for package in packages)


def _is_asked(value: object) -> bool:
    """Tell whether it is the package of a calculator, which holds its constant."""
    return isinstance(value, ModuleType) and hasattr(value, value.__name__.split(".")[-1].upper())


@dataclass(frozen=True)
class Returned:
    """What came back to a system.

    system : the fields that changed, as texts; all others stay as they were typed
    changed : in words, what it took over
    kept_out : the labels of changed inputs that the system works out itself, or does not hold;
        figures of an amplifier that stands in the stock list alone are changed there
    """

    system: Mapping[str, str]
    changed: tuple[str, ...]
    kept_out: tuple[str, ...]


@dataclass(frozen=True)
class Kept:
    """A system that a device kept: its values by the keys of the fields, and typed."""

    values: Mapping[str, Value]
    inputs: Planning

    @property
    def amplifiers(self) -> tuple[Amplifier, ...]:
        """Its amplifiers: the planned one, else those compared, else those of its stock list."""
        rows = self.inputs.planned.amplifier
        chosen = tuple(row for row in rows if row.role == "planned")
        return chosen or rows or self.inputs.shelf or ()

    @cached_property
    def plan(self) -> Plan | None:
        """The plan of the best of them; None without one, or without speakers."""
        job = Job(self.inputs.planned.system)
        if not self.amplifiers or not job.speakers:
            return None
        rows = self.inputs.planned.amplifier
        chosen = tuple(row for row in rows if row.role == "planned")
        sets = [chosen] if chosen else [(amplifier,) for amplifier in self.amplifiers]
        judges = [Judge(job, each, self.inputs.weights) for each in sets]
        return plan_of(job, ranking([judge.best() for judge in judges])[0])

    def row(self, at: int) -> int:
        """Return the number of a planned amplifier's row in the form, from 0.

        at : its number among those installed
        """
        rows = self.inputs.planned.amplifier
        parts = self.plan.candidate.parts if self.plan else ()
        given = parts[at].given if at < len(parts) else None
        return next((number for number, row in enumerate(rows) if row == given), at)


def read_kept(kept: Mapping[str, Raw]) -> Kept:
    """Return a system that a device kept; raises InputError for what is wrong."""
    known = {key: raw for key, raw in kept.items() if key in FIT_PLAN.form.by_key}
    values = FIT_PLAN.form.read(known)
    return Kept(values, FIT_PLAN.build(values))


def questions_for(calculator: str, kept: Kept) -> tuple[AnyQuestion, ...]:
    """Return what the plan of a system asks of a calculator; nothing without an amplifier.

    An open bay is asked about here too: the reader may want to know what it gives off.
    """
    plan = kept.plan
    if plan is None:
        return ()
    job = Job(kept.inputs.planned.system)
    every = (*plan.questions, *further_questions(job, plan))
    return tuple(question for question in every if question.calculator.name == calculator)


def further_questions(job: Job, plan: Plan) -> tuple[AnyQuestion, ...]:
    """Return what no plan asks, for calculators that take figures of a system all the same."""
    layout, amplifier = plan.candidate.layout, plan.candidate.amplifier
    questions: list[AnyQuestion] = [*network_questions(job), footprint_question(amplifier)]
    if layout is not None and plan.split is not None:
        questions += [
            tree_question(layout, amplifier),
            *lead_questions(layout),
            *meter_questions(layout),
            *boost_questions(layout, amplifier),
            *tone_questions(layout, plan.split),
        ]
    return tuple(questions)


def sources_of(question: AnyQuestion, kept: Kept) -> list[str]:
    """Return in words where each input came from; what is not named has its usual value."""
    fields, texts = question.calculator.form.by_key, question.texts
    origins = {} if kept.plan is None else kept.plan.origins(question)
    marks = {key: f" ({origin})" for key, origin in origins.items()}
    return [
        f"{fields[key].label}: {known.words}{marks.get(key, '')}"
        for key, known in question.figures.items()
        if texts[key]
    ]


def give_back(question: AnyQuestion, values: Mapping[str, Value], kept: Kept) -> Returned:
    """Return those fields of the system of which inputs are copies, with what was changed.

    values : the calculator's inputs as read
    """
    system = kept.values
    texts: dict[str, str] = {}
    tables: dict[str, list[list[str]]] = {}
    before = question.calculator.form.read(question.texts) if not question.missing else None
    changed, kept_out = [], []
    for key, field in question.calculator.form.by_key.items():
        known = question.figures.get(key)
        if (before is not None and values[key] == before[key]) or key == "readings":
            continue
        if known is None or known.path is None or not _has_place(known.path, system):
            if before is not None:
                kept_out.append(field.label)
            continue
        text = field.write(values[key])
        if text == field.write(known.value):
            continue
        place = known.path
        if place[0] == "amplifier":
            place = ("amplifier", kept.row(int(place[1])), *place[2:])
        if len(place) == 1:
            texts[str(place[0])] = text
        else:
            _put(tables, place, text, system)
        changed.append(f"{field.label} {field.say(values[key]) or field.empty}")
    joined = {key: ";".join(",".join(row) for row in rows) for key, rows in tables.items()}
    return Returned({**texts, **joined}, tuple(changed), tuple(kept_out))


def _has_place(path: Path, system: Mapping[str, Value]) -> bool:
    return len(path) == 1 or int(path[1]) < len(system[str(path[0])] or ())


def _cells(field: Rows, rows: Sequence[Value]) -> list[list[str]]:
    return [
        [column.write(field.cells_of(row)[column.key]) for column in field.columns] for row in rows
    ]


def _put(
    tables: dict[str, list[list[str]]], path: Path, text: str, system: Mapping[str, Value]
) -> None:
    key = str(path[0])
    field = FIT_PLAN.form.by_key[key]
    assert isinstance(field, Rows)
    at = next(at for at, column in enumerate(field.columns) if column.key == path[2])
    if field.columns[at].kind == "yes/no":
        text = _THREE.get(text, text)
    tables.setdefault(key, _cells(field, system[key]))[int(path[1])][at] = text
