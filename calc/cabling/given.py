"""From the read values of this chapter's fields to what its formulas take."""

from collections.abc import Mapping
from typing import Any

from calc.answers.figures import THIN_SPACE, exact, quantity, rounded
from calc.cabling.fields import AMP_FUSES, IDLE_W, REGULATED_MIN_V
from calc.cabling.sizing import Rules
from calc.inputs.errors import FieldError
from calc.physics.amplifier_draw import Demand, longest_idle_w
from calc.physics.main_fuse import MainFuse, main_fuse
from calc.physics.permitted_current import FUSES_A, TABLE_AIR_C


def in_engine_space(given: Mapping[str, Any]) -> bool:
    """Tell whether a cable counts as starting in an engine space: also where nobody knows."""
    return given["engine_space"] is not False


def place_words(given: Mapping[str, Any]) -> str:
    """Say for which air the permitted current holds, to follow “may carry so much”."""
    if not in_engine_space(given):
        return f"in air of {quantity(TABLE_AIR_C, '°C')}"
    taken = "" if given["engine_space"] else ", taken for want of an answer"
    return f"from an engine space of {quantity(given['engine_c'], '°C')}{taken}"


def place_unknown(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what is not known of the place where a cable starts."""
    if given["engine_space"] is not None:
        return ()
    return (
        "Whether the battery sits under the bonnet: it is taken to, which is the cautious way. "
        f"The air there counts with {quantity(given['engine_c'], '°C')}.",
    )


def rules_of(given: Mapping[str, Any]) -> Rules:
    """Return the rules that the read values describe."""
    return Rules(
        material=given["material"],
        sizes=given["sizes"],
        conductor_c=given["conductor_c"],
        insulation_c=given["insulation_c"],
        engine_space=in_engine_space(given),
        engine_c=given["engine_c"],
        bundle=given["bundle"],
        max_drop_v=given["max_drop_v"],
        return_by=given["return"],
        body_ohm=given["body_mohm"] / 1000,
        connections_ohm=given["connections_mohm"] / 1000,
    )


def demand_of(given: Mapping[str, Any], power_w: float, idle_w: float | None = None) -> Demand:
    """Return what amplifiers of a power draw at the supply's voltage."""
    return Demand(
        power_w=power_w,
        efficiency=given["efficiency_percent"] / 100,
        supply_v=given["supply_v"],
        amplifier_class=given["amplifier_class"],
        idle_w=given["idle_w"] if idle_w is None else idle_w,
    )


def fuse_current(given: Mapping[str, Any], power_w: float) -> float:
    """Return the full-power current that fuse and cable must carry [A].

    A regulated amplifier draws the most at the lowest voltage that it holds out.
    """
    volt = given["regulated_min_v"] or given["supply_v"]
    return power_w / (given["efficiency_percent"] / 100 * volt)


def full_words(given: Mapping[str, Any], ampere: float) -> str:
    """Say the current that fuse and cable must carry; its voltage where that is another."""
    low = given["regulated_min_v"]
    if low is None or low == given["supply_v"]:
        return f"{quantity(ampere, 'A', 3)} at full power"
    return f"{quantity(ampere, 'A', 3)} with the supply down to {quantity(low, 'V')}"


def fuse_for(given: Mapping[str, Any], rules: Rules, full_a: float) -> MainFuse:
    """Return the main fuse for what is read: the maker's, by the power, within the own fuses."""
    own = given["amp_fuses_a"]
    return main_fuse(
        full_a=full_a,
        own_a=sum(own) if own else None,
        maker_a=given["maker_fuse_a"],
        widest_a=rules.widest_a,
    )


def fuse_note(given: Mapping[str, Any], fuse: MainFuse, full_a: float) -> str | None:
    """Say what the main fuse follows; None where no listed fuse does."""
    if fuse.rating_a is None:
        return None
    full = full_words(given, full_a)
    below = (
        "; that is less than full power asks for: it bears music, and may blow on a test tone"
        if fuse.rating_a < full_a
        else ""
    )
    if fuse.by == "maker":
        return f"the maker’s stated fuse; worked out: {full}{below}"
    if fuse.by == "own-fuses":
        own = quantity(sum(given["amp_fuses_a"]), "A")
        return (
            f"the largest listed rating within the amplifier’s own fuses ({own}), where "
            f"{full} would ask for {quantity(fuse.by_power_a, 'A')}{below}"
        )
    note = f"the smallest listed rating at or above the {full}"
    if fuse.by == "maker-too-large":
        note += (
            f"; the maker states {quantity(given['maker_fuse_a'], 'A')}, which no cable on offer "
            "may carry: ask, and feed the amplifier by two cables"
        )
    return note


def check_regulated(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the lowest regulated voltage."""
    low, supply = given.get("regulated_min_v"), given.get("supply_v")
    if low is None or supply is None or low <= supply:
        return ()
    message = (
        f"{REGULATED_MIN_V.label}: {rounded(low)} is above the supply’s {quantity(supply, 'V')}. "
        "Give less, or leave it empty."
    )
    return (FieldError(REGULATED_MIN_V.key, exact(low), message),)


def check_own_fuses(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the amplifier's own fuses: two taken for one, mostly."""
    odd = [
        one for one in given.get("amp_fuses_a") or () if not one.is_integer() and one not in FUSES_A
    ]
    return tuple(
        FieldError(
            AMP_FUSES.key,
            exact(one),
            f"{AMP_FUSES.label}: no fuse has {exact(one)}{THIN_SPACE}A. Give ratings such as 7.5 "
            "or 30; several are parted by ‘;’.",
        )
        for one in odd
    )


def check_idle(given: Mapping[str, Any], power_w: float | None) -> tuple[FieldError, ...]:
    """Return what is wrong with the idle power, beside the power of the amplifiers."""
    idle, percent = given.get("idle_w"), given.get("efficiency_percent")
    if idle is None or percent is None or power_w is None:
        return ()
    most = longest_idle_w(power_w=power_w, efficiency=percent / 100)
    if idle <= most:
        return ()
    message = (
        f"{IDLE_W.label}: with {exact(idle)}{THIN_SPACE}W a part of the power would take more "
        f"than all of it. Give up to {quantity(most, 'W', 4)} for this power and efficiency."
    )
    return (FieldError(IDLE_W.key, exact(idle), message),)
