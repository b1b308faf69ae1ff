"""What the choice of an amplifier says about each candidate."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import capital, listed, rounded
from calc.answers.sheet import Verdict
from calc.choosing.amplifier_choice.solve import Result
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WANTED, WISH_OF, title_of
from calc.choosing.layouts.feeds import Job
from calc.choosing.words import the, why

_MOST_NAMED = 2


def choice_sentence(result: Result) -> str:
    """Say which amplifier fits best."""
    if result.fitting:
        return f"{_fits(result.fitting[0])}{_also(result.fitting[1:])}."
    open_ones = [candidate.name for candidate in result.ranked if candidate.state == "not known"]
    if open_ones:
        return (
            f"No amplifier is sure to fit. {capital(the(open_ones[0]))} could: ask for its figures."
        )
    closest = result.ranked[0]
    return f"No amplifier on the stock list fits; {the(closest.name)} comes closest."


def _also(rest: Sequence[Candidate]) -> str:
    """Say which others suit the system too; how many, where they are many."""
    if not rest:
        return ""
    if len(rest) > _MOST_NAMED:
        return f"; {len(rest)} others also do the job"
    does = "does" if len(rest) == 1 and len(rest[0].parts) == 1 else "do"
    return f"; {listed([the(candidate.name) for candidate in rest])} also {does} the job"


def _fits(best: Candidate) -> str:
    """Say that an amplifier fits best, or several together."""
    is_one = len(best.parts) == 1
    return f"{capital(the(best.name))} {'is' if is_one else 'together are'} the best fit"


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
        best = f"{_fits(ranked[0])} of these" if fits else "none of these is sure to fit"
        return f"Stopped after {done} of {total}: {best}."
    if fits:
        return f"{_fits(ranked[0])} so far; still checking."
    return "Still checking; none is sure to fit so far."


def musts(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each check that decides, with what is needed, before there is an amplifier."""
    head, bay = job.system.head_unit, job.system.bay
    signal = "an input to suit the head unit"
    if head.source_v is not None:
        signal += f": {rounded(head.source_v)} V at its RCA outputs"
    elif head.factory_power_w is not None:
        signal += ": its speaker leads into a speaker-level (high-level) input"
    yield "signal", signal
    turns_on = "a remote terminal (REM)" if head.trigger_available == "yes" else "sensing"
    yield "turn-on", f"a way to turn it on and off, such as {turns_on}"
    sides = [
        rounded(side)
        for side in (bay.bay_width_mm, bay.bay_depth_mm, bay.bay_height_mm)
        if side is not None
    ]
    size = f" of {' × '.join(sides)} mm" if len(sides) == 3 else ""
    yield (
        title_of("place"),
        f"to fit the mounting space{size}, with clearance for plugs, leads and air",
    )
    yield title_of("filters"), "the filters that head unit and passive crossovers don’t provide"
    if job.system.air.closed:
        yield (
            title_of("heat"),
            (
                "little enough heat for a closed space, and the air temperature that its "
                "manual allows"
            ),
        )
    yield title_of("cable"), "its efficiency, idle current and fuses, for the cable and main fuse"
    yield title_of("supply"), "no more current than the alternator has in hand"
    for kind, key in WISH_OF.items():
        wish = job.values[key]
        if wish != "any":
            title = title_of(kind)
            yield title if wish == "must" else f"{title} (nice-to-have)", WANTED[kind]
