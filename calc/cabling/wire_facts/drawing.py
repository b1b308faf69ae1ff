"""The drawing of `wire-facts`: cross-sections beside one another."""

from collections.abc import Sequence

from calc.answers.drawing import THIN, WIDEST, canvas, label, number, wire
from calc.answers.figures import quantity
from calc.answers.markup import Children, element
from calc.answers.sheet import Drawing


def discs(title: str, rows: Sequence[tuple[str, float]]) -> Drawing:
    """Draw cross-sections beside one another to one scale: (name, diameter [mm])."""
    room = (WIDEST - 20) / len(rows)
    per_mm = min(120.0, room - 16) / max(diameter for _, diameter in rows)
    height = per_mm * max(diameter for _, diameter in rows)
    parts: list[Children] = []
    for at, (name, diameter) in enumerate(rows):
        x = 10 + room * (at + 0.5)
        radius = diameter * per_mm / 2
        parts += [
            element(
                "circle", cx=number(x), cy=number(16 + height - radius), r=number(radius),
                stroke_width=3 if at == 0 else None,
            ),
            label(x, height + 36, name, bold=at == 0),
            label(x, height + 58, quantity(diameter, "mm", 3)),
        ]  # fmt: skip
    bar_mm = max([bar for bar in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0) if bar * per_mm <= 100] or [0.1])
    end = 20 + bar_mm * per_mm
    y = height + 84
    parts += [
        wire((20, y - 5), (20, y + 5), width=THIN),
        wire((end, y - 5), (end, y + 5), width=THIN),
        wire((20, y), (end, y), width=THIN),
        label(end + 8, y, quantity(bar_mm, "mm"), anchor="start"),
    ]
    spoken = "; ".join(f"{name}: {quantity(diameter, 'mm', 3)}" for name, diameter in rows)
    return Drawing(
        title,
        f"Conductors as solid wires, to scale. {spoken}.",
        canvas(WIDEST, y + 20, parts),
        name="sections",
    )
