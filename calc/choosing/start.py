"""How planning and choosing begin: what a person can answer standing at the car.

Speakers as cards, the car, amplifiers beside one another.  A card brings kind, place and number,
and asks for two figures; all else has its usual value and stands behind “I know more”.
"""

from collections.abc import Mapping

from calc.answers.arrangement import Adder, Asked, Cards, Columns, FieldCard, Part, Roles
from calc.answers.figures import rounded
from calc.choosing.installed import MOST_INSTALLED
from calc.system import usual
from calc.system.speakers import SectionWord
from calc.system.usual import Usual

_WOOFER = ("section", "woofer")


def _words(figure: Usual) -> str:
    """Say a usual figure with its range, the figure first."""
    value = figure.value.replace("-", "–") if isinstance(figure.value, str) else figure.value
    text = value if isinstance(value, str) else rounded(value)
    if figure.low is None or figure.high is None:
        return text
    return f"{text}, from {rounded(figure.low)} to {rounded(figure.high)}"


def _by_kind(figures: Mapping[SectionWord, Usual]) -> dict[str, str]:
    words = {str(section): _words(figure) for section, figure in figures.items()}
    # A set with its own network is one full-range speaker to the amplifier.
    return words | ({"components": words["full-range"]} if "full-range" in words else {})


_FRONT = _words(usual.LEAD["front"])
_LEADS = {
    "woofer": _words(usual.LEAD["subwoofer"]),
    **dict.fromkeys(
        ("components", "full-range", "tweeter", "midrange", "mid-bass"),
        f"{_FRONT}; rear {_words(usual.LEAD['rear'])}",
    ),
}
USUAL_WORDS: Mapping[str, str] = {
    "source_v": _words(usual.SOURCE_V),
    "factory_power_w": _words(usual.FACTORY_W),
    "earth_m": _words(usual.EARTH),
    "signal_m": ", 1 m more than the power cable",
    "alternator_a": _words(usual.ALTERNATOR),
    "vehicle_a": ", 0.4 of the alternator, from 0.3 to 0.6",
    "battery_ah": _words(usual.BATTERY),
    "amplifier.channels": _words(usual.CHANNELS),
    "amplifier.min_channel_ohm": ", the lowest load with a printed power",
    "amplifier.power_2ohm_w": ", half the power of a pair bridged at 4 Ω",
    "amplifier.may_be_bridged": ", no, unless a bridged power is printed",
    "amplifier.sensitivity_min_v": _words(usual.SENSITIVITY_MIN),
    "amplifier.sensitivity_max_v": _words(usual.SENSITIVITY_MAX),
    "amplifier.efficiency_percent": ", class D 80, class AB 55, class unknown 50",
    "amplifier.quiescent_a": _words(usual.LEFT_AWAKE),
    "amplifier.fuses_a": ", the next listed rating above the current at full power",
    **{f"amplifier.{figure.key}": _words(figure) for figure in usual.FILTERS},
}


def _row(name: str, section: str, count: int) -> dict[str, str]:
    return {"name": name, "section": section, "count": str(count)}


SPEAKERS = Part(
    name="speakers",
    heading="Speakers",
    hint="Tap what is in the car or on the counter. Each card asks for ohms and watts.",
    has_examples=True,
    holds=(
        Cards(
            key="speakers",
            name="name",
            counted="count",
            pastes="speaker",
            asked=(
                Asked(
                    "Ohms, as printed",
                    ("coils", "coil_ohm"),
                    hint="4, or 2 × 2 for two coils",
                    as_one=True,
                    needed=True,
                ),
                Asked("RMS watts of one", ("rated_w",), hint="never “max”", needed=True),
            ),
            offered=("enclosure",),
            only_for={"enclosure": _WOOFER, "tuning_hz": _WOOFER},
            kind="section",
            singles=("woofer",),
            usual_for={
                "sensitivity_db": _by_kind(usual.SENSITIVITY),
                "lowest_hz": _by_kind(usual.LOWEST),
                "top_hz": _by_kind(usual.TOP),
                "lead_m": _LEADS,
            },
            adders=(
                Adder(
                    "Component set",
                    "with its own passive crossover",
                    (
                        (_row("front components", "components", 2),),
                        (_row("rear components", "components", 2),),
                    ),
                ),
                Adder(
                    "Coaxials",
                    "a front or rear pair",
                    (
                        (_row("front coaxials", "full-range", 2),),
                        (_row("rear coaxials", "full-range", 2),),
                    ),
                ),
                Adder("Subwoofer", "one or two voice coils", ((_row("subwoofer", "woofer", 1),),)),
                Adder(
                    "Active front stage",
                    "tweeters and mid-bass speakers",
                    (
                        (
                            _row("front tweeters", "tweeter", 2),
                            _row("front mid-bass", "mid-bass", 2),
                        ),
                    ),
                ),
            ),
        ),
    ),
)
THE_CAR = Part(
    name="car",
    heading="The car",
    note="can wait",
    has_rest=True,
    holds=(
        FieldCard(title="Which head unit?", keys=("kind",)),
        FieldCard(
            title="What filters does the DSP have?",
            keys=("filters_every_output",),
            only_for="processor",
        ),
        FieldCard(
            title="Battery",
            keys=("power_m", "engine_space"),
            labels={"power_m": "Cable to the battery", "engine_space": "Under the bonnet?"},
        ),
        FieldCard(
            title="Mounting space",
            keys=("bay_width_mm", "bay_depth_mm", "bay_height_mm"),
            when_left="only if it is tight",
            opens="Measure",
            labels={"bay_width_mm": "Width", "bay_depth_mm": "Depth", "bay_height_mm": "Height"},
        ),
    ),
)
AMPLIFIERS = Part(
    name="amplifiers",
    heading="Amplifiers",
    hint="Figures as printed on the box: RMS watts, never “max”.",
    holds=(
        Columns(
            key="amplifier",
            name="name",
            title="Amplifier",
            asked=(
                Asked("Each channel, 4 Ω", ("channels", "power_4ohm_w"), needed=True),
                Asked("Bridged, 4 Ω", ("rated_bridged_w",)),
                Asked("Minimum load per channel", ("min_channel_ohm",)),
            ),
            more="More from the box",
            beyond="To compare more than three, use a stock list.",
            roles=Roles(
                key="role",
                chosen="planned",
                other="candidate",
                later="later",
                most=MOST_INSTALLED,
                join="Install this one too",
                leave="Take it out",
                put_off="Install it later",
                join_all="Install {count} together",
                later_says="For later: the main cable, the fuse holder and the distribution block "
                "are sized for it today.",
            ),
            to_list="Add to my stock list",
            pastes="amplifier",
        ),
        FieldCard(
            title="Stock list",
            keys=("shelf",),
            when_left="to choose from what a shop has in stock",
            opens="Open",
        ),
    ),
)
STOCK = Part(
    name="amplifiers",
    heading="Stock list",
    holds=(FieldCard(title="Stock list", keys=("shelf",)),),
)

TO_PLAN = (SPEAKERS, THE_CAR, AMPLIFIERS)
TO_CHOOSE = (SPEAKERS, THE_CAR, STOCK)
