"""How wide a text will be, as near as can be said without the font; and texts cut to a width."""

# Widths in the text face's bolder cut, in hundredths of its size: letters from the narrowest on.
_UP_TO = (
    (30, " \u00a0\u202f'’ijl,."),
    (36, "!:;[]()f²·{}"),
    (40, "tr|-"),
    (50, 'I/\\"?sz€'),
    (54, "cLvyJgx"),
    (60, "*_aekoäéFThnu–µ$+0123456789<=>EZ^`bdpq~×−"),
    (66, "SYCPVXBR"),
    (72, "AKDU#&GOQHNΩß"),
    (90, "Mwm@…"),
    (96, "W%"),
)
_EM = {letter: width / 100 for width, letters in _UP_TO for letter in letters}
# Other letters are some other font's: the widest of usual ones, Cyrillic in a bold cut.
_OTHER = 1.35
_PLAIN = 0.975  # of the bolder cut


def width_of(text: str, size: float, *, bold: bool = True) -> float:
    """Return about how wide a text is [px]; rather too wide than too narrow.

    >>> width_of("illi", 10) < width_of("MMMM", 10)
    True
    """
    return size * sum(_EM.get(letter, _OTHER) for letter in text) * (1 if bold else _PLAIN)


def cut(text: str, size: float, room: float, *, bold: bool = True) -> str:
    """Return the text, or as much of it as a width [px] takes, with dots for the rest.

    >>> cut("Hazel 4-75", 12.5, 90), cut("Hazel 4-75 of the shop", 12.5, 90)
    ('Hazel 4-75', 'Hazel 4-75 o…')
    """
    if width_of(text, size, bold=bold) <= room:
        return text
    while text and width_of(text + "…", size, bold=bold) > room:
        text = text[:-1].rstrip(" ,:;–-\u202f\u00a0")
    return text + "…"


def short(text: str, size: float, room: float, *, bold: bool = False) -> str:
    """Return a label such as `8 AWG, 0.5 m`, without its last parts where all have no room [px].

    A figure that is cut would be another figure.

    >>> short("8 AWG, 0.5 m", 12.5, 90), short("8 AWG, 0.5 m", 12.5, 60)
    ('8 AWG, 0.5 m', '8 AWG')
    """
    while width_of(text, size, bold=bold) > room and ", " in text:
        text = text.rpartition(", ")[0]
    return text


def in_two_lines(text: str, size: float, room: float) -> tuple[str, ...]:
    """Return the text in one line or two, the last one cut to the width [px].

    >>> in_two_lines("Hazel 4-75", 12.5, 90), in_two_lines("Hawthorn 4-75 A", 12.5, 90)
    (('Hazel 4-75',), ('Hawthorn', '4-75 A'))
    """
    words = text.split(" ")
    counts = range(1, len(words) + 1)
    at = max((at for at in counts if width_of(" ".join(words[:at]), size) <= room), default=0)
    if at == len(words) or not at:
        return (cut(text, size, room),)
    return " ".join(words[:at]), cut(" ".join(words[at:]), size, room)
