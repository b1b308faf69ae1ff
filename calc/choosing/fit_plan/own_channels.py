"""The crossover step of several amplifiers: each channel by its amplifier's own number.

`filter-split` numbers the channels of all amplifiers through; nobody at the bench does.
"""

from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace

from calc.answers.figures import listed, quantity
from calc.answers.sheet import Cell, Drawing, Table
from calc.choosing.places import own_place
from calc.choosing.plan import Plan
from calc.choosing.words import the

_LETTERS = "ABC"
Channels = frozenset[int]


def split_sentence(plan: Plan) -> str:
    """Say what each amplifier is set to, by its own channel numbers, and what plays before it."""
    assert plan.split is not None and plan.split.result is not None
    on: dict[str, list[str]] = {}
    head_unit = f"the {plan.job.source_words}"
    has_head_filters = False
    for setting in plan.split.result.settings:
        has_head_filters |= setting.box == "head-unit"
        if setting.frequency_hz is None or setting.box == "passive":
            continue
        made = f"{setting.kind} at {quantity(setting.frequency_hz, 'Hz')}"
        if setting.box == "head-unit":
            on.setdefault(head_unit, []).append(f"{made} for {_fed_by(plan, setting.channels)}")
        else:
            name, own = _own(plan, setting.channels)
            on.setdefault(the(name), []).append(f"{made} on {listed(own)}")
    parts = [f"{name} to {listed(settings)}" for name, settings in on.items()]
    words = f"Set {'; '.join(parts)}." if parts else "No filter needs to be on."
    if plan.job.has_dsp_filters:
        several = "s" if len(plan.candidate.parts) > 1 else ""
        return f"{words} Switch all filters of the amplifier{several} off."
    is_off = has_head_filters and head_unit not in on
    return f"{words} Turn {head_unit}’s filters off." if is_off else words


def own_table(table: Table, plan: Plan) -> Table:
    """Return a table with every cell of channels by the amplifier's own numbers."""
    at = {at for at, column in enumerate(table.columns) if "hannel" in column.label}
    names = {words: ", ".join((name, "/".join(own))) for words, name, own in _groups(plan)}

    def renamed(number: int, cell: Cell) -> Cell:
        return names.get(cell, cell) if number in at and isinstance(cell, str) else cell

    rows = tuple(tuple(renamed(*each) for each in enumerate(row)) for row in table.rows)
    return replace(table, rows=rows)


def own_drawing(drawing: Drawing, plan: Plan) -> Drawing:
    """Return the signal path with a letter for each amplifier and its own channel numbers."""
    letters = {part.name: _LETTERS[part.at] for part in plan.candidate.parts}
    svg = deepcopy(drawing.svg)
    description = drawing.description
    short = {words: f"{letters[name]}: {'/'.join(own)}" for words, name, own in _groups(plan)}
    for label in svg.iter("text"):
        if label.text in short:
            label.text = short[label.text]
    for words, name, own in _groups(plan):
        description = description.replace(f"Channels {words}:", f"{name}, {'/'.join(own)}:")
    key = listed([f"{letter} is {the(name)}" for name, letter in letters.items()])
    return replace(drawing, svg=svg, description=description, title=f"{drawing.title}; {key}")


def _groups(plan: Plan) -> Iterator[tuple[str, str, list[str]]]:
    """Yield each group of channels as `filter-split` writes it, its amplifier and own numbers."""
    assert plan.split is not None and plan.split.result is not None
    result = plan.split.result
    every = [control.channels for control in result.system.controls]
    every += [section.channels for section in result.system.sections]
    for channels in dict.fromkeys(every):
        numbers = list(map(str, sorted(channels)))
        for words in dict.fromkeys(("/".join(numbers), "+".join(numbers), listed(numbers))):
            yield (words, *_own(plan, channels))


def _own(plan: Plan, channels: Channels) -> tuple[str, list[str]]:
    """Return the amplifier that has these channels, and its own numbers for them."""
    part = plan.candidate.installed.part_of((min(channels),))
    return part.name, [str(own_place(plan, (channel,))[0]) for channel in sorted(channels)]


def _fed_by(plan: Plan, channels: Channels) -> str:
    """Name the speakers whose channels a filter of the head unit is on."""
    layout = plan.candidate.layout
    assert layout is not None
    return listed([feed.name for feed, _, use in layout.uses if use.channels & channels])
