"""What the choice of an amplifier says about each candidate."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import listed, rounded
from calc.answers.sheet import Verdict
from calc.choosing.amplifier_choice.solve import Result
from calc.choosing.checks.kinds import WANTED, WISH_OF, Check
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Candidate


def choice_sentence(result: Result) -> str:
    """Say which amplifier fits best."""
    if result.fitting:
        others = len(result.fitting) - 1
        more = f"; {others} more would do" if others else ""
        return f"{result.fitting[0].name} fits best{more}."
    open_ones = [candidate.name for candidate in result.ranked if candidate.state == "not known"]
    if open_ones:
        return f"No amplifier is known to fit; {open_ones[0]} may, if a missing figure allows it."
    return "No amplifier on this shelf fits."


def choice_verdict(result: Result) -> Verdict:
    """Judge the shelf by its best amplifier."""
    if result.fitting:
        return Verdict("suitable", f"{result.fitting[0].name} meets every must.")
    best = result.ranked[0]
    return Verdict("not known" if best.state == "not known" else "unsuitable", why(best))


def so_far_sentence(ranked: Sequence[Candidate], done: int, total: int, *, stopped: bool) -> str:
    """Say which fits best of those that were searched."""
    fits = bool(ranked) and ranked[0].state == "suitable"
    if stopped:
        best = f"{ranked[0].name} fits best of these" if fits else "none of these is known to fit"
        return f"Stopped after {done} of {total}: {best}."
    if fits:
        return f"{ranked[0].name} fits best so far; still checking."
    return "Still checking; none is known to fit so far."


def why(candidate: Candidate) -> str:
    """Return in one sentence why an amplifier does or does not do."""
    name = candidate.name
    musts = [check for check in candidate.checks if check.is_must]
    bad = [check for check in musts if check.state == "unsuitable"]
    if bad:
        return f"{name} fails on {listed([needed_and_has(check) for check in bad])}."
    gaps = [check for check in musts if check.state == "not known"]
    if gaps:
        open_ones = [f"{check.name} ({check.has})" for check in gaps]
        return f"{name} is not known on {listed(open_ones)}."
    missed = [check.name for check in candidate.checks if check.state != "suitable"]
    if missed:
        return f"{name} meets every must; of the wishes it lacks {listed(missed)}."
    return f"{name} meets every must and every wish."


def needed_and_has(check: Check) -> str:
    """Say a check with what is needed and what there is."""
    return f"{check.name} (needs {check.needed}; has {check.has})"


def row_data(candidate: Candidate) -> dict[str, object]:
    """Return a candidate as the contract has it."""
    layout = candidate.layout
    return {
        "amplifier": candidate.name,
        "verdict": candidate.state.replace(" ", "-"),
        "score": candidate.score,
        "grouping": layout.plan.name if layout else None,
        "loads_ohm": [use.load_ohm for use in layout.plan.uses] if layout else None,
        "checks": [
            {
                "check": check.name,
                "needed": check.needed,
                "has": check.has,
                "verdict": check.state.replace(" ", "-"),
                "must": check.is_must,
            }
            for check in candidate.checks
        ],
        "why": why(candidate),
        "near_miss": candidate.near_miss,
    }


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
