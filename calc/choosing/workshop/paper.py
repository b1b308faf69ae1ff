"""The workshop sheet as a whole, made of a plan."""

from calc.answers.figures import listed, quantity
from calc.answers.paper import Blank, Paper
from calc.cabling import power_cable
from calc.choosing.origins import example_label
from calc.choosing.plan import Plan
from calc.choosing.workshop.cautions import cautions_of, kit_size, main_fuse_a
from calc.choosing.workshop.grouping import grouping
from calc.choosing.workshop.places import found, kit_lines, places_of
from calc.choosing.workshop.readings import stages_of
from calc.choosing.workshop.settings import blocks_of
from calc.choosing.workshop.table import channel_grid
from calc.choosing.workshop.words import (
    asks_of,
    gives_up,
    rests_of,
    say_of,
    title_of,
    verdict_of,
)

BLANKS = (
    Blank("customer", "Customer"),
    Blank("vehicle", "Vehicle"),
    Blank("fitter", "Fitter"),
    Blank("date", "Date"),
)
_ROW_PX = 40  # of the table, with its two lines
_FIRST_PAGE_PX = 780  # what drawing and table may take on the smaller paper
NOT_YET = "Nothing may be connected yet, so there is nothing here to connect by."


def paper_of(plan: Plan) -> Paper:
    """Return the sheet; where nothing may be connected, one without anything to connect by."""
    example = example_label(plan.job.given)
    if plan.stop or not plan.channels:
        return Paper(
            title=title_of(plan),
            blanks=BLANKS,
            say=say_of(plan),
            verdict=verdict_of(plan),
            stop=NOT_YET,
            asks=asks_of(plan),
            example=example,
        )
    whole, narrow = grouping(plan), (grouping(plan),)
    height = 0.0 if whole is None else float(whole.svg.get("height", "0"))
    return Paper(
        title=title_of(plan),
        blanks=BLANKS,
        say=say_of(plan),
        verdict=verdict_of(plan),
        rests=rests_of(plan),
        gives_up=gives_up(plan),
        whole=whole,
        narrow=narrow,
        channels=channel_grid(plan),
        beside=height + _ROW_PX * len(plan.channels) <= _FIRST_PAGE_PX,
        note=note_of(plan),
        cautions=cautions_of(plan),
        settings=blocks_of(plan),
        asks=asks_of(plan),
        stages=stages_of(plan, main_fuse_a(plan)),
        kit=kit_lines(plan),
        example=example,
    )


def note_of(plan: Plan) -> str:
    """Say what belongs to the table: current, cable, and power where several share an output."""
    lines = [*_power_words(plan), *_shared(plan), *_on_radio(plan), *_sets(plan)]
    return " ".join(lines)


def _power_words(plan: Plan) -> list[str]:
    run = next(found(plan, power_cable.Result), None)
    if run is None:
        return ["The power cable is not known yet: measure how far the battery is."]
    draws = "amplifiers draw" if len(plan.candidate.parts) > 1 else "amplifier draws"
    lines = [f"At full power the {draws} {quantity(run.demand.full_a, 'A', 3)}."]
    bought, least = kit_size(plan), run.chosen.offer
    if bought is not None and least is not None:
        lines.append(
            f"Power and earth cable: {bought} copper (at least {least.size.name}), through "
            f"grommets; main fuse {quantity(run.chosen.fuse_a, 'A')}."
        )
    return lines


def _shared(plan: Plan) -> list[str]:
    """Say what each speaker gets where several share an output."""
    lines: dict[str, None] = {}
    for place in places_of(plan):
        loads = place.channel.loads
        powers = {load.speaker: load.power_w for load in loads if load.power_w is not None}
        if len(loads) > 1 and powers:
            told = [f"{name} {quantity(watts, 'W', 3)}" for name, watts in powers.items()]
            lines[f"Each of the {listed(told)}."] = None
    return list(lines)


def _on_radio(plan: Plan) -> list[str]:
    names = [feed.name for feed in plan.job.on_radio]
    return [f"On the radio’s own power: {listed(names)}."] if names else []


def _sets(plan: Plan) -> list[str]:
    marked = dict.fromkeys(
        place.feed.name for place in places_of(plan) if place.has_set or place.has_network
    )
    if not marked:
        return []
    names = listed(list(marked))
    return [f"{names[0].upper()}{names[1:]}: follow the + marks of their crossovers."]
