"""Other loads: the same subwoofer with other coils, other speakers with another impedance."""

import math
from collections.abc import Iterator

from calc.answers.figures import rounded
from calc.choosing.layouts.feed import Feed
from calc.choosing.remedies.case import Aim, Case, Change

# A subwoofer is sold with one or two coils of these (common practice, no source).
_COIL_OHMS = (1.0, 2.0, 4.0, 8.0)
_SPEAKER_OHMS = (2.0, 4.0, 8.0, 16.0)


def coil_words(coils: int, ohm: float) -> str:
    """Say a subwoofer's coils as they are sold.

    >>> coil_words(2, 4.0), coil_words(1, 2.0)
    ('dual 4 Ω', 'single 2 Ω')
    """
    kind = {1: "single", 2: "dual"}.get(coils, f"{coils} ×")
    return f"{kind} {rounded(ohm)} Ω"


def coil_versions(case: Case, feed: Feed) -> Iterator[Change]:
    """Yield the other versions of a subwoofer, the nearest load first."""
    speaker = feed.speaker
    now = (speaker.coils, speaker.coil_ohm)
    versions = [
        (coils, ohm)
        for coils in ((1, 2) if speaker.coils <= 2 else (speaker.coils,))
        for ohm in _COIL_OHMS
        if (coils, ohm) != now
    ]

    def size(version: tuple[int, float]) -> float:
        """Return how far its load with coils in parallel is from the present one, in octaves."""
        coils, ohm = version
        far = abs(math.log2(ohm / coils / speaker.parallel_ohm))
        rare = 0.6 if ohm == _COIL_OHMS[0] else 0.0
        return far + rare + (1.1 if coils != speaker.coils else 0.0)

    for coils, ohm in sorted(versions, key=size):
        changed = case.of_rows({feed.rows[0]: {"coils": coils, "coil_ohm": ohm}})
        if changed is not None:
            version, other = coil_words(coils, ohm), coil_words(*now)
            words = f"with the {version} version of {feed.name} instead of {other}"
            yield Change("speakers", words, changed, size((coils, ohm)), about=("load", feed.rows))


def other_loads(aim: Aim) -> Iterator[Change]:
    """Yield other speakers of the feed at issue, or of each where it is not about one."""
    case = aim.case
    feeds = [feed for feed in case.job.feeds if aim.check.feed in ("", feed.name)]
    for feed in sorted(feeds, key=lambda feed: feed.section != "woofer"):
        if feed.section == "woofer":
            yield from coil_versions(case, feed)
        else:
            yield from _impedances(case, feed)


def _impedances(case: Case, feed: Feed) -> Iterator[Change]:
    now = feed.speaker.coil_ohm

    def size(ohm: float) -> float:
        return abs(math.log2(ohm / now))

    for ohm in sorted(_SPEAKER_OHMS, key=lambda ohm: (size(ohm), -ohm)):
        changed = None if ohm == now else case.of_rows({feed.rows[0]: {"coil_ohm": ohm}})
        if changed is not None:
            words = f"with {feed.name} of {rounded(ohm)} Ω instead of {rounded(now)} Ω"
            yield Change("speakers", words, changed, 2 + size(ohm), about=("load", feed.rows))
