"""The mass of a body, where a text calls it one."""

from calc.reading.clauses import Page, Statement
from calc.reading.power_words import words
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

_MASS = words(
    r"weigh",
    r"weight",
    r"mass(?![a-z])",
    r"gewicht",
    r"poids",
    r"peso",
    r"wt(?![a-z])",
    r"waga(?![a-z])",
    r"vikt(?![a-z])",
    r"vekt(?![a-z])",
    r"hmotnost",
)
_MASS_OTHER = words(r"gross", r"ship", r"pack", r"brutto", r"magnet", r"brut(?![a-z])", r"lordo",
                    r"bruto", r"carton", r"strontium", r"ferrite", r"vehicle", r"fixing",
                    r"up to")  # fmt: skip
_ONE_GRAM = 0.05


def read_mass(notes: Notes, page: Page) -> None:
    """Take the mass; of kilograms and pounds that agree, the kilograms."""
    for statement in page.statements:
        found = next((s for c in statement.clauses if (s := c.search(_MASS))), None)
        if found is None and not _is_headed(page, statement):
            continue
        weights = [q for q in statement.quantities if q.unit in ("kg", "lb", "oz")]
        if not weights:
            continue
        whole = Span(
            min([weights[0].span.start, *([found.start] if found else [])]),
            max(weights[-1].span.end, weights[0].span.end),
        )
        if _MASS_OTHER.search(page.text, statement.span.start, statement.span.end):
            notes.refuse(whole, "not the mass of the amplifier alone")
            continue
        values = _masses(page.text, weights)
        if values is None or max(values) > 1.04 * min(values):
            notes.refuse(whole, "which mass applies is not clear")
            continue
        notes.claim("mass_kg", round(values[0], 3), whole)


def _is_headed(page: Page, statement: Statement) -> bool:
    """Tell whether a line without words stands below the word for mass."""
    head = statement.head
    own = page.text[statement.label.start : statement.label.end]
    return bool(head and head.search(_MASS) and not any(map(str.isalpha, own)))


def _masses(text: str, weights: list[Quantity]) -> list[float] | None:
    """Return the masses [kg], pounds and ounces of one put together; None where one is not plain.

    The first is the one that is taken: kilograms where there are any.
    """
    values: list[tuple[str, float]] = []
    for at, each in enumerate(weights):
        value = each.one(_ONE_GRAM if each.unit == "kg" else 0.01, 50)
        if value is None:
            return None
        before = weights[at - 1] if at else None
        if each.unit == "oz":
            if before is None or before.unit != "lb" or each.span.start - before.span.end > 3:
                return None
            values[-1] = ("lb", values[-1][1] + value)
        else:
            values.append((each.unit, value))
    values.sort(key=lambda one: one[0] != "kg")
    return [value for _, value in values]
