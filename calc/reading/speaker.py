"""Read a speaker from a pasted text."""

from calc.reading.clauses import page_of
from calc.reading.leftover import read_name, reading_of
from calc.reading.record import Notes, Reading
from calc.reading.text import checked, folded


def read_speaker(text: str) -> Reading:
    """Return what a text says of a speaker, in the columns of a system's speakers."""
    text = checked(text)
    page = page_of(text, folded(text))
    notes = Notes(text, "speaker")
    read_name(notes, page)
    return reading_of(notes, page)
