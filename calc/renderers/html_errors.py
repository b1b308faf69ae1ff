"""What is wrong with the inputs, as the page shows it above the form."""

from collections import Counter
from xml.etree.ElementTree import Element

from calc.answers.calculator import Calculator
from calc.answers.markup import element, group, markup
from calc.inputs.errors import FieldError, InputError, and_more
from calc.renderers.html import field_id

_MOST_TOLD = 10  # things wrong in one field that the summary tells; all stand at the field


def errors_html(error: InputError, calculator: Calculator) -> str:
    """Write the summary of wrong inputs, each a link to its field where it has one."""

    def told(one: FieldError) -> Element | str:
        if one.field not in calculator.form.by_key:
            return one.message
        return element("a", one.message, href="#" + field_id(calculator.name, one.field))

    count: Counter[str] = Counter()
    first = []
    for one in error.errors:
        count[one.field] += 1
        if count[one.field] <= _MOST_TOLD:
            first.append(one)
    rest = len(error.errors) - len(first) + error.more
    return markup(
        group(
            element("p", "Some inputs cannot be used", class_="error-summary__title"),
            element("ul", [(element("li", told(one)), "\n") for one in first]),
            element("p", and_more(rest)) if rest else None,
        )
    )
