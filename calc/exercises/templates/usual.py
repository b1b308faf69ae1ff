"""Figures and phrases of the trade that several chapters' exercises draw from; all invented."""

from dataclasses import dataclass

from calc.answers.figures import quantity as q
from calc.bridging.bridged_output import BRIDGED_OUTPUT
from calc.coils.coil_wiring import COIL_WIRING
from calc.exercises.asking import Ask, Tells, ask

# Rated power of a channel at 4 Ω and at 2 Ω [W].
RATINGS = (
    (45, 70), (50, 75), (50, 80), (60, 90), (60, 95), (65, 100), (75, 110), (75, 120), (80, 120),
    (90, 135), (90, 140), (100, 150), (100, 160), (110, 170), (125, 190), (125, 200), (150, 230),
)  # fmt: skip
STABLE_OHM = 2
CLASS_D_PERCENT = (75, 80, 82, 85)
CLASS_AB_PERCENT = (55, 58, 60)
TOTAL_WATTS = (180, 200, 240, 250, 280, 300, 320, 360, 400, 450, 480, 500, 600)
RUN_METRES = (3, 3.5, 4, 4.5, 5, 5.5, 6)


def a(value: float, unit: str) -> str:
    """Write a quantity with its article.

    >>> a(8, "Ω"), a(4, "Ω"), a(18, "W")
    ('an 8\u202fΩ', 'a 4\u202fΩ', 'an 18\u202fW')
    """
    text = q(value, unit)
    is_vowel = text[0] == "8" or text.partition("\u202f")[0] in ("11", "18")
    return f"{'an' if is_vowel else 'a'} {text}"


def amplifier(ratings: tuple[int, int]) -> str:
    """Say what an amplifier is rated for."""
    four, two = ratings
    return (
        f"A four-channel amplifier makes {q(four, 'W')} RMS per channel at {q(4, 'Ω')} and "
        f"{q(two, 'W')} at {q(2, 'Ω')}, and is stable to {q(STABLE_OHM, 'Ω')}."
    )


def bridged(ratings: tuple[int, int], load_ohm: float) -> Ask:
    """Ask what a bridged pair makes into a load."""
    return ask(
        BRIDGED_OUTPUT,
        load_ohm=load_ohm,
        power_4ohm_w=ratings[0],
        power_2ohm_w=ratings[1],
        min_channel_ohm=STABLE_OHM,
        want="bridged_power_w",
    )


@dataclass(frozen=True)
class Subs:
    """Subs of one kind."""

    count: int
    coils: int
    coil_ohm: int

    @property
    def words(self) -> str:
        """What they are, as the counter says it."""
        ohm = q(self.coil_ohm, "Ω")
        if self.coils == 1:
            each = f"one {ohm} voice coil"
        else:
            each = f"{NUMBERS[self.coils]} {ohm} voice coils"
        if self.count == 1:
            return f"a sub with {each}"
        return f"{NUMBERS[self.count]} subs, each with {each}"


NUMBERS = {2: "two", 3: "three", 4: "four"}
# Subs that a pair of channels, each stable to 2 Ω, can drive bridged.
BRIDGEABLE = (
    Subs(1, 2, 2), Subs(1, 2, 4), Subs(2, 2, 4), Subs(2, 2, 2), Subs(2, 1, 2), Subs(2, 1, 8),
)  # fmt: skip


def wired_lowest(
    subs: Subs, *, min_load_ohm: float, power_w: float | None = None, tells: Tells = "sentence"
) -> Ask:
    """Ask for the lowest load that all their coils share alike, and how it is wired."""
    return ask(
        COIL_WIRING,
        tells=tells,
        drivers=subs.count,
        coils_per_driver=subs.coils,
        coil_ohm=subs.coil_ohm,
        min_load_ohm=min_load_ohm,
        bridged=True,
        power_w=power_w,
    )


def best_of(wiring: Ask) -> str:
    """Return the path of the best wiring in a coil-wiring's results."""
    return f"arrangements.{int(wiring.number('best'))}"


ONE_CHANNEL = "that is one channel: a bridged pair makes twice that"
WRONG_RATING = "you took the wrong rating: each channel sees half the sub’s impedance"
STIFF = (
    "you took four times the 4 Ω rating: the pair makes twice what one channel makes into half "
    "the load"
)


def rating_at(ratings: tuple[int, int], load_ohm: int) -> int:
    """Return the rating of a channel that sees half of a bridged load of 4 or 8 Ω [W]."""
    return ratings[1] if load_ohm == 4 else ratings[0]


def right_path(asked: Ask) -> str:
    """Return the path of what a right wiring reads."""
    return f"likely.{[each['kind'] for each in asked.value('likely')].index('right')}"
