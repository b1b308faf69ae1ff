"""What the meter check says of several coils or subs at once, said of each alone."""

import re

_TOGETHER = re.compile(
    r"(coil|sub) ((?:\w+, )*\w+ or \w+) (is (?:open|shorted|not connected|left out))"
)


def each_alone(what):
    """Say “coil 1a or 2b is open” as “coil 1a is open or coil 2b is open”."""
    return _TOGETHER.sub(
        lambda hit: " or ".join(f"{hit[1]} {one} {hit[3]}" for one in re.findall(r"\d\w*", hit[2])),
        what,
    )
