"""What exercises on mounting share: amplifiers, the heat they give off, the space they need."""

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.exercises.asking import Ask, Tells, ask
from calc.placement.bay_heat import BAY_HEAT
from calc.placement.mounting_reach import MOUNTING_REACH

BODIES_MM = ((260, 180), (240, 150), (280, 200), (300, 200), (320, 210), (250, 170), (220, 160))
HEIGHTS_MM = (46, 50, 52, 55, 58, 60)
DUTIES = (
    ("loud music (a third of full power)", "heavy", 3),
    ("music at a normal level (an eighth of full power)", "normal", 8),
)
SHEDS = 3.5  # W/m²K: what the calculator makes of its two films of air


def heated(
    power: float,
    percent: int,
    duty: str,
    *,
    area_m2: float = 1,
    cabin_c: float = 25,
    limit_c: float = 50,
    tells: Tells = "steps",
) -> Ask:
    """Ask for the heat of a class D amplifier in a closed space, and what it makes of it."""
    return ask(
        BAY_HEAT, tells=tells, power_w=power, efficiency_percent=percent, amplifier_class="d",
        idle_w=None, duty=duty, closed=True, area_m2=area_m2, cabin_c=cabin_c, limit_c=limit_c,
        h=2 * SHEDS,
    )  # fmt: skip


def given(power: float, percent: int, duty: str) -> str:
    """Say what an amplifier makes and how it is played."""
    return (
        f"A class D amplifier makes {q(power, 'W')} RMS in all at an efficiency of "
        f"{rounded(percent)} %. It plays {duty}."
    )


def bay(width: int, depth: int, body: tuple[int, int], room: tuple[int, int]) -> Ask:
    """Ask whether an amplifier with plugs in front and behind fits between walls."""
    return ask(
        MOUNTING_REACH, bay_width_mm=width, bay_depth_mm=depth, bay_height_mm=110,
        seat_travel_mm=0, front_edge="wall", right_edge="wall", back_edge="wall",
        left_edge="wall", top_edge="wall", keep_outs=None, entries=None, way_points=None,
        amplifiers=f"amplifier,{body[0]},{body[1]},52,signal,none,power,none,none",
        signal_room_mm=room[0], power_room_mm=room[1],
    )  # fmt: skip
