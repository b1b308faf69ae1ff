"""The drawing of this chapter's running text."""

from calc.answers.drawing import WIDEST, battery, box, canvas, frame, fuse, label, wire
from calc.answers.markup import Children
from calc.answers.sheet import Drawing

_TOP, _BOTTOM = 76.0, 176.0


def power_circuit() -> Drawing:
    """The way of the current: battery, main fuse, power cable, amplifier, earth, vehicle body."""
    parts: list[Children] = [
        battery(34, _TOP, _BOTTOM),
        label(16, 106, "+"),
        label(16, 148, "−"),
        label(56, 126, "battery", anchor="start"),
        fuse(34, _TOP, 120),
        label(94, _TOP - 42, "main fuse", bold=True),
        label(94, _TOP - 20, "within 450 mm"),
        wire((154, _TOP), (330, _TOP), width=3),
        label(242, _TOP - 42, "power cable", bold=True),
        label(242, _TOP - 20, "drop and heat"),
        box(330, 46, 94, 158),
        label(342, _TOP, "+", anchor="start"),
        label(342, _BOTTOM, "−", anchor="start"),
        label(377, 126, "amplifier"),
        wire((34, _BOTTOM), (34, 216)),
        frame(34, 216),
        wire((330, _BOTTOM), (290, _BOTTOM), (290, 216), width=3),
        frame(290, 216),
        label(282, _BOTTOM - 14, "earth lead", anchor="end", bold=True),
        label(162, 220, "vehicle body (chassis)"),
    ]
    return Drawing(
        "Battery to amplifier and back",
        "From the battery’s + through the main fuse, within 450 mm, and the power cable to the "
        "amplifier’s +. From the amplifier’s − the earth lead, as thick as the power cable, goes "
        "to the vehicle body (chassis), and the body leads back to the battery’s −.",
        canvas(WIDEST, 236, parts),
        name="power-circuit",
    )
