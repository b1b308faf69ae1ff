"""What the answer of `kit-list` says: sentence, verdict, what is missing, steps."""

from calc.answers.figures import listed, quantity
from calc.answers.sheet import Verdict
from calc.cabling.kit_list.inputs import Inputs
from calc.cabling.kit_list.job import (
    REMOTE_MOST_A,
    USUAL_TRIGGER_A,
    Job,
    is_measured,
    lead_size,
    touches,
)
from calc.cabling.kit_list.power import Power
from calc.cabling.kit_list.power_items import NOTHING_FITS
from calc.cabling.kit_list.rows import RouteWord
from calc.cabling.kit_list.solve import Result
from calc.cabling.tree_words import class_is_missing
from calc.cabling.words import DUTY_WORDS, NO_TABLE, as_sentence, place_words

_ROUTES: dict[RouteWord, str] = {
    "power": "the power cable",
    "earth": "the earth cable",
    "signal": "the RCA lead",
    "speaker": "the speaker cable",
    "trigger": "the remote turn-on lead",
    "high-level": "the speaker-level lead",
}


def sentence(inputs: Inputs, result: Result, speaker_m: float | None) -> str:
    """Return the answer in a sentence or two.

    speaker_m : speaker cable in all [m]; None where a length is missing
    """
    power = result.power
    plan = power.plan if power else None
    signal = _signal_words(result)
    if power is None or plan is None:
        return f"No power cable can be sized yet. {signal}"
    first = [
        f"{_bought(power, at)} cable with a {quantity(plan.fitted_a[at], 'A')} fuse"
        for at in power.tree.trunks
        if plan.fitted_a[at] is not None
    ]
    if speaker_m:
        first.append(f"{quantity(speaker_m, 'm', 3)} of speaker cable")
    return f"Sized for {DUTY_WORDS[inputs.duty]}, you need {listed(first)}. {signal}"


def _bought(power: Power, at: int) -> str:
    """Return the size to buy for a run, or its least size where none is sold."""
    kit, plan = power.kit.offers[at], power.plan
    if kit is not None:
        return kit.size.words
    return plan.offers[at].size.words if plan else "a"


def _signal_words(result: Result) -> str:
    signal, kit_signal_m = result.signal, result.job.kit_signal_m
    if not signal.pairs:
        return "It needs no RCA leads."
    if not kit_signal_m:
        return "Buy the RCA leads on the list."
    if signal.spare_m is None:
        return "Measure the routes of the RCA leads."
    kit = f"The kit’s {quantity(kit_signal_m, 'm')} RCA leads"
    if signal.enough:
        return f"{kit} are long enough, with {quantity(signal.spare_m, 'm', 3)} spare."
    return f"{kit} are {quantity(-signal.spare_m, 'm', 3)} too short."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether all is known, and whether every amplifier can be fed."""
    job, power, lacking = result.job, result.power, missing(result.job)
    if power is not None and power.is_refused:
        if job.rules.widest_a is None:
            return Verdict("not known", as_sentence(NO_TABLE))
        return Verdict(
            "unsuitable",
            f"{as_sentence(NOTHING_FITS)} Enter the same runs under “One main run or several”: "
            "it shows why.",
        )
    if lacking or power is None:
        return Verdict("not known", f"Still to enter: {'; '.join(lacking) or 'a power route'}.")
    upper_drops_v = result.upper_drops_v
    if upper_drops_v and not job.rules.keeps(max(upper_drops_v)):
        return Verdict("not known", class_is_missing(power.tree, job.rules, upper_drops_v))
    longer = result.signal.enough is False and bool(job.kit_signal_m)
    return Verdict(
        "suitable",
        "Every amplifier has a fused feed and an earth, with cable rated "
        f"{place_words(inputs.cable)}" + ("; buy longer RCA leads." if longer else "."),
    )


def missing(job: Job) -> list[str]:
    """Return what the list cannot know, for want of a route or because figures disagree."""
    gaps = []
    by_body = job.rules.return_by == "body"
    fed = {route.end for route in job.of("power")}
    gaps += [
        f"the length of {_ROUTES[route.what]}, {route.start} to {route.end}"
        for route in job.routes
        if route.length_m is None
    ]
    for amplifier in job.amplifiers:
        if amplifier.total_power_w is None:
            gaps.append(f"the power of {amplifier.name}")
        if amplifier.name not in fed:
            gaps.append(f"the power route to {amplifier.name}")
    for amplifier in job.today:
        if amplifier.signal_pairs and not job.signal_to(amplifier):
            gaps.append(f"the RCA route to {amplifier.name}")
        if job.y_leads_of(amplifier) is None:
            gaps.append(f"how many Y-leads {amplifier.name} needs")
        wants: tuple[tuple[RouteWord, bool], ...] = (
            ("earth", by_body),
            ("trigger", amplifier.trigger),
        )
        for what, wanted in wants:
            if wanted and not any(touches(amplifier, route) for route in job.of(what)):
                gaps.append(f"the route of {_ROUTES[what]} for {amplifier.name}")
        leads = sum(1 for route in job.of("speaker") if touches(amplifier, route))
        if leads < amplifier.outputs:
            lacking = amplifier.outputs - leads
            gaps.append(f"{lacking} of {amplifier.outputs} speaker routes from {amplifier.name}")
    if by_body:
        gaps += [
            f"the power route to {route.start}, which has an earth"
            for route in job.of("earth")
            if route.start not in fed and route.end not in fed
        ]
    gaps += [
        f"a shorter route to {route.end}: no speaker cable keeps "
        f"{quantity(job.lead_loss_db, 'dB')} over this one"
        for route in job.of("speaker")
        if is_measured(job, route) and lead_size(job, route) is None
    ]
    return gaps


def steps(inputs: Inputs) -> tuple[str, ...]:
    """Say how it was worked out."""
    leads, least = inputs.leads, inputs.leads.power_mm2
    return (
        "Power runs: main run and branches with the least metal, the earth lead of each amplifier "
        "included in its voltage drop"
        + ("." if least is None else f"; none thinner than {quantity(least, 'mm²')}."),
        "Size to buy: the next of 8, 4, 2, 1/0 AWG or 10, 20, 35, 50 mm². The earth cable is the "
        "same size as the power cable to the same amplifier.",
        f"Lengths: as routed, plus {quantity(leads.slack_percent, '%')} when buying. Power cable "
        "is "
        "sized for the length as routed, speaker cable for the length bought.",
        "RCA leads: the kit’s lead against the longest route with its slack.",
        f"Speaker cable: the smallest copper size that loses at most "
        f"{quantity(leads.speaker_loss_db, 'dB')} into its load at 20 °C, "
        f"{quantity(leads.speaker_load_ohm, 'Ω')} where none is entered; to a sub at most "
        "5 % of its power (0.22 dB), or 1.5 mm² or more.",
        f"Remote lead: a relay where the terminals draw more than {quantity(REMOTE_MOST_A, 'A')} "
        f"together; {quantity(USUAL_TRIGGER_A, 'A')} each where nothing is entered.",
    )
