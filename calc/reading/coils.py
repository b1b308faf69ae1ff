"""The impedance of a coil, and how many coils a speaker has."""

from calc.answers.figures import rounded
from calc.reading.clauses import Clause, Page, Statement
from calc.reading.power_words import words
from calc.reading.quantities import Quantity
from calc.reading.record import Notes, Span

_TWO = words(
    r"dvc(?![a-z])", r"dual[- ]?(?:voice[- ]?)?coil",
    r"dual (?:[0-9.]+[- ]?(?:Ω|ohms?)[- ]?)?voice",
    r"twin[- ]?(?:voice[- ]?)?coil", r"double (?:voice[- ]?)?coil", r"doppel-?schwingspule",
    r"two voice coils", r"double bobine", r"doppia bobina", r"doble bobina", r"2 voice coils",
)  # fmt: skip
_ONE = words(r"svc(?![a-z])", r"single[- ]?(?:voice[- ]?)?coil",
    r"single (?:[0-9.]+[- ]?(?:Ω|ohms?)[- ]?)?voice",
    r"einzelschwingspule", r"bobin[ae] (?:singola|simple)(?! o )", r"simple bobine")  # fmt: skip
_COIL_WORD = words(
    r"voice[- ]?coils?\s*[:=|\t]?\s*(?P<n>dual|double|twin|single|[12](?![0-9.,\"'m]))"
)
_DUAL = words(r"dual(?![a-z])", r"twin(?![a-z])")
_NOT = words(
    r"re(?![a-z])", r"dcr", r"dc(?![a-z])", r"dc[- ]?resist", r"resistance", r"gleichstrom",
    r"parallel", r"series",
    r"seri(?:e|al|ell)", r"minimum", r"min(?![a-z])", r"amplifier", r"stable", r"cable",
    r"zmax", r"zmin",
    r"compatible", r"amp(?![a-z])", r"stab", r"recommend", r"loads?(?![a-z])", r"wired",
    r"head unit",
    r"also available", r"optional", r"version", r"resist", r"reihe", r"final", r"bridg",
    r"crossover",
    r"capacitor", r"sensitiv", r"combined", r"together",
)  # fmt: skip
_JOINED = words(r"parallel", r"series", r"re(?![a-z])", r"dcr", r"resist")


def read_coils(notes: Notes, page: Page) -> None:
    """Take impedance and number of coils; where two coils have one figure apart, it is asked."""
    said: dict[float, list[tuple[Quantity, Clause]]] = {}
    counts = _counts(notes, page)
    for statement in page.statements:
        for clause in statement.clauses:
            for quantity in clause.of("Ω"):
                _one(notes, statement, clause, quantity, said, counts)
    values = list(said)
    if len(values) > 1:
        for pairs in said.values():
            for quantity, _ in pairs:
                notes.refuse(quantity.span, "the text gives several impedances: which is it?")
        return
    if not values:
        return
    quantity, clause = said[values[0]][0]
    counted = {q.count for q, _ in said[values[0]] if q.count is not None}
    number = counted | counts
    if len(number) > 1:
        notes.refuse(quantity.span, "the number of voice coils is not clear")
        return
    coils = next(iter(number), None)
    together = any(_is_dual(c, q) for q, c in said[values[0]])
    if coils == 2 and not counted and not together:
        both = rounded(values[0])
        notes.ask(
            quantity.span,
            f"Two coils, {both} Ω: each of them?",
            [(f"each {both} Ω", {"coil_ohm": values[0], "coils": 2})],
        )
        return
    if coils is None and together:  # ‘dual 4 Ω’ may be two coils, or one of two versions
        both = rounded(values[0])
        notes.ask(
            quantity.span,
            f"Dual, {both} Ω: two coils, each of them {both} Ω?",
            [(f"two coils, each {both} Ω", {"coil_ohm": values[0], "coils": 2})],
        )
        return
    notes.claim("coil_ohm", values[0], quantity.span)
    if counted:
        notes.claim("coils", coils, quantity.span)


def _is_dual(clause: Clause, quantity: Quantity) -> bool:
    """Tell whether words for two coils stand at an impedance, with no other label between."""
    for pattern in (_TWO, _DUAL):
        found = clause.search(pattern)
        if found is not None and ":" not in clause.text[found.end : quantity.span.start]:
            return True
    return False


def _counts(notes: Notes, page: Page) -> set[int | None]:
    """Take how many coils there are, where words say so."""
    found: set[int | None] = set()
    places: list[tuple[int, Span]] = []
    for pattern, number in ((_TWO, 2), (_ONE, 1)):
        for match in pattern.finditer(page.text):
            places.append((number, Span(match.start(), match.end())))
    for match in _COIL_WORD.finditer(page.text):
        number = 1 if match["n"] in ("single", "1") else 2
        places.append((number, Span(match.start(), match.end())))
    for number, span in places:
        found.add(number)
        notes.claim("coils", number, span)
    return found


def _one(
    notes: Notes,
    statement: Statement,
    clause: Clause,
    quantity: Quantity,
    said: dict[float, list[tuple[Quantity, Clause]]],
    counts: set[int | None],
) -> None:
    label = Clause(clause.text, statement.label, "", ())
    is_first = label.span.end >= clause.span.start or clause.opener == "+"
    if clause.search(_NOT) or (is_first and label.search(_NOT)):
        if clause.search(_JOINED):
            notes.refuse(quantity.span, "not the impedance of one voice coil")
        return
    if quantity.shape == "list":
        notes.refuse(quantity.span, "several impedances: which is it?")
        return
    value = quantity.one(0.5, 16)
    if value is None:
        notes.refuse(quantity.span, "the impedance is not clear")
        return
    beside = clause.text[quantity.span.end : quantity.span.end + 4].strip()
    if beside.startswith("+") or clause.opener == "+":
        # 2 + 2 Ω: two coils, where both are alike.
        others = [q for c in statement.clauses for q in c.of("Ω", "") if q is not quantity]
        if len(others) == 1 and others[0].one(0.5, 16) == value:
            doubled = Quantity(
                ((value,),), "Ω", 2, "one",
                Span(min(quantity.span.start, others[0].span.start), quantity.span.end),
            )  # fmt: skip
            said.setdefault(value, []).append((doubled, clause))
        else:
            notes.refuse(quantity.span, "the impedance is not clear")
        return
    if quantity.count is not None and quantity.count not in (1, 2, 4):
        notes.refuse(quantity.span, "the number of voice coils is not clear")
        return
    said.setdefault(value, []).append((quantity, clause))
