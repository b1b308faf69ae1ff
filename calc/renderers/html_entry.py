"""The control of one field: a box to type in, or a list to choose from."""

from xml.etree.ElementTree import Element

from calc.answers.markup import element
from calc.inputs.field_base import Field
from calc.inputs.fields import Choice, Number, Numbers, Text, Whole


def entry(field: Field, text: str, **attributes: object) -> Element:
    """Return the control filled with a text; a wrong choice stays in sight, to be corrected."""
    if isinstance(field, Choice):
        chosen = text.strip(" ")
        offered = [*field.options, *([("", "–")] if field.optional else [])]
        words = [word for word, _ in offered]
        options = [
            element("option", shown, value=word, selected=word == chosen) for word, shown in offered
        ]
        if chosen not in words:  # a link's wrong word stays in sight, to be corrected
            options.insert(0, element("option", text or "–", value=text, selected=True))
        return element("select", options, **attributes)
    mode = "numeric" if isinstance(field, Whole) else "decimal"
    if isinstance(field, Text | Numbers):
        attributes["class_"] = "entry--wide"
    return element(
        "input",
        type="text",
        inputmode=mode if isinstance(field, Number) else None,
        data_unit=(field.unit or None) if isinstance(field, Number) else None,
        value=text,
        autocomplete="off",
        size="6" if isinstance(field, Number) else "16",
        **attributes,
    )
