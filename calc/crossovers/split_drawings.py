"""The drawing of `filter-split` that shows the way of the signal."""

from xml.etree.ElementTree import Element

from calc.answers.drawing import WIDEST, box, canvas, label, loudspeaker, wire
from calc.answers.figures import quantity
from calc.answers.sheet import Drawing
from calc.crossovers.fields import filter_words
from calc.crossovers.split_plan import BOX_WORDS, Plan, channel_words
from calc.physics.filters import Filter

_COLUMNS = (4.0, 144.0)  # left edges of the boxes
_BOX = 118.0
_LINE = 20.0
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
            if plan.polarities[at].is_reversed:
                parts.append(label(split_x + 54, y + (28 if below else 15), "reversed", bold=True,
                                   anchor="start"))  # fmt: skip
        words.append(_row_words(plan, channels, own))
        top += height + 14
    return Drawing(
        "The way of the signal, with the filters that are on",
        " ".join(words) + " HP is a high-pass, LP a low-pass; numbers are corner in hertz and "
        "slope in decibels per octave.",
        canvas(WIDEST, top, parts),
        name="path",
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
