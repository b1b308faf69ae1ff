"""HTML and SVG as element trees: the one place where text is escaped."""

from collections.abc import Iterable
from typing import TypeAlias
from xml.etree.ElementTree import Element, tostring

# What may stand within an element: nothing, text, an element, or any number of these.
Children: TypeAlias = "Element | str | Iterable[Children] | None"

# Without an element of its own, a list of siblings hangs under one of these.
_GROUP = "group"


def element(tag: str, /, *children: Children, **attributes: object) -> Element:
    """Return an element; text children and attribute values are escaped when written.

    Attribute names: a trailing underscore is dropped and inner ones become hyphens
    (`class_`, `aria_live`, `stroke_width`).  None and False leave an attribute out, True
    writes it with its own name as value.

    >>> markup(element("p", "4 < 8 ", element("b", "Ω"), class_='"x"'))
    '<p class="&quot;x&quot;">4 &lt; 8 <b>Ω</b></p>'
    """
    made = Element(tag)
    for name, value in attributes.items():
        if value is None or value is False:
            continue
        name = name.removesuffix("_").replace("_", "-")
        made.set(name, name if value is True else str(value))
    for child in children:
        _append(made, child)
    return made


def _append(parent: Element, child: Children) -> None:
    if child is None:
        return
    if isinstance(child, str):
        _append_text(parent, child)
    elif isinstance(child, Element):
        if child.tag == _GROUP:
            if child.text:
                _append_text(parent, child.text)
            parent.extend(child)
        else:
            parent.append(child)
    else:
        for each in child:
            _append(parent, each)


def _append_text(parent: Element, text: str) -> None:
    if len(parent):
        parent[-1].tail = (parent[-1].tail or "") + text
    else:
        parent.text = (parent.text or "") + text


def group(*children: Children) -> Element:
    """Return siblings without an element around them."""
    return element(_GROUP, *children)


def markup(tree: Element) -> str:
    """Write a tree as HTML text."""
    if tree.tag != _GROUP:
        return tostring(tree, encoding="unicode", method="html")
    wrapped = tostring(tree, encoding="unicode", method="html")
    return wrapped.removeprefix(f"<{_GROUP}>").removesuffix(f"</{_GROUP}>")
