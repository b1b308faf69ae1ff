"""Names of speakers cut to what a row of readings or a place in the kit list holds."""

from collections.abc import Iterable, Mapping
from itertools import count

from calc.system.speakers import LONGEST_NAME

# Behind it stands a side: " left", " right".
LONGEST_SHORT = LONGEST_NAME - len(" right")


def short_names(names: Iterable[str]) -> Mapping[str, str]:
    """Return each name in at most eighteen characters, none like another's.

    The first and the last words are kept, for speakers differ in one of them; of joined pairs the
    first words of each.

    >>> short_names(["front set + rear pair", "front set", "rear pair"])["front set + rear pair"]
    'front + rear pair'
    >>> list(short_names(["front speakers in door A", "front speakers in door B"]).values())
    ['front … in door A', 'front … in door B']
    >>> list(short_names(["front door A of the van", "front door B of the van"]).values())
    ['front … of the van', 'front … the van 2']
    """
    made: dict[str, str] = {}
    for name in dict.fromkeys(names):
        tries = (_cut(name, f" {number}" if number > 1 else "") for number in count(1))
        made[name] = next(short for short in tries if short not in made.values())
    return made


def _cut(name: str, tail: str) -> str:
    """Return a name with a tail behind it, cut in its middle where it is too long."""
    longest = LONGEST_SHORT - len(tail)
    if len(name) <= longest:
        return name + tail
    if " + " in name and (joined := _cut_joined(name, longest)):
        return joined + tail
    words = name.split()
    best = f"{name[: longest - 1].rstrip()}…"
    head, end = 1, len(words)
    while head < end:
        kept = f"{' '.join(words[:head])} … {' '.join(words[end - 1 :])}"
        if len(kept) > longest:
            break
        best, end = kept, end - 1
    return best + tail


def _cut_joined(name: str, longest: int) -> str | None:
    """Return the first words of joined pairs, the longer one cut first; None where that tells
    nothing.
    """
    pairs = [pair.split() for pair in name.split(" + ")]
    while len(short := " + ".join(" ".join(words) for words in pairs)) > longest:
        most = max(pairs, key=len)
        if len(most) == 1:
            return None
        most.pop()
    return short if pairs[0] != pairs[-1] else None
