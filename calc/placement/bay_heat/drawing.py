"""A mounting space in section: the heat goes out through two films of air."""

from calc.answers.drawing import THIN, WIDEST, box, canvas, label, number, wire
from calc.answers.figures import quantity
from calc.answers.markup import Children, element
from calc.answers.sheet import Drawing


def section(
    *, heat_w: float, rise_k: float | None, cabin_c: float, area_m2: float, is_closed: bool
) -> Drawing:
    """Draw the space with what it sheds; `rise_k` is None where that is not estimated."""
    top, left, right, bottom = 60.0, 90.0, 338.0, 190.0
    cabin, heat, area = quantity(cabin_c, "°C"), quantity(heat_w, "W", 3), quantity(area_m2, "m²")
    in_bay = "space: not estimated"
    sentence = "how warm it gets is not estimated"
    if rise_k is not None:
        warm = quantity(cabin_c + rise_k, "°C", 3)
        in_bay = f"space {warm}"
        sentence = f"the air in it reaches {warm} in a {cabin} cabin"
    parts: list[Children] = [
        label(WIDEST / 2, 16, f"cabin {cabin}"),
        label(WIDEST / 2, top + 22, in_bay),
        box(left + 60, bottom - 60, right - left - 120, 44),
        label(WIDEST / 2, bottom - 38, f"heat {heat}"),
    ]
    if is_closed:
        parts.append(box(left, top, right - left, bottom - top, heavy=True))
    else:
        parts.append(wire((left, top), (left, bottom), (right, bottom), (right, top), width=3))
    for x in (left + 40, WIDEST / 2, right - 40):
        parts += _arrow(x, top - 6, x, top - 28)
    parts += _arrow(left - 6, 120, left - 34, 120)
    parts += _arrow(right + 6, 120, right + 34, 120)
    words = "closed" if is_closed else "open"
    parts.append(label(WIDEST / 2, bottom + 18, f"{words}, {area}"))
    return Drawing(
        "Where the heat goes",
        f"The space in section, {words}, outer surface {area}. The amplifiers give off {heat}; "
        f"{sentence}.",
        canvas(WIDEST, bottom + 34, parts),
        name="section",
    )


def _arrow(x: float, y: float, to_x: float, to_y: float) -> list[Children]:
    """Return an arrow, level or upright."""
    if x == to_x:
        way = 6 if to_y < y else -6
        head = f"M{number(to_x - 4)} {number(to_y + way)}L{number(to_x)} {number(to_y)}l4 {way}"
    else:
        way = 6 if to_x < x else -6
        head = f"M{number(to_x + way)} {number(to_y - 4)}L{number(to_x)} {number(to_y)}l{way} 4"
    return [wire((x, y), (to_x, to_y), width=THIN), element("path", d=head, stroke_width=THIN)]
