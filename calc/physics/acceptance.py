"""What may be lost on the way when the finished job is measured."""

JOINTS_V = 0.1  # for the fuse, its holder and the joints: our own choice


def permitted_reading(*, kit_drop_v: float, full_a: float, reading_a: float) -> float:
    """Return the drop that a reading may show [V]: the bought cable's, and 0.1 V.

    kit_drop_v : drop of the bought cable at full power, body and known joints included [V]
    full_a : the current at full power that belongs to it [A]
    reading_a : the current at the time of the reading [A]

    A drop goes with the current.  A job that is done as it was worked out passes; above this,
    look for a bad joint.

    Raises ValueError for a current at full power that is not above 0, or figures below 0.

    >>> round(permitted_reading(kit_drop_v=0.4, full_a=30, reading_a=15), 3)
    0.3
    """
    if not full_a > 0 or kit_drop_v < 0 or reading_a < 0:
        raise ValueError("a current at full power is above 0, a drop and a reading not below")
    return kit_drop_v * reading_a / full_a + JOINTS_V
