"""The drawing of `power-cable`: one run as a circuit."""

from calc.answers.drawing import WIDEST, battery, box, canvas, frame, fuse, label, wire
from calc.answers.figures import quantity
from calc.answers.markup import Children
from calc.answers.sheet import Drawing
from calc.parts.current_way import ReturnBy


def run_drawing(
    *,
    size: str | None,
    fuse_a: float | None,
    length_m: float,
    power_w: float,
    return_by: ReturnBy,
    body_mohm: float,
) -> Drawing:
    """Draw one run: battery, fuse, cable as it is bought, amplifier, and the way back."""
    top, bottom = 62.0, 158.0
    size = size or "no size"
    rating = quantity(fuse_a, "A") if fuse_a else "no fuse"
    length, body = quantity(length_m, "m"), quantity(body_mohm, "mΩ")
    parts: list[Children] = [
        battery(34, top, bottom),
        label(16, 92, "+"),
        label(16, 130, "−"),
        label(58, 110, "battery", anchor="start"),
        fuse(34, top, 96),
        label(88, top - 22, rating, bold=True),
        wire((130, top), (322, top), width=3),
        label(226, top - 22, size, bold=True),
        label(226, top + 22, length),
        box(322, 36, 98, 148),
        label(334, top, "+", anchor="start"),
        label(334, bottom, "−", anchor="start"),
        label(371, 100, "amplifier"),
        label(371, 122, quantity(power_w, "W")),
    ]
    if return_by == "cable":
        parts += [
            wire((34, bottom), (322, bottom), width=3),
            label(178, bottom - 20, f"{size}, {length}"),
        ]
        back = "a second cable of the same size runs back to the battery’s −"
    else:
        parts += [
            wire((34, bottom), (34, 186)),
            frame(34, 186),
            wire((322, bottom), (292, bottom), (292, 186)),
            frame(292, 186),
            label(163, 190, f"vehicle body, {body}"),
        ]
        back = f"the amplifier’s − goes to the vehicle body ({body}), and so does the battery’s −"
    return Drawing(
        "One run of power cable",
        f"From the battery’s + through a fuse ({rating}) at the battery, {length} of {size} to the "
        f"amplifier’s +; {back}.",
        canvas(WIDEST, 204, parts),
        name="run",
    )
