"""QR code of a link, drawn as SVG.  Needs `qrcodegen`, which nothing else here does."""

from xml.etree.ElementTree import Element

from qrcodegen import QrCode

from calc.answers.markup import element

# What version 38 holds at level M, and at level L: beyond it a code has more modules than a
# hand-held camera reads off a screen.
_LONGEST_OF_MEDIUM = 2_099
LONGEST = 2_683
_QUIET = 4  # modules of quiet zone, ISO/IEC 18004


# On paper a phone reads modules of a quarter of a millimetre (from memory): 20 mm hold a short
# link, and the head of a printed sheet has room for 32.
_MODULE_MM, _LEAST_MM, _MOST_MM = 0.25, 20.0, 32.0


def qr_svg(text: str, what: str = "link") -> Element:
    """Return the code as dark squares on a light ground, with its quiet zone.

    what : what the text is, in a word

    Raises ValueError for a text that is too long to be read from a screen, or that holds what
    is no sign (half a surrogate pair).
    """
    length = _length(text, what)
    if length > LONGEST:
        raise ValueError(f"the {what} is longer than {LONGEST} characters")
    level = QrCode.Ecc.MEDIUM if length <= _LONGEST_OF_MEDIUM else QrCode.Ecc.LOW
    return _drawn(QrCode.encode_text(text, level), what)


def qr_on_paper(text: str, what: str = "link") -> Element:
    """Return the code as large on paper as it must be to be read there.

    Raises ValueError for a text that is too long for that, or that holds what is no sign.
    """
    _length(text, what)
    for level in (QrCode.Ecc.MEDIUM, QrCode.Ecc.LOW):
        try:
            code = QrCode.encode_text(text, level)
        except ValueError:  # more than any code holds
            continue
        size_mm = max(_LEAST_MM, _MODULE_MM * (code.get_size() + 2 * _QUIET))
        if size_mm <= _MOST_MM:
            svg = _drawn(code, what)
            svg.set("width", f"{size_mm:g}mm")
            svg.set("height", f"{size_mm:g}mm")
            return svg
    raise ValueError(f"the {what} is too long for a code that can be read from paper")


def _length(text: str, what: str) -> int:
    try:
        return len(text.encode())
    except UnicodeEncodeError as error:
        raise ValueError(f"the {what} holds a character that cannot be written") from error


def _drawn(code: QrCode, what: str) -> Element:
    squares = "".join(
        f"M{x + _QUIET} {y + _QUIET}h1v1h-1z"
        for y in range(code.get_size())
        for x in range(code.get_size())
        if code.get_module(x, y)
    )
    size = code.get_size() + 2 * _QUIET
    return element(
        "svg",
        element("title", f"QR code of the {what}"),
        element("rect", width=size, height=size, fill="#fff"),
        element("path", d=squares, fill="#000"),
        viewBox=f"0 0 {size} {size}",
        role="img",
        class_="qr__picture",
        shape_rendering="crispEdges",
    )
