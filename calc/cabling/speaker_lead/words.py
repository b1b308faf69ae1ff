"""The verdict of `speaker-lead`."""

from calc.answers.figures import quantity
from calc.answers.sheet import Verdict
from calc.cabling.speaker_lead.inputs import Inputs
from calc.cabling.speaker_lead.solve import LEAD_SIZES, Result
from calc.cabling.words import both_names
from calc.physics.permitted_current import carries


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the lead keeps the loss and may carry the current; else what does."""
    enough, ampere, may_carry_a = result.enough, result.ampere, result.permitted_a
    limit, lost = quantity(inputs.max_loss_db, "dB"), quantity(result.loss_db, "dB", 3)
    instead = (
        f"take {both_names(enough)}"
        if enough
        else f"{LEAD_SIZES[-1].words} would not do either; shorten the lead"
    )
    if ampere is not None and may_carry_a is not None and not carries(may_carry_a, ampere):
        return Verdict(
            "unsuitable",
            f"{quantity(ampere, 'A', 3)} at full power, and the lead may carry "
            f"{quantity(may_carry_a, 'A', 3)}; {instead}.",
        )
    if result.keeps_loss:
        if ampere is not None and may_carry_a is None:
            return Verdict(
                "not known",
                f"{lost} of {limit} permitted; whether the lead may carry "
                f"{quantity(ampere, 'A', 3)} no table here says; {instead}.",
            )
        return Verdict("suitable", f"{lost} of {limit} permitted.")
    more = f"slightly over {limit}" if lost == limit else f"{lost}, more than {limit}"
    return Verdict("unsuitable", f"{more}; {instead}.")
