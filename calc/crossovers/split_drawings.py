"""The drawings of `filter-split`: the way of the signal, and the bands with their sum."""

import math
from xml.etree.ElementTree import Element

from calc.core.drawing import DASHES, WIDEST, box, canvas, label, loudspeaker, wire
from calc.core.figures import quantity
from calc.core.plots import LEVELS, Curve, plot
from calc.core.sheet import Drawing
from calc.crossovers.fields import filter_words
from calc.crossovers.prototypes import Filter, level_db
from calc.crossovers.split_plan import BOX_WORDS, Plan, channel_words
from calc.crossovers.sums import HIGHEST_HZ, LOWEST_HZ, grid_hz

_COLUMNS = (4.0, 144.0)  # left edges of the boxes
_BOX = 118.0
_LINE = 20.0
_PER_OCTAVE = 8
_SHORT = {"high-pass": "HP", "low-pass": "LP"}


def path_drawing(plan: Plan) -> Drawing:
    """Draw head unit, amplifier and speakers with the filters that are on, row by row."""
    parts: list[Element] = [
        label(_COLUMNS[0] + _BOX / 2, 12, "head unit", bold=True),
        label(_COLUMNS[1] + _BOX / 2, 12, "amplifier", bold=True),
    ]
    words = []
    unprotected = {one.edge.section for one in plan.split.edges if one.state == "unprotected"}
    top = 32.0
    for channels in dict.fromkeys(one.channels for one in plan.system.sections):
        own = [at for at, one in enumerate(plan.system.sections) if one.channels == channels]
        texts = [_texts(plan, box_name, channels) for box_name in ("head-unit", "amplifier")]
        lines = max(2, *(len(one) for one in texts))
        height = max(_LINE * (lines + 1), 50.0 * len(own)) + 8
        middle = top + height / 2
        for place, (left, told) in enumerate(zip(_COLUMNS, texts, strict=True)):
            parts.append(box(left, top, _BOX, height, heavy=place == 1))
            head = channel_words(channels)
            listed = [head, *(told or ["no filter"])]
            first = middle - _LINE * (len(listed) - 1) / 2
            parts += [
                label(left + _BOX / 2, first + _LINE * at, text, bold=at == 0)
                for at, text in enumerate(listed)
            ]
        parts.append(wire((_COLUMNS[0] + _BOX, middle), (_COLUMNS[1], middle)))
        right = _COLUMNS[1] + _BOX
        heights = [top + height * (at + 0.5) / len(own) for at in range(len(own))]
        passive = [one for one in plan.system.networks if one.channels == channels]
        split_x = right + 14
        for at, y in zip(own, heights, strict=True):
            parts += [
                wire((right, middle), (split_x, middle), (split_x, y), (split_x + 24, y)),
                loudspeaker(split_x + 24, y),
            ]
            below = "not yet" if at in unprotected else _passive(plan, at) if passive else ""
            parts.append(
                label(split_x + 54, y - (8 if below else 0), plan.names[at], anchor="start")
            )
            if below:
                parts.append(label(split_x + 54, y + 11, below, anchor="start"))
        words.append(_row_words(plan, channels, own))
        top += height + 14
    return Drawing(
        "The way of the signal, with the filters that are on",
        " ".join(words) + " HP is a high-pass, LP a low-pass; numbers are corner in hertz and "
        "slope in decibels per octave.",
        canvas(WIDEST, top, parts),
    )


def _texts(plan: Plan, box_name: str, channels: frozenset[int]) -> list[str]:
    return [_short(one) for box_of, one in _filters_of(plan, channels) if box_of == box_name]


def _filters_of(plan: Plan, channels: frozenset[int]) -> list[tuple[str, Filter]]:
    """Return the filters that are on for these channels, each once."""
    found = []
    for control, setting in zip(plan.system.controls, plan.split.settings, strict=True):
        if setting is not None and channels <= control.channels:
            made = Filter(
                kind=control.kind,
                family=control.family,
                order=setting[1],
                frequency_hz=setting[0],
            )
            found.append((control.box, made))
    return found


def _short(one: Filter) -> str:
    return f"{_SHORT[one.kind]} {quantity(one.frequency_hz)} / {6 * one.order}"


def _passive(plan: Plan, section: int) -> str:
    own = [
        _short(made)
        for one in plan.split.edges
        if one.edge.section == section
        for box_name, made in one.filters
        if box_name == "passive"
    ]
    return ", ".join(own) or "no network"


def _row_words(plan: Plan, channels: frozenset[int], own: list[int]) -> str:
    on = [f"{BOX_WORDS[name]}: {filter_words(one)}" for name, one in _filters_of(plan, channels)]
    speakers = ", ".join(
        plan.names[at] + (f" ({_passive(plan, at)})" if _passive(plan, at)[0] != "n" else "")
        for at in own
    )
    return f"Channels {channel_words(channels)}: {'; '.join(on) or 'no filter on'}; to {speakers}."


def band_drawing(plan: Plan) -> Drawing:
    """Draw the level of every section, and the sum heavy."""
    own = [one.frequency_hz for voice in plan.voices for one in voice.filters]
    grid = grid_hz(*own, per_octave=_PER_OCTAVE)
    curves = []
    places = _name_places(plan)
    for at, voice in enumerate(plan.voices):
        points = tuple((one, level_db(voice.response(one))) for one in grid)
        curves.append(
            Curve(
                name=plan.names[at],
                points=points,
                dash=DASHES[1 + at % (len(DASHES) - 1)],
                name_at=places[at],
            )
        )
    heavy = tuple((one, plan.level_db(one)) for one in grid)
    curves.append(
        Curve(
            name="sum",
            points=tuple((one, -200.0 if level is None else level) for one, level in heavy),
            is_heavy=True,
            name_at=(32.0, 9.2),
        )
    )
    return plot(
        "Every section and their sum with these settings",
        "Level in decibels over frequency from 20 Hz to 20 kHz: each section in a dash pattern of "
        "its own with its name in its band, the sum heavy. The table gives the values.",
        (LEVELS.showing(*curves),),
    )


def _name_places(plan: Plan) -> list[tuple[float, float]]:
    """Return where the names stand: in the middle of each band, at heights that take turns."""
    places = []
    for at in range(len(plan.names)):
        low, high = LOWEST_HZ, HIGHEST_HZ
        for one in plan.split.edges:
            if one.edge.section == at and one.corner_hz is not None:
                if one.edge.kind == "high-pass":
                    low = max(low, one.corner_hz)
                else:
                    high = min(high, one.corner_hz)
        places.append((math.sqrt(low * high), -4.5 - 5.5 * (at % 2)))
    return places
