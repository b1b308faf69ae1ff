"""Plain rules that read the text of a carton, a manual or a shop's page into figures."""

from calc.reading.amplifier import read_amplifier
from calc.reading.proposal import proposal
from calc.reading.record import Figure, Kind, Question, Reading, Refusal
from calc.reading.speaker import read_speaker

__all__ = [
    "Figure",
    "Kind",
    "Question",
    "Reading",
    "Refusal",
    "proposal",
    "read_amplifier",
    "read_speaker",
]
