"""What is said of an amplifier that was held against a system."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import capital, listed, quantity, rounded
from calc.bridging.mapping import Output
from calc.choosing.asking import questions_to_seller
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import Check, Kind, title_of
from calc.choosing.installed import missing_plate
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.balance import rated_power


def the(name: str) -> str:
    """Return the name of a model with its article; a name without a figure stands alone.

    >>> the("Hazel 4-50"), the("Amplifier B")
    ('the Hazel 4-50', 'Amplifier B')
    """
    has_article = any(letter.isdigit() for letter in name) and not name.lower().startswith("the ")
    return f"the {name}" if has_article else name


def arranged(candidate: Candidate, *, with_name: bool = True) -> str:
    """Say in one sentence which speakers are on which channels, at what power."""
    layout = candidate.layout
    if layout is None:
        unknown = [part.name for part in candidate.parts if missing_plate(part.amplifier)]
        if unknown:
            return f"Enter the RMS power of {listed(unknown)} at 4 Ω: the plan starts from it."
        return f"{capital(the(candidate.name))} cannot run these speakers in any layout."
    words = layout_words(layout)
    if not with_name or not layout.installed.is_single:
        return f"{capital(words)}."
    if candidate.is_recommended:
        return f"{capital(the(candidate.name))} runs this system: {words}."
    return f"Best layout on {the(candidate.name)}: {words}."


def layout_words(layout: Layout) -> str:
    """Say which speakers are on which channels, at what power: what they are rated for of more."""
    parts = []
    for feed, wiring, use in layout.uses:
        outputs = _outputs(layout, use.outputs)
        how = "bridged on" if len(use.outputs[0]) == 2 else "on"
        power = ""
        if use.power.best is not None:
            held = min(1.0, rated_power(feed, wiring, use) / use.power.best)
            shares = dict.fromkeys(
                watts_of(use.power.best * feed.share_of(member), held) for member in feed.members
            )
            power = f" at {' and '.join(shares)}"
        several = len(use.outputs) > 1 or len(feed.members) > 1
        each = " each" if several and power else ""
        parts.append(f"{feed.name} {how} {outputs}{power}{each}")
    job = layout.job
    for feed in job.on_radio:
        power = quantity(job.radio_w(feed), "W", 3)
        parts.append(f"{feed.name} on the head unit’s own power at {power} each")
    return "; ".join(parts)


def watts_of(power_w: float, held: float) -> str:
    """Return a power and what is used of it: the gain holds it to what the speakers are rated for.

    held : the part that is used [0 … 1]

    >>> watts_of(100.0, 0.3), watts_of(100.0, 1.0)
    ('30 of 100\u202fW', '100\u202fW')
    """
    used, whole = quantity(held * power_w, "W", 3), quantity(power_w, "W", 3)
    return whole if used == whole else f"{rounded(held * power_w, 3)} of {whole}"


def _outputs(layout: Layout, outputs: Sequence[Output]) -> str:
    """Name outputs as their amplifiers number them; with its name where there are several."""
    words = []
    for part in layout.installed.parts:
        own = [" + ".join(map(str, part.own(output))) for output in outputs if part.has(output)]
        if own:
            whose = "" if layout.installed.is_single else f" of {the(part.name)}"
            words.append(f"{listed(own)}{whose}")
    return listed(words)


def given_up(candidate: Candidate) -> tuple[str, ...]:
    """Return what the layout of an amplifier gives up; nothing for most."""
    layout = candidate.layout
    return (*(() if layout is None else layout.job.gives_up), *_quieter(candidate))


def given_up_sentence(candidate: Candidate) -> str:
    """Return what is given up in a sentence; empty where nothing is."""
    lost = given_up(candidate)
    return f"Given up: {'; '.join(lost)}." if lost else ""


def _quieter(candidate: Candidate) -> Iterator[str]:
    """Yield which speakers get much less power than they are rated for."""
    layout = candidate.layout
    single = set() if layout is None else {one.name for one in layout.job.feeds if one.count == 1}
    for check in candidate.checks:
        if check.quieter_db is not None:
            quieter = quantity(check.quieter_db, "dB", 2)
            whose = "its" if check.feed in single else "their"
            yield f"{check.feed} {quieter} quieter than {whose} rating allows"


def why(candidate: Candidate) -> str:
    """Return in one sentence why an amplifier suits a system, or does not."""
    musts = [check for check in candidate.checks if check.is_must]
    bad = [check for check in musts if check.state == "unsuitable"]
    if bad:
        return f"{capital('; '.join(map(fault, bad)))}."
    gaps = [check for check in musts if check.state == "not known"]
    if gaps:
        return f"Not known yet: {'; '.join(map(fault, gaps))}."
    likely = dict.fromkeys(title_of(check.kind) for check in musts if check.state == "likely")
    if likely:
        return f"Works if the usual figures hold: {listed(list(likely))}."
    missed = [
        check.title
        for check in candidate.checks
        if not check.is_must and check.state not in ("suitable", "likely")
    ]
    if missed:
        return f"Every must-have is met, but not every nice-to-have: {listed(missed)}."
    return "Every must-have and nice-to-have is met."


_FEATURES: tuple[Kind, ...] = ("level control", "boost", "cover", "terminals")


def fault(check: Check) -> str:
    """Say in a few words what stands in the way: what there is, and what is needed instead."""
    is_bad = check.state == "unsuitable"
    if check.kind == "power" and is_bad:
        return f"{check.feed}: {check.has} instead of {check.needed}"
    if check.kind in _FEATURES and is_bad:
        return f"no {check.title}"
    if check.kind == "place" and is_bad and check.needed.startswith("no more"):
        return f"too large for the space: {check.has}; {check.needed} fits"
    if check.kind == "layout" and is_bad:
        return f"the layout you asked for is not possible ({check.needed})"
    if check.kind == "channels":
        return check.has
    return check.title if check.has == "not known" else f"{check.title}: {check.has}"


def row_data(candidate: Candidate) -> dict[str, object]:
    """Return a candidate as the contract has it."""
    layout = candidate.layout
    return {
        "amplifier": candidate.name,
        "amplifiers": [part.name for part in candidate.parts],
        "verdict": candidate.state.replace(" ", "-"),
        "score": candidate.score,
        "grouping": layout.name if layout else None,
        "gives_up": list(layout.job.gives_up) if layout else [],
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
        "ways": ways_data(candidate),
        "ask": ask_data(candidate),
        "assumed": [taken.data() for taken in candidate.taken],
    }


def ways_data(candidate: Candidate) -> list[dict[str, object]]:
    """Return what would make it work, as the contract has it."""
    return [{"words": words, "kind": kind} for words, kind in candidate.ways]


def ask_data(candidate: Candidate) -> list[dict[str, object]]:
    """Return what to ask the seller, as the contract has it."""
    return [
        {"amplifier": ask.amplifier, "key": ask.key, "words": ask.words}
        for ask in questions_to_seller(candidate)
    ]
