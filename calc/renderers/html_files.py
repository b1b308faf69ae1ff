"""The parts of a form that take files and keep them."""

from xml.etree.ElementTree import Element

from calc.answers.calculator import AnyCalculator
from calc.answers.markup import element
from calc.inputs.field_base import Raw
from calc.inputs.fields import Document


def file_bar(calculator: AnyCalculator) -> Element | None:
    """Return the ways to take all inputs from a file and to keep them as one."""
    if calculator.write_file is None:
        return None
    return element(
        "div",
        element("p", "The system stays on this device. Keep it as a file, too.", class_="label"),
        element(
            "div",
            element(
                "label",
                "Open a system file",
                element(
                    "input",
                    type="file",
                    accept=".toml,.txt,.xlsx,text/plain",
                    class_="document__file",
                    data_action="open-system",
                    aria_label="Open a system file",
                ),
                class_="button button--quiet",
            ),
            element(
                "button",
                "Save as a system file",
                type="button",
                class_="button button--quiet",
                data_hand_over="file",
            ),
            element(
                "button",
                "QR code of the file",
                type="button",
                class_="button button--quiet",
                data_hand_over="qr-file",
            ),
            class_="document__buttons",
        ),
        class_="starts",
        data_system=True,
    )


def document(identity: str, field: Document, raw: Raw) -> Element:
    """Return a place for a file's text, with a way to take it from a file and to keep it."""
    return element(
        "div",
        element(
            "textarea",
            raw if isinstance(raw, str) else "",
            id=identity,
            name=field.key,
            rows="6",
            spellcheck="false",
            wrap="off",
            autocomplete="off",
            aria_describedby=f"{identity}-hint {identity}-error",
        ),
        element(
            "div",
            element(
                "label",
                "Take from a file",
                element(
                    "input",
                    type="file",
                    accept=".csv,.xlsx,.toml,.txt,text/csv,text/plain",
                    class_="document__file",
                    aria_label=f"{field.label}: take from a file",
                    data_action="take-file",
                ),
                class_="button button--quiet",
            ),
            element(
                "button",
                "Save as a file",
                type="button",
                class_="button button--quiet",
                data_action="save-file",
                data_name=f"{field.key}.{field.ending}",
            ),
            element(
                "button",
                "Save a template",
                type="button",
                class_="button button--quiet",
                data_hand_over="template",
            )
            if field.template
            else None,
            class_="document__buttons",
        ),
        class_="document",
    )


def exchange_bar() -> Element:
    """Return the ways to take figures from the system on the device, and to give them back.

    It stays hidden until there is a system, and the way back until figures were taken.
    """
    return element(
        "div",
        element(
            "button",
            "Take from my system",
            type="button",
            class_="button button--quiet",
            data_exchange="take",
        ),
        element("span", class_="exchange__whom"),
        element(
            "button",
            "Give back to my system",
            type="button",
            class_="button button--quiet",
            data_exchange="give",
            hidden=True,
        ),
        class_="exchange",
        role="group",
        aria_label="My system",
        hidden=True,
    )
