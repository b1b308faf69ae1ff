"""The usual filters of an amplifier as plain columns: corners of a high-pass and a low-pass, slope.

Each pair of channels has off, high-pass or low-pass by one switch, with these corners (common
practice, no source).  What is built otherwise is written in the column `filters`.
"""

import re
from dataclasses import dataclass

from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.fields import Pattern
from calc.system.borrowed import borrowed_column

NONE = "off"
USUAL_CHANNELS, USUAL_ORDER = 4, 2  # common practice, no source
_DB_PER_ORDER = 6
_SLOPES = re.compile(r"[0-9]{1,2}(?:/[0-9]{1,2}){0,7}")
_SWITCHES = "ABCD"
_CORNERS = borrowed_column(FILTER_SPLIT, "amplifier", "corners_hz")


@dataclass(frozen=True)
class OwnFilters:
    """What is known of an amplifier's filters.

    rows : as `filter-split` reads them; a filter that is not known is left out
    missing : the columns that are not known; with none of them the rows are all there is
    """

    rows: str
    missing: tuple[str, ...] = ()


def is_corner_cell(text: str) -> bool:
    """Tell whether a cell gives the corners of a plain filter: `50-250`, `80`, `60/80`, `off`."""
    assert isinstance(_CORNERS, Pattern)
    return text == NONE or _CORNERS.is_good(text)


def is_slope_cell(text: str) -> bool:
    """Tell whether a cell gives slopes in dB per octave, such as `12` or `12/24`.

    >>> is_slope_cell("12/24"), is_slope_cell("13"), is_slope_cell("0")
    (True, False, False)
    """
    return bool(_SLOPES.fullmatch(text)) and all(
        _DB_PER_ORDER <= slope <= 8 * _DB_PER_ORDER and slope % _DB_PER_ORDER == 0
        for slope in map(int, text.split("/"))
    )


def plain_filters(
    channels: int | None, high: str | None, low: str | None, slopes: str | None
) -> OwnFilters:
    """Return the filters that plain columns tell; None is not known.

    channels : of the amplifier; four where it is not known
    high, low : corners [Hz]
    slopes : [dB per octave]; 12 where it is not known

    >>> plain_filters(2, "50-250", "off", "12/24").rows
    '1/2,high-pass,50-250,1,butterworth,2/4,,yes'
    >>> plain_filters(1, "off", "50-120", None)
    OwnFilters(rows='1,low-pass,50-120,1,butterworth,2,,yes', missing=('filter_db_per_octave',))
    """
    made = [
        (kind, corners)
        for kind, corners in (("high-pass", high), ("low-pass", low))
        if corners is not None and corners != NONE
    ]
    missing = [key for key, cell in (("high_pass_hz", high), ("low_pass_hz", low)) if cell is None]
    orders = str(USUAL_ORDER)
    if slopes is not None:
        orders = "/".join(str(int(slope) // _DB_PER_ORDER) for slope in slopes.split("/"))
    elif made:
        missing.append("filter_db_per_octave")
    count = USUAL_CHANNELS if channels is None else channels
    rows = []
    for pair, first in enumerate(range(1, count + 1, 2)):
        outputs = f"{first}/{first + 1}" if first < count else f"{first}"
        switch = _SWITCHES[pair] if len(made) > 1 else ""
        rows += [
            f"{outputs},{kind},{corners},1,butterworth,{orders},{switch},yes"
            for kind, corners in made
        ]
    return OwnFilters(";".join(rows), tuple(missing))


def contradictions(
    rows: str, high: str | None, low: str | None, slopes: str | None
) -> tuple[tuple[str, str, str], ...]:
    """Return where plain columns contradict the rows that the full notation gives.

    Of each the column, what it says, and what the full notation says.

    >>> contradictions("1/2,high-pass,40-400,1,butterworth,2,,yes", "50-250", None, "12")
    (('high_pass_hz', '50-250', '40-400'),)
    """
    cells = [row.split(",") for row in rows.split(";")] if rows else []
    found = []
    for key, kind, said in (("high_pass_hz", "high-pass", high), ("low_pass_hz", "low-pass", low)):
        full = dict.fromkeys(row[2] for row in cells if row[1] == kind) or {NONE: None}
        if said is not None and said not in full:
            found.append((key, said, " or ".join(full)))
    orders = {int(order) for row in cells for order in row[5].split("/")}
    full_slopes = "/".join(str(_DB_PER_ORDER * order) for order in sorted(orders))
    if slopes is not None and orders:
        said_orders = {int(slope) // _DB_PER_ORDER for slope in slopes.split("/")}
        if said_orders != orders:
            found.append(("filter_db_per_octave", slopes, full_slopes))
    return tuple(found)
