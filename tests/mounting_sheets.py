"""Bays between walls, and the sheets that answer for them."""

import math

from asking import sheet_of

NAME = "mounting-reach"
FACES = ("front", "right", "back", "left", "top")
# Walls all round, nothing above, nothing in the way, no leads.
WALLS = {
    **{f"{side}_edge": "wall" for side in FACES[:4]},
    "top_edge": "open", "keep_outs": "", "entries": "", "way_points": "",
}  # fmt: skip
IN_WORDS = {"in-place": "once it is in", "seat-slid": "with the seat slid"}


def amp(name="A", width=260, depth=180, height=52, **faces):
    return ",".join(map(str, (name, width, depth, height, *(faces.get(f, "none") for f in FACES))))


def bay(width, depth, *amplifiers, **given):
    """The inputs of a bay between walls."""
    rows = ";".join(amplifiers)
    return {**WALLS, "bay_width_mm": width, "bay_depth_mm": depth, "amplifiers": rows, **given}


def asked(*wanted, **given):
    return sheet_of(NAME, **bay(*wanted, **given))


def place(sheet, at=0):
    one = sheet.results["placements"][at]
    return one["x_mm"], one["y_mm"], one["turned_deg"], one["controls"]


def ways_out(sheet):
    """What would make it fit: what, and how much in whole millimetres or which."""
    found = sheet.results["relax"]
    assert all(one["words"] for one in found)
    return {(one["what"], one["which"] or math.ceil(one["by_mm"] - 1e-6)) for one in found}
