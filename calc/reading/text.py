"""A text as the rules look at it: every character stays in its place, and only its form changes."""

import re
import unicodedata

from calc.inputs.errors import refuse

_WIDE = re.compile(r"[ \u00a0]{2,}")
_NARROW = re.compile(r"(?<![ \u00a0])[ \u00a0](?![ \u00a0])")
LONGEST_TEXT = 20_000  # characters: a long manual page; what is longer is no spec sheet

_DASHES = "‐‑‒–—―−﹘﹣－~∼〜…⁓÷→"
_PLAIN = str.maketrans(
    {
        **dict.fromkeys(_DASHES, "-"),
        **dict.fromkeys("×✕✖⨯＊∗*", "x"),
        **dict.fromkeys("“”„‟″＂❞", '"'),
        **dict.fromkeys("‘’‚‛′`´", "'"),
        **dict.fromkeys("ΩΩωΏ", "Ω"),
        **dict.fromkeys("•●◦▪■►▶‣·∙", ";"),
        **dict.fromkeys("\u00a0\u2007\u202f\u2009\u200a\u2002\u2003\u2005\u2006\u3000", " "),
        "＠": "@",
        "µ": "u",
        "μ": "u",
        "≦": "≤",
        "≧": "≥",
        "⁄": "/",
        "∕": "/",
        "：": ":",
        "，": ",",
        "（": "(",
        "）": ")",
        "\r": "\n",
        "\v": "\n",
        "\f": "\n",
        "\u2028": "\n",
        "\u2029": "\n",
        "\u0085": "\n",
    }
)


def checked(text: str) -> str:
    """Return a pasted text that can be read; raises InputError where it is too long or empty."""
    text = text.removeprefix("\ufeff")
    if len(text) > LONGEST_TEXT:
        message = (
            f"The text has {len(text)} characters; up to {LONGEST_TEXT} are read. "
            "Copy only the part with the technical data."
        )
        raise refuse("text", "", message)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join(map(_single_blanks, lines))


def _single_blanks(line: str) -> str:
    """Return a line that was stretched with blanks as it was: they part no columns there."""
    if len(_WIDE.findall(line)) < 2 or _NARROW.search(line.strip()):
        return line
    return _WIDE.sub(" ", line)


def folded(text: str) -> str:
    """Return a text in small letters without accents, each character in its old place.

    >>> folded("4 × 60 W — Höhe 52 mm, 0,2…6 V")
    '4 x 60 w - hohe 52 mm, 0,2-6 v'
    """
    return "".join(map(_plain, text))


def _plain(character: str) -> str:
    if character < "\x80":
        return character.translate(_PLAIN).lower()
    plain = character.translate(_PLAIN)
    if plain == "Ω" or plain < "\x80":
        return plain.lower() if plain != "Ω" else plain
    base = unicodedata.normalize("NFKD", character)[:1].translate(_PLAIN)
    if base in "½¼¾⅛⅜⅝⅞" or unicodedata.category(character) == "No":
        return character
    lower = base.lower()
    return lower if len(lower) == 1 else character
