"""Read an amplifier from a pasted text."""

from calc.reading.channels import (
    check_loads,
    claim_channels,
    read_bridging,
    read_channels,
    read_loads,
)
from calc.reading.clauses import page_of
from calc.reading.electrics import read_class, read_fuses, read_inputs, read_supply
from calc.reading.features import read_boost, read_filters, read_switches
from calc.reading.leftover import read_name, reading_of
from calc.reading.mass import read_mass
from calc.reading.power_lines import powers_in
from calc.reading.power_settled import settle_powers
from calc.reading.record import Notes, Reading
from calc.reading.sizes import read_sizes
from calc.reading.tables import powers_in_tables
from calc.reading.text import checked, folded


def read_amplifier(text: str) -> Reading:
    """Return what a text says of an amplifier, in the columns of a stock list.

    Raises InputError for a text that is too long.  What is not plain is not taken.

    >>> read_amplifier("RMS 4 x 60 W at 4 Ω, max. 480 W; fuse 2 x 25 A").values
    {'power_4ohm_w': '60', 'channels': '4', 'fuses_a': '25/25'}
    """
    text = checked(text)
    page = page_of(text, folded(text))
    notes = Notes(text, "amplifier")
    read_name(notes, page)
    said = read_channels(notes, page)
    tabled, used = powers_in_tables(page)
    powers = [*tabled, *powers_in(page, used)]
    counted = settle_powers(notes, powers, said[0] if said[0] != 5 else None)
    claim_channels(notes, said, counted, powers)
    read_loads(notes, page, said[0] or counted)
    check_loads(notes)
    read_bridging(notes, page)
    for power in powers:
        if power.rated_v is not None and power.quality != "max":
            notes.claim("rated_v", power.rated_v, power.span)
    read_fuses(notes, page)
    read_inputs(notes, page)
    read_class(notes, page)
    read_supply(notes, page)
    read_filters(notes, page)
    read_boost(notes, page)
    read_switches(notes, page)
    read_sizes(notes, page)
    read_mass(notes, page)
    return reading_of(notes, page)
