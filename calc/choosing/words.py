"""What is said of an amplifier that was held against a system."""

from collections.abc import Sequence

from calc.answers.figures import listed, quantity
from calc.bridging.mapping import Output
from calc.choosing.asking import questions_to_seller
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import Check
from calc.choosing.layouts.arrangements import Layout, missing_plate


def arranged(candidate: Candidate, *, with_name: bool = True) -> str:
    """Say in one sentence which speakers are on which channels, at what power."""
    layout = candidate.layout
    if layout is None:
        unknown = [part.name for part in candidate.parts if missing_plate(part.amplifier)]
        if unknown:
            return f"Nothing can be planned before the power of {listed(unknown)} at 4 Ω is known."
        return f"{candidate.name} carries no layout of these speakers."
    words = layout_words(layout)
    if with_name and layout.installed.is_single:
        return f"{candidate.name}: {words}."
    return f"{words[0].upper()}{words[1:]}."


def layout_words(layout: Layout) -> str:
    """Say which speakers are on which channels, at what power."""
    parts = []
    for feed, _, use in layout.uses:
        outputs = _outputs(layout, use.outputs)
        how = " bridged" if len(use.outputs[0]) == 2 else ""
        power = ""
        if use.power.best is not None:
            shares = dict.fromkeys(
                quantity(use.power.best * feed.share_of(member), "W", 3) for member in feed.members
            )
            power = f", {' and '.join(shares)}"
        several = len(use.outputs) > 1 or len(feed.members) > 1
        each = " each" if several and power else ""
        parts.append(f"{feed.name} on {outputs}{how}{power}{each}")
    job = layout.job
    for feed in job.on_radio:
        power = quantity(job.radio_w(feed), "W", 3)
        parts.append(f"{feed.name} on the radio’s own power, {power} each")
    return "; ".join(parts)


def _outputs(layout: Layout, outputs: Sequence[Output]) -> str:
    """Name outputs as their amplifiers number them; with its name where there are several."""
    words = []
    for part in layout.installed.parts:
        own = [" + ".join(map(str, part.own(output))) for output in outputs if part.has(output)]
        if own:
            whose = "" if layout.installed.is_single else f" of {part.name}"
            words.append(f"{listed(own)}{whose}")
    return listed(words)


def why(candidate: Candidate) -> str:
    """Return in one sentence why an amplifier does or does not do."""
    name, is_one = candidate.name, len(candidate.parts) == 1
    musts = [check for check in candidate.checks if check.is_must]
    bad = [check for check in musts if check.state == "unsuitable"]
    if bad:
        fail = "fails" if is_one else "fail"
        return f"{name} {fail} on {listed([needed_and_has(check) for check in bad])}."
    gaps = [check for check in musts if check.state == "not known"]
    if gaps:
        open_ones = [f"{check.name} ({check.has})" for check in gaps]
        return f"{name}: not known yet: {listed(open_ones)}."
    likely = dict.fromkeys(check.kind for check in musts if check.state == "likely")
    if likely:
        verb = "do" if is_one else "do together"
        return f"{name} should {verb}, by the usual figures for {listed(list(likely))}."
    missed = [
        check.name
        for check in candidate.checks
        if not check.is_must and check.state not in ("suitable", "likely")
    ]
    meet = "meets" if is_one else "meet"
    if missed:
        lack = "it lacks" if is_one else "they lack"
        return f"{name} {meet} every must; of the wishes {lack} {listed(missed)}."
    return f"{name} {meet} every must and every wish."


def needed_and_has(check: Check) -> str:
    """Say a check with what is needed and what there is."""
    return f"{check.name} (needs {check.needed}; has {check.has})"


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
