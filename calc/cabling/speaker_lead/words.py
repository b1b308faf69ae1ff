"""The verdict of `speaker-lead`."""

from calc.answers.figures import quantity
from calc.answers.sheet import Verdict
from calc.cabling.speaker_lead.inputs import Inputs
from calc.cabling.speaker_lead.solve import LEAD_SIZES, Result
from calc.cabling.words import both_names, rated
from calc.physics.permitted_current import carries


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the cable keeps the loss and is rated for the current; else what is."""
    enough, ampere, rating_a = result.enough, result.ampere, result.permitted_a
    limit, lost = quantity(inputs.max_loss_db, "dB"), quantity(result.loss_db, "dB", 3)
    instead = (
        f"Use {both_names(enough)}"
        if enough
        else f"Even {LEAD_SIZES[-1].words} is not enough: shorten the cable"
    )
    if ampere is not None and rating_a is not None and not carries(rating_a, ampere):
        return Verdict(
            "unsuitable",
            f"It carries {quantity(ampere, 'A', 3)} at full power and is rated for "
            f"{rated(rating_a)}. {instead}.",
        )
    if not result.keeps_loss:
        more = f"slightly more than {limit}" if lost == limit else lost
        return Verdict("unsuitable", f"Loses {more}; the limit is {limit}. {instead}.")
    if ampere is not None and rating_a is None:
        return Verdict(
            "not known",
            f"The loss is fine, but we hold no current rating for this size, and it carries "
            f"{quantity(ampere, 'A', 3)} at full power. {instead}.",
        )
    return Verdict("suitable", f"Loses {lost}; the limit is {limit}.")
