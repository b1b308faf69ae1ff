"""Random inputs made from a calculator's declared fields.

They know nothing of a calculator but its fields; where fields depend on one another they are drawn
until they agree, or an entry of `FITS` brings them together where that would take too long.
"""

from field_inputs import invalid_field, valid_field
from fits import FITS

from calc.inputs.errors import InputError

MOST_DRAWS = 200


def beside(calculator, key):
    """Return inputs that make an answer quick where only the field with this key is looked at.

    A stock list of one amplifier takes a tenth of the usual one's time.
    """
    shelf = calculator.form.by_key.get("shelf")
    if shelf is None or key == "shelf":
        return {}
    return {"shelf": "\n".join(shelf.default.splitlines()[:2])}


def valid_inputs(calculator, rng, as_text=False):
    """Return raw inputs that the calculator must accept; some fields are left out.

    as_text : rows are written as one text, as in a link, never as a list of lists
    """
    fit = FITS.get(calculator.name)
    for _ in range(MOST_DRAWS):
        texts = {
            field.key: valid_field(field, rng, as_text)
            for field in calculator.fields
            if rng.random() < 0.7
        }
        if fit:
            return fit(calculator, texts, rng)
        if _agree(calculator, texts):
            return texts
    raise AssertionError(f"{calculator.name}: its fields seldom agree; give it an entry of FITS")


def _agree(calculator, texts):
    try:
        calculator.form.read(texts)
    except InputError:
        return False
    return True


def invalid_inputs(calculator, rng, as_text=False):
    """Return raw inputs that the calculator must refuse."""
    return spoiled_inputs(calculator, rng, as_text)[0]


def spoiled_inputs(calculator, rng, as_text=False):
    """Return raw inputs with one to four wrong ones among them, and the wrong ones' keys."""
    texts = valid_inputs(calculator, rng, as_text)
    keys = [field.key for field in calculator.fields]
    keys = rng.sample(keys, rng.randint(1, min(4, len(keys))))
    for key in keys:
        texts[key] = invalid_field(calculator.form.by_key[key], rng, as_text)
    if rng.random() < 0.3:
        keys.append("no_such_field_w")
        texts["no_such_field_w"] = "4"
    return texts, set(keys)


def blamed_together(calculator):
    """Return the fields that may be blamed for what another one is given."""
    return {"drivers", "intended", "settled", "loads"} | {
        key for group in calculator.alternatives for key in group
    }
