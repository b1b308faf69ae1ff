"""What is said of a way: the changes in one sentence, and what comes of them."""

from collections.abc import Sequence

from calc.answers.figures import listed, rounded
from calc.choosing.candidates import Candidate
from calc.choosing.remedies.case import Change

_AMPLIFIER = "with an amplifier "


def way_words(changes: Sequence[Change], before: Candidate, after: Candidate) -> str:
    """Say what would make an amplifier work, with what came of it when it was tried."""
    last = {change.about: change for change in changes}
    lasting = [change for change in changes if change.about is None or last[change.about] is change]
    joined = joined_words([change.words for change in lasting])
    gained = _gained(changes, before, after)
    joined += f": {gained}" if gained else ""
    if after.state != "not known":
        return f"Would work {joined}."
    gaps = [check.title for check in after.checks if check.is_must and check.state == "not known"]
    return f"Could work {joined}; still not known: {listed(gaps)}."


def joined_words(said: Sequence[str]) -> str:
    """Join changes: what it takes, all that is asked of the amplifier together, then the ifs.

    >>> joined_words(["if you can do without a cover", "with an amplifier of 5 channels",
    ...               "with an alternator of 120 A", "with an amplifier no more than 50 mm high"])
    'with an amplifier of 5 channels and no more than 50 mm high, and an alternator of 120 A, if \
you can do without a cover'
    """
    own = [words.removeprefix(_AMPLIFIER) for words in said if words.startswith(_AMPLIFIER)]
    rest = [words for words in said if not words.startswith(_AMPLIFIER)]
    with_ = [_AMPLIFIER.removeprefix("with ") + listed(own)] if own else []
    with_ += [words.removeprefix("with ") for words in rest if words.startswith("with ")]
    places = [words for words in rest if not words.startswith(("with ", "if "))]
    ifs = [words.removeprefix("if ") for words in rest if words.startswith("if ")]
    parts = [f"with {', '.join(with_[:-1])}, and {with_[-1]}"] if len(with_) > 1 else []
    parts += [f"with {with_[0]}"] if len(with_) == 1 else []
    parts += [" and ".join(places)] if places else []
    parts += [f"if {' and '.join(ifs)}"] if ifs else []
    return ", ".join(parts)


def _gained(changes: Sequence[Change], before: Candidate, after: Candidate) -> str:
    """Say which speakers get another power than before, where that is what it is about."""
    about = {"layout", "speakers", "amplifier", "second-amplifier"}
    if not {change.kind for change in changes} & about:
        return ""
    fails = [check for check in before.checks if check.is_must and check.state == "unsuitable"]
    if not any(check.kind in ("channels", "power", "layout") for check in fails):
        return ""
    return gained(before, after)


def gained(before: Candidate, after: Candidate) -> str:
    """Say which speakers get another power than before."""
    had = powers(before)
    return ", ".join(
        f"{name} {watts}" + (f" instead of {had[name]}" if name in had else "")
        for name, watts in powers(after).items()
        if had.get(name) != watts
    )


def powers(candidate: Candidate) -> dict[str, str]:
    """Return what each speaker of a plan gets, by the names of the rows."""
    layout = candidate.layout
    if layout is None:
        return {}
    found = {}
    for feed, use, share in layout.shares():
        if use.power.low is None or use.power.high is None:
            continue
        low, high = (
            rounded(factor * watts * share, 3)
            for factor, watts in zip(layout.spread, (use.power.low, use.power.high), strict=True)
        )
        each = " each" if feed.count > 1 else ""
        found[feed.name] = f"{low if low == high else f'{low} to {high}'} W{each}"
    return found
