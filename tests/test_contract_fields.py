"""The fields that the contract names: there, optional or not, with the defaults that bind."""

import pytest
from contract import RESULTS

from calc.app.contents import CALCULATORS

CONTRACT = {
    "bridged-output": (
        {"min_channel_ohm": 2, "rated_v": 14.4, "supply_v": 14.4, "regulated": False},
        {"load_ohm", "power_4ohm_w"},
        {"power_2ohm_w", "power_8ohm_w", "rated_bridged_w"},
    ),
    "channel-map": (
        {
            "channels": 4,
            "min_channel_ohm": 2,
            "rated_v": 14.4,
            "supply_v": 14.4,
            "regulated": False,
        },
        {"sections", "power_4ohm_w"},
        {"power_2ohm_w"},
    ),
    "coil-wiring": (
        {
            "drivers": 2,
            "coils_per_driver": 2,
            "coil_ohm": 4,
            "min_load_ohm": 2,
            "bridged": False,
            "limit": 50,
        },
        set(),
        {"power_w"},
    ),
    "meter-check": ({"lead_ohm": 0.1}, {"drivers", "intended", "reading_ohm"}, set()),
}


def test_every_promised_calculator_has_the_shape_of_its_results():
    assert CONTRACT.keys() <= RESULTS.keys()


@pytest.mark.parametrize("name", CONTRACT)
def test_the_contract_s_fields_exist_with_its_defaults(name):
    binding, others, optional = CONTRACT[name]
    form = CALCULATORS[name].form
    values = form.read({})
    assert {key: values[key] for key in binding} == binding
    assert set(binding) | others | optional <= set(form.by_key)
    assert all(form.by_key[key].optional for key in optional)
    assert not any(form.by_key[key].optional for key in others | set(binding))
