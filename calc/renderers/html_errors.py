"""What is wrong with the inputs, as the page shows it above the form."""

from collections import Counter
from xml.etree.ElementTree import Element

from calc.answers.calculator import AnyCalculator
from calc.answers.markup import element, group, markup
from calc.inputs.errors import FieldError, InputError, and_more
from calc.renderers.html import field_id

_MOST_TOLD = 10  # things wrong in one field that the summary tells; all stand at the field


def errors_html(error: InputError, calculator: AnyCalculator) -> str:
    """Write the summary of wrong inputs, each a link to its field where it has one."""

    def line(wrong: FieldError) -> Element | str:
        if wrong.field not in calculator.form.by_key:
            return wrong.message
        return element("a", wrong.message, href="#" + field_id(calculator.name, wrong.field))

    count: Counter[str] = Counter()
    first = []
    for wrong in error.errors:
        count[wrong.field] += 1
        if count[wrong.field] <= _MOST_TOLD:
            first.append(wrong)
    rest = len(error.errors) - len(first) + error.more
    return markup(
        group(
            element("p", "Some inputs cannot be used", class_="error-summary__title"),
            element("ul", [(element("li", line(wrong)), "\n") for wrong in first]),
            element("p", and_more(rest)) if rest else None,
        )
    )
