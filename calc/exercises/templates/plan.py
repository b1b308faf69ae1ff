"""Exercises on the whole job: all chapters, a plan, and the choice of an amplifier."""

from calc.answers.figures import quantity as q
from calc.choosing.amplifier_choice import AMPLIFIER_CHOICE
from calc.choosing.fit_plan import FIT_PLAN
from calc.exercises.asking import Ask, ask_with
from calc.exercises.drafts import Draft, Figure, Slip, Statement, Template, judged_options
from calc.exercises.draws import Draws
from calc.exercises.templates import bridging, cables, coil_wiring, crossovers, mounting, set_up
from calc.exercises.templates.cable_plans import cable_of_a_pair, idle_with_a_pair
from calc.exercises.templates.mounting_plans import in_the_closed_space
from calc.exercises.templates.set_up import boost_on_a_pair
from calc.exercises.templates.usual import (
    ONE_CHANNEL,
    RATINGS,
    STABLE_OHM,
    WRONG_RATING,
    Subs,
    a,
    amplifier,
    rating_at,
)
from calc.exercises.templates.wired import wire_bridge_and_set
from calc.system.files.system_file import empty_system
from calc.system.system import SYSTEM_FIELDS

_ROWS = {field.key: field for field in SYSTEM_FIELDS}
# Subs that one bridged pair drives best, as the plan finds too.
_SUBS = (Subs(1, 2, 2), Subs(1, 1, 4), Subs(1, 1, 8))
_DOORS_W = 60


def _row(key: str, **cells: object) -> str:
    """Return a row of the system's table of speakers or amplifiers; the rest is not known."""
    columns = getattr(_ROWS[key], "columns", ())
    return ",".join(str(cells.get(column.key, column.default)) for column in columns)


def _system(
    subs: Subs, rated_w: int, *, need_w: int | str = "", **more: object
) -> dict[str, object]:
    """Return doors and a sub as a system; what else there may be is not known."""
    doors = _row(
        "speakers", name="doors", section="full-range", count=2, coil_ohm=4, rated_w=_DOORS_W,
        output="front",
    )  # fmt: skip
    sub = _row(
        "speakers", name="sub", section="woofer", count=subs.count, coils=subs.coils,
        coil_ohm=subs.coil_ohm, rated_w=rated_w, need_w=need_w,
        output="woofer",
    )  # fmt: skip
    return {**empty_system(), "speakers": f"{doors};{sub}", **more}


def _planned(draws: Draws) -> tuple[tuple[int, int], Subs, Ask, str, int] | None:
    """Return ratings, subs, a plan of them, the question's words and the sub's channel."""
    ratings, subs = draws.pick(RATINGS), draws.pick(_SUBS)
    rated = draws.pick((200, 250, 300, 350))
    planned = _row(
        "amplifier", name="amplifier", channels=4, power_4ohm_w=ratings[0],
        power_2ohm_w=ratings[1], min_channel_ohm=STABLE_OHM, may_be_bridged="yes", role="planned",
    )  # fmt: skip
    asked = ask_with(FIT_PLAN, _system(subs, rated, amplifier=planned), tells="nothing")
    rows = asked.value("channels")
    at = [place for place, row in enumerate(rows) if row["output"] in ("3+4", "1+2")]
    if len(at) != 1 or len(rows) != 3 or rows[at[0]]["speaker"] != "sub":
        return None
    words = (
        f"{amplifier(ratings)} Its channels may be bridged. The customer has two {q(4, 'Ω')} doors "
        f"rated {q(_DOORS_W, 'W')} RMS, and {subs.words} rated {q(rated, 'W')} RMS. You "
        "plan for the most power that the sub can get."
    )
    return ratings, subs, asked, words, at[0]


def power_planned(draws: Draws) -> Draft | None:
    """What the sub gets by the best plan."""
    planned = _planned(draws)
    if planned is None:
        return None
    ratings, subs, asked, words, at = planned
    load = asked.number(f"channels.{at}.load_ohm")
    power = asked.number(f"channels.{at}.power_w")
    one = rating_at(ratings, int(load))
    return Figure(
        question=f"{words} How much power does the sub get?",
        asks=(asked,),
        result=f"channels.{at}.power_w",
        unit="W",
        slips=(
            Slip(float(one), ONE_CHANNEL),
            Slip(2.0 * sum(ratings) - power, WRONG_RATING),
            Slip(power / subs.coils if subs.coils > 1 else 0.0, "that is one of its two coils"),
        ),
        work=_work(subs, load, power, one),
    )


def _work(subs: Subs, load: float, power: float, one: float) -> tuple[str, ...]:
    coils = "" if subs.coils == 1 else f"Both coils in series: {q(load, 'Ω')}. "
    return (
        f"{coils}Doors on channels 1 and 2, the sub bridged on 3 and 4.",
        f"Each bridged channel sees {q(load, 'Ω')} ÷ 2 = {q(load / 2, 'Ω')}: 2 × {q(one, 'W')} = "
        f"{q(power, 'W')}.",
    )


def volts_planned(draws: Draws) -> Draft | None:
    """The most that the sub's output may show on the meter."""
    planned = _planned(draws)
    if planned is None:
        return None
    ratings, subs, asked, words, at = planned
    load = asked.number(f"channels.{at}.load_ohm")
    power = asked.number(f"channels.{at}.power_w")
    volts = asked.number(f"channels.{at}.ceiling_v")
    if abs(volts - (power * load) ** 0.5) > 0.01:
        return None  # the sub's own rating, and not the amplifier, sets the limit
    one = rating_at(ratings, int(load))
    return Figure(
        question=f"{words} Speakers off, tone at 0 dBFS: at which reading of the meter, across the "
        "sub’s bridged terminals, would the amplifier begin to clip?",
        asks=(asked,),
        result=f"channels.{at}.ceiling_v",
        unit="V",
        slips=(
            Slip((one * load) ** 0.5, "you took the power of one channel, not of the pair"),
            Slip((power * load / 2) ** 0.5, "you took the load of one channel, not the whole sub"),
            Slip((power / load) ** 0.5, "that is the current: V = √(P × R)"),
        ),
        work=(
            *_work(subs, load, power, one),
            f"√({q(power, 'W')} × {q(load, 'Ω')}) = {q(volts, 'V', 3)}.",
        ),
    )


_NAMES = ("Hazel", "Rowan", "Linden", "Elm")
_GOOD_W = (60, 95)
_GOOD = {
    "power_4ohm_w": _GOOD_W[0],
    "power_2ohm_w": _GOOD_W[1],
    "min_channel_ohm": 2,
    "level_control": "yes",
    "may_be_bridged": "yes",
}
# What an amplifier may lack: figures, words for a list, and what is wrong with it.
_LACKS: tuple[tuple[dict[str, object], str, str], ...] = (
    ({"level_control": "no"}, "no remote level control", "it has no remote level control"),
    ({"may_be_bridged": "no"}, "must not be bridged", "without bridging the sub gets too little"),
    ({"min_channel_ohm": 4, "power_2ohm_w": ""}, "stable to 4 Ω only",
     "bridged, each channel would see 2 Ω: it is stable to 4 Ω only"),
    ({"power_4ohm_w": 25, "power_2ohm_w": 40}, "25 W per channel at 4 Ω, 40 W at 2 Ω",
     "bridged, it makes 80 W: the customer wants more"),
)  # fmt: skip


def which_amplifier(draws: Draws) -> Draft | None:
    """The one of four amplifiers that does the job."""
    need = draws.pick((120, 140, 160))
    names = draws.shuffled(_NAMES)
    lacks = draws.several(_LACKS, 3)
    sold: tuple[tuple[dict[str, object], str, str], ...] = (({}, "", ""), *lacks)
    asks = tuple(_chosen(need, {**_GOOD, **changed}) for changed, _, _ in sold)
    # One alone, not two of a kind together.
    verdicts = [
        next(row["verdict"] for row in each.value("rows") if len(row["amplifiers"]) == 1)
        for each in asks
    ]
    if "not-known" in verdicts:
        return None
    fits = tuple(verdict != "unsuitable" for verdict in verdicts)
    options = judged_options(names, fits, ("", *(mistake for _, _, mistake in lacks)))
    if options is None:
        return None
    does_it = (
        f"doors on 1 and 2; bridged on 3 and 4 the sub gets 2 × {q(_GOOD_W[1], 'W')} = "
        f"{q(2 * _GOOD_W[1], 'W')}"
    )
    listed = "; ".join(
        f"{name}: {words or 'no exception'}"
        for name, (_, words, _) in sorted(zip(names, sold, strict=True), key=lambda each: each[0])
    )
    return Statement(
        question=f"The customer has two {q(4, 'Ω')} doors rated {q(_DOORS_W, 'W')} RMS and "
        f"{a(4, 'Ω')} sub rated {q(250, 'W')}, wants at least {q(need, 'W')} for the sub, and a "
        "remote level control. Four amplifiers of four channels are in stock. Each makes "
        f"{q(_GOOD_W[0], 'W')} RMS per channel at {q(4, 'Ω')} and {q(_GOOD_W[1], 'W')} at "
        f"{q(2, 'Ω')}, is stable "
        f"to {q(2, 'Ω')}, may be bridged and has a remote level control, unless the list says "
        f"otherwise. {listed}. Which one does the job?",
        asks=asks,
        options=options,
        work=tuple(
            f"{name}: {mistake or does_it}."
            for name, (_, _, mistake) in zip(names, sold, strict=True)
        ),
        is_shown=False,
    )


def _chosen(need: int, figures: dict[str, object]) -> Ask:
    """Ask whether an amplifier that stands alone in a list does the job."""
    row = {"name": "amplifier", "channels": 4, **figures}
    shelf = f"{','.join(row)}\n{','.join(map(str, row.values()))}\n"
    system = _system(Subs(1, 1, 4), 250, need_w=need, level_control="must")
    wanted = {key: text for key, text in system.items() if key != "amplifier"}
    return ask_with(AMPLIFIER_CHOICE, {"shelf": shelf, **wanted}, tells="nothing")


_CHAPTERS = (bridging, coil_wiring, crossovers, cables, mounting, set_up)
RECALL: tuple[Template, ...] = tuple(each for chapter in _CHAPTERS for each in chapter.RECALL)
CALCULATE: tuple[Template, ...] = tuple(each for chapter in _CHAPTERS for each in chapter.CALCULATE)
PLAN: tuple[Template, ...] = (
    power_planned,
    volts_planned,
    which_amplifier,
    cable_of_a_pair,
    idle_with_a_pair,
    in_the_closed_space,
    boost_on_a_pair,
    wire_bridge_and_set,
)
