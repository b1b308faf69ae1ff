"""The workshop sheet as a whole, made of a plan."""

from calc.answers.figures import capital, listed, quantity
from calc.answers.paper import Blank, Paper, Stroke
from calc.answers.sheet import Drawing
from calc.cabling import power_cable
from calc.choosing.origins import example_label
from calc.choosing.places import places_of
from calc.choosing.plan import Plan
from calc.choosing.power_tree import PowerRun
from calc.choosing.wired.layout import halves_at, whole_drawings
from calc.choosing.wired.of_plan import wired_of
from calc.choosing.words import given_up_sentence
from calc.choosing.workshop.cautions import cautions_of, main_fuse_a
from calc.choosing.workshop.kit import articles_of
from calc.choosing.workshop.lookups import found
from calc.choosing.workshop.readings import stages_of
from calc.choosing.workshop.settings import blocks_of
from calc.choosing.workshop.table import channel_grid, held_of
from calc.choosing.workshop.words import (
    asks_of,
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
# What a line of the drawing is, by the kinds of its wires.
_KEY: tuple[tuple[Stroke, str, str], ...] = (
    ("power", "power", "power +"),
    ("later", "later", "planned for later"),
    ("earth", "earth", "earth (ground)"),
    ("signal", "rca", "RCA pair, odd plug is left"),
    ("remote", "remote", "remote"),
    ("plus", "speaker +", "speaker +"),
    ("minus", "speaker -", "speaker −"),
)
# What the main fuse follows, where that is not the power.
_FUSE_BY = {
    "own-fuses": ", within the amplifier’s own fuses",
    "maker": ", as the amplifier’s maker states",
}
_ROW_PX = 40  # of the table, with its two lines
_TEXT_PX = 12.5  # 9.4 point
_HIGHEST_PX = 740  # of a drawing that has the first page to itself, under its head
_FIRST_PAGE_PX = 780  # what drawing and table may take on the smaller paper
NOT_YET = (
    "Don’t connect anything yet: this sheet has no wiring until the question above is settled."
)


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
    wired = wired_of(plan)
    whole, narrow = whole_drawings(wired)
    height = float(whole.svg.get("height", "0"))
    return Paper(
        title=title_of(plan),
        blanks=BLANKS,
        say=say_of(plan),
        verdict=verdict_of(plan),
        rests=rests_of(plan),
        gives_up=given_up_sentence(plan.candidate),
        whole=whole,
        narrow=narrow,
        halves=halves_at(wired, _TEXT_PX) if height > _HIGHEST_PX else (),
        key=key_of(whole),
        channels=channel_grid(plan),
        beside=height + _ROW_PX * len(plan.channels) <= _FIRST_PAGE_PX,
        note=note_of(plan),
        cautions=cautions_of(plan),
        settings=blocks_of(plan),
        asks=asks_of(plan),
        stages=stages_of(plan, main_fuse_a(plan)),
        kit=articles_of(plan),
        example=example,
    )


def key_of(drawing: Drawing) -> tuple[tuple[Stroke, str], ...]:
    """Return the line styles that a drawing has, and its dot."""
    kinds = {wire.get("data-kind") for wire in drawing.svg.iter("polyline")}
    used = [(stroke, words) for stroke, kind, words in _KEY if kind in kinds]
    return (*used, ("joint", "connected"))


def note_of(plan: Plan) -> str:
    """Say what belongs to the table: current, cable, and power where several share an output."""
    lines = [*_power_words(plan), *_shared(plan), *_on_radio(plan), *_sets(plan)]
    return " ".join(lines)


def _power_words(plan: Plan) -> list[str]:
    tree = plan.power
    if tree is None:
        return ["The power cable is not known yet: measure how far away the battery is."]
    main = tree.main
    fuse = "not known" if main.fuse_a is None else quantity(main.fuse_a, "A")
    draws = "amplifiers draw" if len(plan.candidate.parts) > 1 else "amplifier draws"
    run = next(found(plan, power_cable.Result), None)
    full_a = main.full_a if run is None else run.demand.full_a
    by = "" if run is None else _FUSE_BY.get(run.fuse.by, "")
    lines = [f"At full power the {draws} {quantity(full_a, 'A', 3)}; main fuse {fuse}{by}."]
    if not tree.has_block:
        lines.append(f"Power and earth cable: {_cable_words(main)}, through grommets.")
        return lines
    lines.append(f"Main run {_cable_words(main)}, through grommets.")
    for branch in tree.branches:
        fused = "" if branch.fuse_a is None else f", fuse {quantity(branch.fuse_a, 'A')}"
        lines.append(f"{branch.end}: branch and earth {_cable_words(branch)}{fused}.")
    return lines


def _cable_words(run: PowerRun) -> str:
    cable = run.cable
    if cable.laid is None:
        return "(size not known)"
    least = "" if cable.laid == cable.size else f" (at least {cable.size})"
    return f"{cable.laid} copper{least}"


def _shared(plan: Plan) -> list[str]:
    """Say what each speaker gets where several share an output, with the gain at its ceiling.

    Where a rating holds the ceiling below what the output brings, that is told as well.
    """
    lines: dict[str, None] = {}
    for place in places_of(plan):
        channel = place.channel
        powers = {one.speaker: one.power_w for one in channel.loads if one.power_w is not None}
        if len(channel.loads) < 2 or not powers:
            continue
        held = held_of(channel)
        most = [quantity(watts, "W", 3) for watts in powers.values()]
        now = [quantity(held * watts, "W", 3) for watts in powers.values()]
        told = listed([f"{name} {watts}" for name, watts in zip(powers, now, strict=True)])
        if now == most:
            lines[f"Power per speaker: {told}."] = None
            continue
        could = f"{most[0]} each" if len(set(most)) == 1 else listed(most)
        lines[
            f"Power per speaker, gain at its ceiling: {told}; the amplifier could give {could}."
        ] = None
    return list(lines)


def _on_radio(plan: Plan) -> list[str]:
    names = [feed.name for feed in plan.job.on_radio]
    return [f"On the head unit’s own power: {listed(names)}."] if names else []


def _sets(plan: Plan) -> list[str]:
    marked = dict.fromkeys(name for place in places_of(plan) for name in place.with_crossover)
    if not marked:
        return []
    names = listed(list(marked))
    return [f"{capital(names)}: follow the + marks on their crossovers."]
