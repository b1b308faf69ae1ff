"""What the answer of `exercises` says: the problems, or their key."""

from calc.answers.calculator import Calculator
from calc.answers.exercise import LETTERS, Exercise, Solution
from calc.answers.sheet import Box, Sheet, Verdict
from calc.exercises.exercises.inputs import CHAPTERS, FORM, NUMBER, Inputs
from calc.exercises.exercises.solve import Result, solve
from calc.exercises.making import Problem

_TO_DO = {
    "recall": "pick one of four",
    "calculate": "write a figure, to three digits",
    "plan": "take several steps",
}
_LINES = {"recall": 0, "calculate": 3, "plan": 5}


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the sheet, or its key."""
    exercises = tuple(_exercise(inputs, result, each) for each in result.problems)
    return Sheet(
        sentence=_sentence(inputs, result),
        results=data(inputs, result),
        exercises=exercises,
        cautions=(
            "These are exercises with invented figures. For a real vehicle work with its own "
            "figures, and with the manual.",
        ),
        steps=(
            "Chapter, level and class code decide every figure: the same ones give the same sheet "
            "on every device, in the page and on the command line. A longer sheet begins with the "
            "problems of the shorter one.",
            "Every answer is worked out by the calculators of the chapters, never here; the wrong "
            "ones come from the mistakes that are named with them.",
            "A figure counts as right within 2 %, which allows for rounding to three digits; "
            "where a chapter’s rule of thumb is a little off, within 3 or 4 %.",
        ),
        unknowns=("Whether an answer was found by working it out.",),
        sources=("exercise-figures",),
    )


def _exercise(inputs: Inputs, result: Result, problem: Problem) -> Exercise:
    judged = result.judgements.get(problem.key)
    is_shown = inputs.key or judged is not None
    verdict = None
    if judged is not None and not inputs.key:
        state, word = ("suitable", "right") if judged.is_right else ("unsuitable", "not right")
        verdict = Verdict("suitable" if state == "suitable" else "unsuitable", judged.words, word)
    return Exercise(
        number=problem.number,
        question=problem.question,
        options=tuple(each.words for each in problem.options),
        unit=problem.unit if not problem.options else "",
        box=None if inputs.key else _box(problem, result),
        judged=verdict,
        solution=_solution(problem, with_mistakes=inputs.key) if is_shown else None,
        lines=0 if inputs.key else _LINES[inputs.level],
    )


def _box(problem: Problem, result: Result) -> Box:
    return Box(
        problem.key,
        f"Answer to problem {problem.number}" + (f" in {problem.unit}" if problem.unit else ""),
        result.texts.get(problem.key, "").upper(),
        tuple(LETTERS[: len(problem.options)]),
        pattern=NUMBER,
        unit="" if problem.options else problem.unit,
        judged_late=not problem.options,
    )


def _solution(problem: Problem, *, with_mistakes: bool) -> Solution:
    answer = f"{problem.letter}: {problem.right}" if problem.options else problem.right
    return Solution(
        answer=answer, steps=problem.steps, wrong=problem.wrong if with_mistakes else ()
    )


def _sentence(inputs: Inputs, result: Result) -> str:
    count = len(result.problems)
    problems = f"{count} problem{'' if count == 1 else 's'} on {dict(CHAPTERS)[inputs.chapter]}"
    code = f"class code {inputs.code}"
    if inputs.key:
        return f"Key to {problems}; {code}."
    answered = len(result.texts)
    told = f" {answered} answered, {result.right} right." if answered else ""
    return f"{problems}, {code}: {_TO_DO[inputs.level]}.{told}"


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract; the answers only with the key."""
    return {
        "count": len(result.problems),
        "problems": [_problem_data(each, result) for each in result.problems],
        "key": [_key_data(each) for each in result.problems] if inputs.key else None,
        "answered": len(result.texts),
        "right": result.right,
    }


def _problem_data(problem: Problem, result: Result) -> dict[str, object]:
    judged = result.judgements.get(problem.key)
    return {
        "number": problem.number,
        "step": problem.key,
        "kind": problem.kind.replace("_", "-"),
        "question": problem.question,
        "options": [each.words for each in problem.options],
        "unit": problem.unit,
        "answer": result.texts.get(problem.key),
        "right": None if judged is None else judged.is_right,
        "said": None if judged is None else judged.words,
    }


def _key_data(problem: Problem) -> dict[str, object]:
    return {
        "number": problem.number,
        "answer": problem.letter or problem.right,
        "words": problem.right,
        "value": problem.value,
        "tolerance": problem.tolerance or None,
        "steps": list(problem.steps),
        "mistakes": [{"answer": wrong, "mistake": words} for wrong, words in problem.wrong],
        "asks": [
            {"calculator": each.name, "inputs": dict(each.texts)} for each in problem.asks
        ],
        "result": problem.result or None,
        "times": problem.times,
    }  # fmt: skip


EXERCISES = Calculator(
    name="exercises",
    title="Exercises",
    question="What does my class work on today, and what are the answers?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    present=present,
    heaviest={"chapter": "plan", "level": "plan"},
)
