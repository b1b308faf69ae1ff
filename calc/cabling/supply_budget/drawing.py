"""The drawing of `supply-budget`: bars of current."""

from collections.abc import Iterable

from calc.answers.drawing import THIN, WIDEST, box, canvas, label, wire
from calc.answers.figures import quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.cabling.words import DUTY_WORDS
from calc.physics.amplifier_draw import Duty


def bars(
    *,
    alternator_a: float,
    idle_a: float,
    vehicle_a: float,
    amplifier_a: Iterable[tuple[Duty, float]],
) -> Drawing:
    """Draw what the alternator gives, and what vehicle and amplifier take.

    amplifier_a : the current at each duty [A], from the least to the most
    """
    rows = [
        ("alternator", "on the road", alternator_a, 0.0),
        ("alternator", "at idle", idle_a, 0.0),
        *(
            ("vehicle + amplifier", DUTY_WORDS[duty], vehicle_a, ampere)
            for duty, ampere in amplifier_a
        ),
    ]
    most = max(first + second for _, _, first, second in rows)
    scale = (WIDEST - 84) / most
    parts: list[Children] = []
    y = 16.0
    for what, when, first, second in rows:
        parts.append(label(4, y, f"{what}, {when}", anchor="start"))
        parts.append(box(4, y + 12, max(first * scale, 0.5), 16, heavy=second == 0))
        if second:
            start = 4 + first * scale
            parts.append(box(start, y + 12, max(second * scale, 0.5), 16))
            parts += [
                wire(
                    (start + at, y + 28),
                    (min(start + at + 8, start + second * scale), y + 12),
                    width=THIN,
                )
                for at in range(0, int(second * scale) - 8, 8)
            ]
        parts.append(
            label(
                12 + (first + second) * scale,
                y + 20,
                quantity(first + second, "A", 3),
                anchor="start",
            )
        )
        y += 54
    spoken = "; ".join(
        f"{what}, {when}: {quantity(first + second, 'A', 3)}" for what, when, first, second in rows
    )
    return Drawing(
        "What the alternator delivers and what is drawn",
        f"Bars of current; the amplifier’s share is hatched. {spoken}.",
        canvas(WIDEST, y - 4, parts),
        name="currents",
    )
