"""Read a speaker from a pasted text."""

from calc.reading.clauses import page_of
from calc.reading.coils import read_coils
from calc.reading.leftover import read_name, reading_of
from calc.reading.record import Notes, Reading
from calc.reading.speaker_kind import read_enclosure, read_lowest, read_section
from calc.reading.speaker_power import read_rating, read_sensitivity
from calc.reading.text import checked, folded


def read_speaker(text: str) -> Reading:
    """Return what a text says of a speaker, in the columns of a system's speakers.

    Raises InputError for a text that is too long.  What is not plain is not taken.

    >>> read_speaker("Subwoofer, 2 x 2 Ω, 300 W RMS, 600 W max").values
    {'section': 'woofer', 'coil_ohm': '2', 'coils': '2', 'rated_w': '300'}
    """
    text = checked(text)
    page = page_of(text, folded(text))
    notes = Notes(text, "speaker")
    read_name(notes, page)
    read_section(notes, page)
    read_coils(notes, page)
    read_rating(notes, page)
    read_sensitivity(notes, page)
    read_enclosure(notes, page)
    read_lowest(notes, page)
    return reading_of(notes, page)
