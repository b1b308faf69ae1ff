"""Asking a calculator and taking its answer apart, as the tests of whole calculators do."""

import pytest

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError


def answer(name, **given):
    return CALCULATORS[name].answer({key: str(value) for key, value in given.items()})


def sheet_of(name, **given):
    return answer(name, **given).sheet


def results(name, **given):
    return sheet_of(name, **given).results


def refusals(name, **given):
    """Return what is refused, in order: (field, message) with plain spaces."""
    with pytest.raises(InputError) as caught:
        results(name, **given)
    return [(one.field, plain(one.message)) for one in caught.value.errors]


def errors_of(name, **given):
    """Return the message for each field that is refused."""
    with pytest.raises(InputError) as caught:
        results(name, **given)
    return {one.field: one.message for one in caught.value.errors}


def table(sheet, caption):
    (found,) = (one for one in sheet.tables if caption in one.caption)
    return found


def values(row):
    return [getattr(cell, "value", cell) for cell in row]


def plain(text):
    return text.replace("\u202f", " ")
