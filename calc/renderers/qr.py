"""QR code of a link, drawn as SVG.  Needs `qrcodegen`, which nothing else here does."""

from xml.etree.ElementTree import Element

from qrcodegen import QrCode

from calc.answers.markup import element

# What version 38 holds at level M, and at level L: beyond it a code has more modules than a
# hand-held camera reads off a screen.
_LONGEST_OF_MEDIUM = 2_099
LONGEST = 2_683
_QUIET = 4  # modules of quiet zone, ISO/IEC 18004


def qr_svg(text: str, what: str = "link") -> Element:
    """Return the code as dark squares on a light ground, with its quiet zone.

    what : what the text is, in a word

    Raises ValueError for a text that is too long to be read from a screen, or that holds what
    is no sign (half a surrogate pair).
    """
    try:
        length = len(text.encode())
    except UnicodeEncodeError as error:
        raise ValueError(f"the {what} holds a sign that cannot be written") from error
    if length > LONGEST:
        raise ValueError(f"the {what} is longer than {LONGEST} characters")
    level = QrCode.Ecc.MEDIUM if length <= _LONGEST_OF_MEDIUM else QrCode.Ecc.LOW
    code = QrCode.encode_text(text, level)
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
