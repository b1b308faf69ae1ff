"""What is said of the main fuse and of the current that it must carry."""

from calc.answers.figures import quantity
from calc.parts.draw import Draw
from calc.physics.main_fuse import MainFuse


def full_words(draw: Draw, *, supply_v: float, full_a: float) -> str:
    """Say the current that fuse and cable must carry; its voltage where that is another."""
    low = draw.regulated_min_v
    if low is None or low == supply_v:
        return f"{quantity(full_a, 'A', 3)} at full power"
    return f"{quantity(full_a, 'A', 3)} at full power with the supply down to {quantity(low, 'V')}"


def fuse_note(draw: Draw, fuse: MainFuse, *, supply_v: float, full_a: float) -> str | None:
    """Say what the main fuse follows; None where no listed fuse does."""
    if fuse.rating_a is None:
        return None
    full = full_words(draw, supply_v=supply_v, full_a=full_a)
    below = (
        "; the fuse is below that: it holds on music, and can blow on a test tone"
        if fuse.rating_a < full_a
        else ""
    )
    if fuse.by == "maker":
        return f"the amplifier maker’s figure; it draws {full}{below}"
    if fuse.by == "own-fuses":
        return (
            "the largest fuse that does not exceed the amplifier’s own fuses "
            f"({quantity(draw.by_fuses_a, 'A')}); {full} would need "
            f"{quantity(fuse.by_power_a, 'A')}{below}"
        )
    note = f"the smallest fuse that carries {full}"
    if fuse.by == "maker-too-large":
        note += (
            f"; the maker states {quantity(draw.maker_fuse_a, 'A')}, and no cable in this list "
            "is rated for that: ask the maker about two cables with a fuse each"
        )
    return note
