"""The calculator `speaker-lead`: what the lead to a speaker loses."""

from calc.cabling.speaker_lead.inputs import Inputs
from calc.cabling.speaker_lead.sheet import SPEAKER_LEAD
from calc.cabling.speaker_lead.solve import Result, solve
from calc.cabling.speaker_lead.words import judge

__all__ = ["SPEAKER_LEAD", "Inputs", "Result", "judge", "solve"]
