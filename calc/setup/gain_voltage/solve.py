"""What the meter shows when the gain is set."""

from dataclasses import dataclass

from calc.physics.levels import level_db, power, ratio, target
from calc.physics.readings import Expected, gain_window
from calc.setup.gain_voltage.inputs import Inputs


@dataclass(frozen=True, kw_only=True)
class Result:
    """What the meter shows [V].

    full_v : at full power
    plain_v, boosted_v : with the tone, the boost on, or off: as far as the amplifier goes
    speaker_v : as far as the speakers go; None where their rating is not known
    start_v : with which it plays as loud as the others; None where that is not known
    window : of the readings that are near enough to the aim
    reading_db : how far a reading lies from the aim [dB]; reading_w : its power [W]
    """

    full_v: float
    plain_v: float
    boosted_v: float
    speaker_v: float | None
    start_v: float | None
    window: Expected
    reading_db: float | None
    reading_w: float | None

    @property
    def ceiling_v(self) -> float:
        """Beyond it nothing goes: the amplifier's limit, or the speakers' if lower [V]."""
        return self.boosted_v if self.speaker_v is None else min(self.boosted_v, self.speaker_v)

    @property
    def aim_v(self) -> float:
        """What the gain is set to: the starting voltage, or else the ceiling [V]."""
        return self.ceiling_v if self.start_v is None else self.start_v


def solve(inputs: Inputs) -> Result:
    """Work the voltages out."""
    output, reading = inputs.output, inputs.reading_v
    boosted = output.target_v(tone_dbfs=inputs.tone_dbfs, boost_db=inputs.boost_db)
    by_speaker = None
    if inputs.speaker_w is not None:
        by_speaker = target(
            power_w=min(inputs.speaker_w, output.power_w),
            load_ohm=output.load_ohm,
            tone_dbfs=inputs.tone_dbfs,
            boost_db=inputs.boost_db,
        )
    ceiling = boosted if by_speaker is None else min(boosted, by_speaker)
    start = None
    if inputs.start_v is not None:
        start = min(ceiling, inputs.start_v * ratio(inputs.tone_dbfs - inputs.boost_db))
    aim = ceiling if start is None else start
    return Result(
        full_v=output.full_v,
        plain_v=output.target_v(tone_dbfs=inputs.tone_dbfs),
        boosted_v=boosted,
        speaker_v=by_speaker,
        start_v=start,
        window=gain_window(aim, ceiling_v=ceiling),
        reading_db=None if reading is None else level_db(reading / aim),
        reading_w=None if reading is None else power(volts=reading, load_ohm=output.load_ohm),
    )
