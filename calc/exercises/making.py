"""From a class code to numbered problems: the same for everybody who types the same code."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib import import_module
from itertools import islice
from math import isfinite
from typing import Literal

from calc.answers.exercise import LETTERS
from calc.answers.figures import quantity
from calc.exercises.asking import Ask, forget_answers
from calc.exercises.drafts import NEARLY, Draft, Figure, Option, Slip, Statement, Template
from calc.exercises.draws import Draws

Chapter = Literal["bridging", "coil-wiring", "crossovers", "cables", "mounting", "set-up", "plan"]
Level = Literal["recall", "calculate", "plan"]
EDITION = 1  # of the problems: it is part of the seed, and goes up where old sheets must change
MOST_TRIES = 40  # for a problem that the sheet has not yet
MOST_TURNS = 100  # of templates, for a whole sheet
# What a figure of a car's system can be at all, by its unit.
RANGES = {
    "Ω": (0.25, 64.0),
    "mΩ": (1.0, 2000.0),
    "W": (1.0, 5000.0),
    "V": (0.01, 150.0),
    "A": (0.1, 500.0),
    "Ah": (0.05, 500.0),
    "dB": (0.4, 60.0),
    "ms": (0.1, 30.0),
    "°": (1.0, 179.0),
    "Hz": (10.0, 20_000.0),
    "µF": (0.5, 1000.0),
    "mH": (0.05, 50.0),
    "m": (0.1, 60.0),
    "mm": (5.0, 3000.0),
    "mm²": (0.5, 150.0),
    "m²": (0.02, 10.0),
    "K": (0.5, 60.0),
    "°C": (5.0, 90.0),
    "%": (0.5, 250.0),
    "MB": (0.1, 20.0),
    "times": (1.1, 60.0),
    "sheets": (2.0, 30.0),
    "h": (0.1, 200.0),
    "days": (1.0, 365.0),
}
_DIGITS = 3  # of an answer
_DIGEST = 8  # signs that tell one sheet's answers from another's


@dataclass(frozen=True, kw_only=True)
class Problem:
    """A problem with its answer.

    key : what an answer to it is kept under
    kind : the template that made it
    steps : how it is worked out
    right : the right answer in words
    result : the path of the answer in the last calculator's results, `times` what is written
    value : the figure of the answer; None where it is one in words
    tolerance : how far off a figure may be, as a part of it
    options : to be picked from; empty where a figure is to be written
    slips : wrong figures with their mistakes
    """

    number: int
    key: str
    kind: str
    question: str
    asks: tuple[Ask, ...]
    steps: tuple[str, ...]
    right: str = ""
    result: str = ""
    times: float = 1.0
    unit: str = ""
    value: float | None = None
    tolerance: float = 0.0
    options: tuple[Option, ...] = ()
    slips: tuple[Slip, ...] = ()

    @property
    def letter(self) -> str:
        """The letter of the right option; empty where a figure is asked for."""
        right = [
            letter for letter, each in zip(LETTERS, self.options, strict=False) if not each.mistake
        ]
        return right[0] if right else ""

    @property
    def wrong(self) -> tuple[tuple[str, str], ...]:
        """Wrong answers in words, each with the mistake that leads to it."""
        if self.options:
            pairs = zip(LETTERS, self.options, strict=False)
            return tuple((letter, each.mistake) for letter, each in pairs if each.mistake)
        return tuple((written(each.value, self.unit), each.mistake) for each in self.slips)


def seed_of(chapter: str, level: str, code: str) -> str:
    """Return the text that decides a sheet; blanks and capitals in a code make no difference.

    >>> seed_of("bridging", "plan", " Van  7") == seed_of("bridging", "plan", "van 7")
    True
    """
    return f"{EDITION}|{chapter}|{level}|{' '.join(code.split()).lower()}"


@lru_cache(maxsize=2)
def problems_of(chapter: Chapter, level: Level, count: int, code: str) -> tuple[Problem, ...]:
    """Return the problems of a sheet; a shorter sheet of the same code is its beginning."""
    seed = seed_of(chapter, level, code)
    digest = hashlib.sha256(seed.encode()).hexdigest()[:_DIGEST]
    made: list[Problem] = []
    for turn, template in enumerate(islice(_in_turn(chapter, level, Draws(seed)), MOST_TURNS)):
        earlier = {problem.question for problem in made}
        key = f"{digest}-{len(made) + 1}"
        problem = _made(template, f"{seed}|{turn}", len(made) + 1, key, level, earlier)
        made += [problem] if problem else []
        if len(made) == count:
            return tuple(made)
    raise RuntimeError(f"no {count} problems of {seed!r}")


def forget_problems() -> None:
    """Forget the last sheets and what was asked for them."""
    problems_of.cache_clear()
    forget_answers()


def templates_of(chapter: str, level: str) -> Sequence[Template]:
    """Return what can be asked of a chapter; each module is read when it is asked for."""
    module = import_module(f"calc.exercises.templates.{chapter.replace('-', '_')}")
    templates: Sequence[Template] = getattr(module, level.upper())
    return templates


def _in_turn(chapter: str, level: str, draws: Draws) -> Iterator[Template]:
    """Yield templates for ever, each as often as the others, in rounds of an order of their own."""
    while True:
        yield from draws.shuffled(templates_of(chapter, level))


def _made(
    template: Template, seed: str, number: int, key: str, level: str, earlier: set[str]
) -> Problem | None:
    """Return a problem that the sheet has not yet; None where the template has no more."""
    for attempt in range(MOST_TRIES):
        draws = Draws(f"{seed}|{attempt}")
        draft = template(draws)
        if draft is None or draft.question in earlier:
            continue
        problem = _finished(draft, draws, level, number, key, template.__name__)
        if problem is not None:
            return problem
    return None


def _finished(
    draft: Draft, draws: Draws, level: str, number: int, key: str, kind: str
) -> Problem | None:
    """Return the problem of a draft; None where it is no good one."""
    shown = _steps(draft) if draft.is_shown else ()
    begun = Problem(
        number=number, key=key, kind=kind, question=draft.question, asks=draft.asks,
        steps=(*draft.work, *shown, *draft.closing),
    )  # fmt: skip
    if isinstance(draft, Statement):
        right = next(each.words for each in draft.options if not each.mistake)
        return replace(begun, options=draws.shuffled(draft.options), right=right)
    value, (low, high) = draft.value, RANGES[draft.unit]
    if not (isfinite(value) and low <= value <= high):
        return None
    slips = _told_apart(draft, value)
    options: tuple[Option, ...] = ()
    if level == "recall":
        if len(slips) < len(LETTERS) - 1:
            return None
        options = _options(value, slips[: len(LETTERS) - 1], draft.unit)
    return replace(
        begun, result=draft.result, times=draft.times, unit=draft.unit, value=value,
        tolerance=draft.tolerance, slips=slips, options=options, right=written(value, draft.unit),
    )  # fmt: skip


def _steps(draft: Draft) -> tuple[str, ...]:
    """Return the calculators' steps up to the answer; of several, the first with whose it is."""
    *before, last = draft.asks
    answer = quantity(draft.value, draft.unit) if isinstance(draft, Figure) else ""
    parts = [*((each, each.steps()) for each in before), (last, last.steps(answer))]
    parts = [(each, steps) for each, steps in parts if steps]
    if len(parts) == 1:
        return parts[0][1]
    return tuple(
        step if at else f"{each.calculator.title}: {step}"
        for each, steps in parts
        for at, step in enumerate(steps)
    )


def _told_apart(draft: Figure, value: float) -> tuple[Slip, ...]:
    """Return the slips that are neither nearly right nor nearly one another."""
    gap = NEARLY + 2 * draft.tolerance
    kept: list[Slip] = []
    for slip in draft.slips:
        others = (value, *(each.value for each in kept))
        if slip.value > 0 and all(abs(slip.value / other - 1) > gap for other in others):
            kept.append(slip)
    return tuple(kept)


def _options(value: float, slips: tuple[Slip, ...], unit: str) -> tuple[Option, ...]:
    """Return figures to pick from, in their order; the right one without a mistake."""
    pairs = sorted([(value, ""), *((slip.value, slip.mistake) for slip in slips)])
    return tuple(Option(written(each, unit), mistake) for each, mistake in pairs)


def written(value: float, unit: str) -> str:
    """Write an answer as a person does, with three digits.

    >>> written(24.4949, "V"), written(3.98, "times")
    ('24.5\\u202fV', '3.98\\u202ftimes')
    """
    return quantity(value, unit, _DIGITS)
