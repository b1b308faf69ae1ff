"""What the choice of an amplifier says about each candidate."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import rounded
from calc.answers.sheet import Verdict
from calc.choosing.amplifier_choice.solve import Result
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WANTED, WISH_OF
from calc.choosing.layouts.feeds import Job
from calc.choosing.words import why


def choice_sentence(result: Result) -> str:
    """Say which amplifier fits best."""
    if result.fitting:
        others = len(result.fitting) - 1
        more = f"; {others} more would do" if others else ""
        return f"{_fits(result.fitting[0])}{more}."
    open_ones = [candidate.name for candidate in result.ranked if candidate.state == "not known"]
    if open_ones:
        return f"No amplifier is known to fit; {open_ones[0]} may, if a missing figure allows it."
    return "No amplifier of the stock list fits."


def _fits(best: Candidate) -> str:
    """Say that an amplifier fits best, or several together."""
    return f"{best.name} {'fits' if len(best.parts) == 1 else 'fit'} best"


def choice_verdict(result: Result) -> Verdict:
    """Judge the shelf by its best amplifier."""
    if result.fitting:
        best = result.fitting[0]
        return Verdict(best.state, why(best))
    best = result.ranked[0]
    return Verdict("not known" if best.state == "not known" else "unsuitable", why(best))


def so_far_sentence(ranked: Sequence[Candidate], done: int, total: int, *, stopped: bool) -> str:
    """Say which fits best of those that were searched."""
    fits = bool(ranked) and ranked[0].is_recommended
    if stopped:
        best = f"{_fits(ranked[0])} of these" if fits else "none of these is known to fit"
        return f"Stopped after {done} of {total}: {best}."
    if fits:
        return f"{_fits(ranked[0])} so far; still checking."
    return "Still checking; none is known to fit so far."


def musts(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each check that decides, with what is needed, before there is an amplifier."""
    head, bay = job.system.head_unit, job.system.bay
    signal = "an input that takes the head unit’s signal"
    if head.source_v is not None:
        signal += f": {rounded(head.source_v)} V at its line outputs"
    elif head.factory_power_w is not None:
        signal += ": its speaker leads, a high-level input"
    yield "signal", signal
    turns_on = "a trigger terminal" if head.trigger_available == "yes" else "sensing"
    yield "turn-on", f"a way to be turned on and off, such as {turns_on}"
    sides = [
        rounded(side)
        for side in (bay.bay_width_mm, bay.bay_depth_mm, bay.bay_height_mm)
        if side is not None
    ]
    size = f" of {' × '.join(sides)} mm" if len(sides) == 3 else ""
    yield "place", f"room in the bay{size}, plugs, leads and air included"
    yield "filters", "what the head unit and passive networks do not make"
    if job.system.air.closed:
        yield "heat", "little enough heat for a closed bay, and the air that its manual permits"
    yield "cable", "its efficiency, idle draw and own fuses, to find cable and fuse by"
    yield "supply", "no more than the alternator has left"
    for kind, key in WISH_OF.items():
        wish = job.values[key]
        if wish != "any":
            yield kind if wish == "must" else f"{kind} (a wish)", WANTED[kind]
