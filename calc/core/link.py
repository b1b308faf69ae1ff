"""Deep links: the page's address with the inputs that differ from the defaults."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, quote

from calc.core.calculator import Calculator
from calc.core.errors import FieldError, InputError, shown

LONGEST_QUERY = 20_000
# Signs that a query may hold as they are; they keep links short and readable.
_PLAIN = ",;|:()!*'/"


@dataclass(frozen=True)
class Opened:
    """What a link asks for: raw texts by key, and a word on each part that is ignored."""

    given: Mapping[str, str]
    notices: tuple[str, ...]


def prefix(calculator: Calculator, on_page: int) -> str:
    """Return what stands before each key, when a page holds several calculators."""
    return f"{calculator.name}." if on_page > 1 else ""


def query(calculator: Calculator, changed: Mapping[str, str], on_page: int) -> str:
    """Return the query text, empty when every input has its default."""
    before = prefix(calculator, on_page)
    return "&".join(
        f"{quote(before + key)}={quote(text, safe=_PLAIN)}"
        for key, text in changed.items()
    )


def opened(calculator: Calculator, text: str, on_page: int) -> Opened:
    """Take a query apart; keys of the page's other calculators are not looked at.

    Raises `InputError` for a key given twice and for a text of absurd length.
    """
    if len(text) > LONGEST_QUERY:
        problem = f"The link is longer than {LONGEST_QUERY} characters."
        raise InputError([FieldError("link", shown(text), problem)])
    before = prefix(calculator, on_page)
    given: dict[str, str] = {}
    notices, twice = [], []
    for key, value in parse_qsl(text.removeprefix("?"), keep_blank_values=True):
        if not key.startswith(before) or (before == "" and "." in key):
            continue
        name = key.removeprefix(before)
        if name not in calculator.form.by_key:
            notices.append(
                f"The link has a part that is not in use here and was ignored: "
                f"‘{shown(name)}’ = ‘{shown(value)}’."
            )
        elif name in given:
            message = f"{calculator.form.by_key[name].label}: given twice in the link."
            twice.append(FieldError(name, shown(value), message))
        else:
            given[name] = value
    if twice:
        raise InputError(twice)
    return Opened(given, tuple(notices))
