"""QR code of a link, drawn as SVG.  Needs `segno`, which nothing else here does."""

from xml.etree.ElementTree import Element

import segno

from calc.core.markup import element

# Version 40 at the lowest error correction holds 2,953 bytes (ISO/IEC 18004).
LONGEST = 2_000


def qr_svg(text: str) -> Element:
    """Return the code as dark squares on a light ground, with its quiet zone.

    Raises ValueError for a text that is too long to be read from a screen.
    """
    if len(text.encode()) > LONGEST:
        raise ValueError(f"the link is longer than {LONGEST} characters")
    code = segno.make(text, micro=False, error="m", boost_error=False)
    rows = [list(row) for row in code.matrix_iter(border=4)]
    runs = "".join(
        f"M{x} {y}h1v1h-1z" for y, row in enumerate(rows) for x, dark in enumerate(row) if dark
    )
    size = len(rows)
    return element(
        "svg",
        element("title", "QR code of the link to this answer"),
        element("rect", width=size, height=size, fill="#fff"),
        element("path", d=runs, fill="#000"),
        viewBox=f"0 0 {size} {size}",
        role="img",
        class_="qr__picture",
        shape_rendering="crispEdges",
    )
