"""What files hold, as the forms of the whole job take it."""

from collections.abc import Mapping, Sequence

from calc.inputs.errors import FieldError
from calc.inputs.field_base import Raw
from calc.system.files.system_file import read_system

Texts = tuple[Mapping[str, Raw], Sequence[FieldError]]


def from_system(text: str) -> Texts:
    """Read a system file for the choice: its own amplifier plays no part."""
    texts, errors = read_system(text)
    return {key: raw for key, raw in texts.items() if key != "amplifier"}, errors


def from_shelf(text: str) -> Texts:
    """Take a stock list as it is; the field reads it."""
    return {"shelf": text}, ()
