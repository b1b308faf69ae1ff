"""The drawing of `filter-split` that shows the signal path."""

import textwrap

from calc.answers.drawing import WIDEST, box, canvas, label, loudspeaker, wire
from calc.answers.figures import quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.crossovers.filter_split.solve import Result
from calc.crossovers.filter_split.words import BOX_WORDS, channel_words
from calc.crossovers.filter_words import filter_words
from calc.crossovers.splitting.model import Box
from calc.physics.filters import Filter

_COLUMNS = (4.0, 144.0)  # left edges of the boxes
_BOX = 118.0
_LINE = 20.0
_NAME_LINE, _NAME_LETTERS = 17.0, 10  # beside a loudspeaker
_SHORT = {"high-pass": "HPF", "low-pass": "LPF"}


def path_drawing(result: Result) -> Drawing:
    """Draw head unit, amplifier and speakers with the filters that are on, row by row."""
    parts: list[Children] = [
        label(_COLUMNS[0] + _BOX / 2, 12, "head unit", bold=True),
        label(_COLUMNS[1] + _BOX / 2, 12, "amplifier", bold=True),
    ]
    sections = result.system.sections
    boxes: tuple[Box, ...] = ("head-unit", "amplifier")
    words = []
    top = 32.0
    for channels in dict.fromkeys(section.channels for section in sections):
        fed = [at for at, section in enumerate(sections) if section.channels == channels]
        texts = [_texts(result, box_name, channels) for box_name in boxes]
        lines = max(2, *map(len, texts))
        beside = {at: _beside(result, at) for at in fed}
        tall = max(50.0, *(_NAME_LINE * len(each) + 8 for each in beside.values()))
        height = max(_LINE * (lines + 1), tall * len(fed)) + 8
        middle = top + height / 2
        for place, (left, filters) in enumerate(zip(_COLUMNS, texts, strict=True)):
            parts.append(box(left, top, _BOX, height, heavy=place == 1))
            written = [channel_words(channels), *(filters or ["no filter"])]
            first = middle - _LINE * (len(written) - 1) / 2
            parts += [
                label(left + _BOX / 2, first + _LINE * at, text, bold=at == 0)
                for at, text in enumerate(written)
            ]
        parts.append(wire((_COLUMNS[0] + _BOX, middle), (_COLUMNS[1], middle)))
        right = _COLUMNS[1] + _BOX
        heights = [top + height * (at + 0.5) / len(fed) for at in range(len(fed))]
        split_x = right + 14
        for at, y in zip(fed, heights, strict=True):
            parts += [
                wire((right, middle), (split_x, middle), (split_x, y), (split_x + 24, y)),
                loudspeaker(split_x + 24, y),
            ]
            first = y - _NAME_LINE * (len(beside[at]) - 1) / 2
            parts += [
                label(split_x + 54, first + _NAME_LINE * line, text, anchor="start", bold=is_bold)
                for line, (text, is_bold) in enumerate(beside[at])
            ]
        words.append(_row_words(result, channels, fed))
        top += height + 14
    return Drawing(
        "The signal path, with the filters that are on",
        " ".join(words) + " HPF is a high-pass, LPF a low-pass; the numbers are the frequency in "
        "hertz and the "
        "slope in dB/oct.",
        canvas(WIDEST, top, parts),
        name="path",
    )


def _beside(result: Result, section: int) -> list[tuple[str, bool]]:
    """Return the lines beside a loudspeaker, and whether they are bold: its name comes first."""
    name = textwrap.wrap(result.shown[section], _NAME_LETTERS, max_lines=2, placeholder="…")
    lines = [(part, False) for part in name]
    channels = result.system.sections[section].channels
    if section in result.unprotected:
        lines.append(("not yet", False))
    elif any(network.channels == channels for network in result.system.networks):
        lines.append((_passive(result, section), False))
    if result.polarities[section].is_reversed:
        lines.append(("reversed", True))
    return lines


def _texts(result: Result, box: Box, channels: frozenset[int]) -> list[str]:
    return [_short(made) for maker, made in _filters_of(result, channels) if maker == box]


def _filters_of(result: Result, channels: frozenset[int]) -> list[tuple[Box, Filter]]:
    """Return the filters that are on for these channels, each once."""
    filters = []
    for control, setting in zip(result.system.controls, result.split.settings, strict=True):
        if setting is not None and channels <= control.channels:
            made = Filter(
                kind=control.kind,
                family=control.family,
                order=setting[1],
                frequency_hz=setting[0],
            )
            filters.append((control.box, made))
    return filters


def _short(made: Filter) -> str:
    return f"{_SHORT[made.kind]} {quantity(made.frequency_hz)}/{6 * made.order}"


def _passive(result: Result, section: int) -> str:
    filters = [_short(made) for box, made in result.sections[section].filters if box == "passive"]
    return ", ".join(filters) or "no filter"


def _row_words(result: Result, channels: frozenset[int], fed: list[int]) -> str:
    on = [f"{BOX_WORDS[box]}: {filter_words(made)}" for box, made in _filters_of(result, channels)]
    speakers = ", ".join(
        result.shown[at] + (f" ({_passive(result, at)})" if _passive(result, at)[0] != "n" else "")
        for at in fed
    )
    return f"Channels {channel_words(channels)}: {'; '.join(on) or 'no filter on'}; to {speakers}."
