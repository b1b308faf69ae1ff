"""A step of the form that is left empty ends no plan, whatever the others say."""

import pytest
from arrangement_files import NAMES, text_of
from conftest import sampled

from calc.answers.sheet import STATES
from calc.app.contents import CALCULATORS

FIT_PLAN = CALCULATORS["fit-plan"]
OPTIONAL = {field.key for field in FIT_PLAN.fields if field.optional}
STEPS = {group.heading: {*group.keys, *group.more} & OPTIONAL for group in FIT_PLAN.groups}


@pytest.mark.parametrize("name", sampled(NAMES, NAMES[::6]))
@pytest.mark.parametrize("closed", ["no", "yes"])
def test_each_step_may_be_left_empty(name, closed):
    """In a closed space too, of which then nothing but that is known."""
    given, wrong = FIT_PLAN.files[0](text_of(name.removeprefix("arr-")))
    assert wrong == []
    for heading, keys in STEPS.items():
        sheet = FIT_PLAN.answer({**given, **dict.fromkeys(keys, ""), "closed": closed}).sheet
        assert sheet.verdict.state in STATES, heading
        assert {part.verdict.state for part in sheet.parts} <= set(STATES), heading
