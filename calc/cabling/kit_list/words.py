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
from calc.cabling.words import DUTY_WORDS, NO_TABLE, place_words


def sentence(inputs: Inputs, result: Result) -> str:
    """Return the answer in one sentence."""
    power = result.power
    plan = power.plan if power else None
    if power is None or plan is None:
        start = "No power cable can be sized yet"
    else:
        first = [
            f"{_bought(power, at)} with a fuse of {quantity(plan.fitted_a[at], 'A')}"
            for at in power.tree.trunks
            if plan.fitted_a[at] is not None
        ]
        start = (
            f"Sized for {DUTY_WORDS[inputs.duty]}: from the {power.tree.root} take {listed(first)}"
        )
    return f"{start}; {_signal_words(result)}."


def _bought(power: Power, at: int) -> str:
    """Return the size to buy for a run, or its least size where none is sold."""
    kit, plan = power.kit.offers[at], power.plan
    if kit is not None:
        return kit.size.words
    return plan.offers[at].size.words if plan else "a cable"


def _signal_words(result: Result) -> str:
    signal, kit_signal_m = result.signal, result.job.kit_signal_m
    if not signal.pairs:
        return "no signal lead is needed"
    if not kit_signal_m:
        return "signal leads are to be bought by the list"
    if signal.spare_m is None:
        return "how long the signal leads must be is not known"
    if signal.enough:
        return f"the kit’s signal leads reach, with {quantity(signal.spare_m, 'm', 3)} to spare"
    return (
        f"the kit’s signal leads of {quantity(kit_signal_m, 'm')} are too short by "
        f"{quantity(-signal.spare_m, 'm', 3)}"
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether all is known, and whether every amplifier can be fed."""
    job, power, lacking = result.job, result.power, missing(result.job)
    if power is not None and power.is_refused:
        if job.rules.widest_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict(
            "unsuitable",
            f"{NOTHING_FITS}; the calculator for trunk and branches says why.",
        )
    if lacking or power is None:
        return Verdict("not known", f"{'; '.join(lacking) or 'no power route'}.")
    upper_drops_v = result.upper_drops_v
    if upper_drops_v and not job.rules.keeps(max(upper_drops_v)):
        return Verdict("not known", class_is_missing(power.tree, job.rules, upper_drops_v))
    longer = result.signal.enough is False and bool(job.kit_signal_m)
    return Verdict(
        "suitable",
        "every amplifier has its routes, and every cable its fuse, counted "
        f"{place_words(inputs.cable)}"
        + ("; buy longer signal leads than the kit’s." if longer else "."),
    )


def missing(job: Job) -> list[str]:
    """Return what the list cannot know, for want of a route or because figures disagree."""
    gaps = []
    by_body = job.rules.return_by == "body"
    fed = {route.end for route in job.of("power")}
    gaps += [
        f"the length of {route.what}: {route.start} to {route.end}"
        for route in job.routes
        if route.length_m is None
    ]
    for amplifier in job.amplifiers:
        if amplifier.total_power_w is None:
            gaps.append(f"the power of {amplifier.name}")
        if amplifier.name not in fed:
            gaps.append(f"no power route to {amplifier.name}")
    for amplifier in job.today:
        if amplifier.signal_pairs and not job.signal_to(amplifier):
            gaps.append(f"no signal route to {amplifier.name}")
        if job.y_leads_of(amplifier) is None:
            gaps.append(f"how many Y-leads {amplifier.name} needs")
        wants: tuple[tuple[RouteWord, bool], ...] = (
            ("earth", by_body),
            ("trigger", amplifier.trigger),
        )
        for what, wanted in wants:
            if wanted and not any(touches(amplifier, route) for route in job.of(what)):
                gaps.append(f"no {what} route for {amplifier.name}")
        leads = sum(1 for route in job.of("speaker") if touches(amplifier, route))
        if leads < amplifier.outputs:
            lacking = amplifier.outputs - leads
            gaps.append(
                f"{lacking} of {amplifier.outputs} speaker routes of {amplifier.name} "
                f"{'is' if lacking == 1 else 'are'} missing"
            )
    if by_body:
        gaps += [
            f"no power route to {route.start}, whose earth is listed"
            for route in job.of("earth")
            if route.start not in fed and route.end not in fed
        ]
    gaps += [
        f"no size of lead to {route.end} keeps {quantity(job.lead_loss_db, 'dB')}"
        for route in job.of("speaker")
        if is_measured(job, route) and lead_size(job, route) is None
    ]
    return gaps


def steps(inputs: Inputs) -> tuple[str, ...]:
    """Say how it was worked out."""
    leads, least = inputs.leads, inputs.leads.power_mm2
    return (
        "Power runs: the sizes and fuses of trunk and branches, for the least conductor, with the "
        "earth lead of each amplifier in its drop"
        + ("." if least is None else f"; none thinner than {quantity(least, 'mm²')}."),
        "To buy: the next of 8, 4, 2, 1/0 AWG or 10, 20, 35, 50 mm². Earth: the size of the "
        "positive that feeds the same place.",
        f"Lengths: as routed, and {quantity(leads.slack_percent, '%')} more to buy. Power is "
        "sized for the length as routed, a speaker lead for the length bought.",
        "Signal: the kit’s lead against the longest route with its slack.",
        f"Speaker leads: the smallest size of copper at 20 °C that loses at most "
        f"{quantity(leads.speaker_loss_db, 'dB')} into its load, "
        f"{quantity(leads.speaker_load_ohm, 'Ω')} where none is given; to a subwoofer at most "
        "5 % of its power (0.22 dB), else 1.5 mm² or more.",
        f"Remote lead: a relay where the terminals take more than {quantity(REMOTE_MOST_A, 'A')} "
        f"together; {quantity(USUAL_TRIGGER_A, 'A')} each where it is not told.",
    )
