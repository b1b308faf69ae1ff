"""What `test-tone` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.answers.figures import rounded
from calc.inputs.fields import Choice, Number, Whole
from calc.inputs.problems import Problem
from calc.parts.output import INVENTED
from calc.physics.tones import (
    HIGHEST_HZ,
    LONGEST_S,
    LOWEST_HZ,
    SHORTEST_S,
    TWEETER_DBFS,
    TWEETER_HZ,
    Channels,
    highest_dbfs,
)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A tone: its frequency, its level, how long it is and where it plays."""

    frequency_hz: Annotated[
        int,
        Whole(
            "Frequency",
            low=LOWEST_HZ,
            high=HIGHEST_HZ,
            example=315,
            presets=(50, 315, 2500),
            source=INVENTED,
            hint="One that these speakers play: 50 for subs, 315 for door speakers.",
        ),
    ]
    tone_dbfs: Annotated[
        float,
        Number(
            "Level of the tone",
            low=-60,
            high=0,
            presets=(0, -5, -10),
            hint=f"0 is full level. Above {TWEETER_HZ} Hz no higher than "
            f"{rounded(TWEETER_DBFS)}, to protect tweeters.",
        ),
    ] = -10.0
    length_s: Annotated[int, Whole("Length", low=SHORTEST_S, high=LONGEST_S)] = 20
    channels: Annotated[
        Channels,
        Choice(
            "Channels", options=(("both", "both"), ("left", "left only"), ("right", "right only"))
        ),
    ] = "both"


def level_is_permitted(*, frequency_hz: int, tone_dbfs: float) -> Iterator[Problem]:
    """Yield what is wrong with a level that this frequency may not have."""
    most = highest_dbfs(frequency_hz)
    if tone_dbfs > most:
        yield Problem(
            field="tone_dbfs",
            given=rounded(tone_dbfs),
            words=f"{{given}} dBFS is too loud for a tweeter above {TWEETER_HZ} Hz. Enter "
            f"{rounded(most)} dBFS or less.",
        )


FORM = (Group("The tone", ("frequency_hz", "tone_dbfs", "length_s", "channels")),)
