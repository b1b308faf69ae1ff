"""Height above the floor, the room that a cable's bend takes, and the pull on the fixing."""

from calc.physics.floor_plan import FACES, Amplifier, Rooms

GRAVITY = 9.81  # m/s²
# Times its own weight that a fixing must hold in a crash: what the rule for seats asks of a seat,
# forwards and backwards (49 CFR 571.207, S4.2 (a) and (b)).
CRASH_G = 20.0


def total_height(amplifier: Amplifier, rooms: Rooms) -> float:
    """Return the height of an amplifier with plugs and air on top [mm].

    A hand at controls on top is not in it: it comes and goes.
    """
    return amplifier.height_mm + rooms.lasting(amplifier.face("top"))


def floor_takes(amplifier: Amplifier, rooms: Rooms) -> tuple[float, float]:
    """Return the width and depth of the body with the lasting rooms of its faces [mm].

    >>> wide = Amplifier(name="a", width_mm=300, depth_mm=200, height_mm=50,
    ...                  holds={"left": frozenset({"power"})})
    >>> floor_takes(wide, Rooms())
    (360.0, 200.0)
    """
    front, right, back, left = (rooms.lasting(amplifier.face(name)) for name in FACES[:4])
    return amplifier.width_mm + left + right, amplifier.depth_mm + front + back


def bend_room(*, cable_mm: float, plug_mm: float, times: float) -> float:
    """Return the room for a plug and the bend of its cable [mm].

    cable_mm : outer diameter of the cable
    plug_mm : how far the plug, or the lug with its screw, stands out
    times : least radius of the bend, to the cable's middle, over the outer diameter

    A quarter turn from straight out to along the face: the radius and half of the cable.

    >>> bend_room(cable_mm=10, plug_mm=15, times=5)
    70.0
    """
    return plug_mm + (times + 0.5) * cable_mm


def crash_pull(*, mass_kg: float) -> float:
    """Return the force that the fixing should hold [N].

    >>> round(crash_pull(mass_kg=3))
    589
    """
    return CRASH_G * GRAVITY * mass_kg
