"""Deep links: the page's address with the inputs that differ from the defaults."""

import binascii
import zlib
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import parse_qsl, quote

from calc.inputs.errors import FieldError, and_more, shown
from calc.inputs.field_base import Raw
from calc.inputs.form import Form

LONGEST_QUERY = 20_000
# A longer query is packed: messages and codes cut or refuse a link of more than 2,000 characters.
LONGEST_PLAIN = 1_800
PACKED = "packed"
# Of a page that opens empty: its links say so, for older ones are told against its example.
VERSION_KEY, LINK_VERSION = "v", "2"
MOST_NOTICES = 10  # on parts that are ignored; of the others the number is told
# Signs that a query may hold as they are; they keep links short and readable.
_PLAIN = ",;|:()!*'/"


@dataclass(frozen=True)
class Opened:
    """What a link asks of one calculator: raw texts by key, a word on each part that is
    ignored, what is wrong with the link itself, and the version that it names.
    """

    texts: Mapping[str, Raw]
    notices: tuple[str, ...] = ()
    errors: tuple[FieldError, ...] = ()
    version: str = ""


def own_page(name: str) -> str:
    """Return the address, below the site's root, of the page that a calculator has to itself."""
    return f"calculators/{name}/"


def prefix(name: str, page: Sequence[str]) -> str:
    """Return what stands before each key of a calculator, when a page holds several of them."""
    return f"{name}." if len(page) > 1 else ""


def query(name: str, changed: Mapping[str, str], page: Sequence[str]) -> str:
    """Return the query text of a calculator, empty when every input has its default.

    page : the names of the calculators on its page

    >>> query("power-cable", {"length_m": "2.75"}, ["power-cable", "cable-tree"])
    'power-cable.length_m=2.75'
    """
    return short(prefix(name, page), changed)


def short(before: str, texts: Mapping[str, str]) -> str:
    """Return texts as a query, packed where it would be long."""
    plain = _joined(before, texts)
    if len(plain) <= LONGEST_PLAIN:
        return plain
    return min(plain, f"{before}{PACKED}={_packed(_joined('', texts))}", key=len)


def _joined(before: str, texts: Mapping[str, str]) -> str:
    return "&".join(
        f"{quote(before + key)}={quote(text, safe=_PLAIN)}" for key, text in texts.items()
    )


def _packed(text: str) -> str:
    """Return a query deflated and spelled in letters that an address may hold."""
    return urlsafe_b64encode(zlib.compress(text.encode(), 9)).rstrip(b"=").decode("ascii")


def _unpacked(text: str) -> str | None:
    """Return what was packed; None for what is damaged, or longer than any link may be."""
    try:
        packed = urlsafe_b64decode(text.encode("ascii") + b"=" * (-len(text) % 4))
        unpacking = zlib.decompressobj()
        plain = unpacking.decompress(packed, LONGEST_QUERY)
        return plain.decode() if unpacking.eof else None
    except (binascii.Error, zlib.error, ValueError):
        return None


def opened(name: str, form: Form, text: str, page: Sequence[str]) -> Opened:
    """Take a query apart; keys of the page's other calculators are left to them.

    A part that belongs to no calculator of the page is told by the page's first.  On a page of its
    own a calculator reads keys with its prefix as well: such a query was copied from a chapter.

    page : the names of the calculators on its page
    """
    if len(text) > LONGEST_QUERY:
        problem = f"The link is longer than {LONGEST_QUERY} characters. Ask for a shorter one."
        return Opened({}, errors=(FieldError("link", shown(text), problem),))
    texts: dict[str, str] = {}
    ignored: list[tuple[str, str]] = []
    version = ""
    before, own = prefix(name, page), f"{name}."
    others = tuple(prefix(other, page) for other in page if other != name)
    plain = parse_qsl(text.removeprefix("?"), keep_blank_values=True)
    if not before:
        plain = [(key.removeprefix(own), value) for key, value in plain]
    parts, wrong = _parts(plain, before)
    for key, value in parts:
        bare = key.removeprefix(before)
        is_own = key.startswith(before)
        if is_own and bare == VERSION_KEY:
            version = value
        elif is_own and bare in texts:
            wrong.append(_twice(bare, form.by_key[bare].label, value))
        elif is_own and bare in form.by_key:
            texts[bare] = value
        elif is_own or (name == page[0] and not key.startswith(others)):
            ignored.append((bare, value))
    return Opened(texts, _notices(ignored), tuple(wrong), version)


def _parts(
    parts: Sequence[tuple[str, str]], before: str
) -> tuple[list[tuple[str, str]], list[FieldError]]:
    """Return a query's parts with what is packed in them, and what is wrong with the packing.

    One part may be packed, and unpacks to no more than a link may hold: so a short link can
    not grow to a page's worth of work.
    """
    plain, wrong, is_unpacked = [], [], False
    for key, value in parts:
        if key != before + PACKED:
            plain.append((key, value))
            continue
        if is_unpacked:
            wrong.append(_twice("link", f"The link’s part ‘{PACKED}’", value))
            continue
        is_unpacked = True
        packed = _unpacked(value)
        if packed is None:
            problem = "The link is damaged and cannot be read. Ask for it again."
            wrong.append(FieldError("link", shown(value), problem))
            continue
        plain += [(before + bare, text) for bare, text in parse_qsl(packed, keep_blank_values=True)]
    return plain, wrong


def _twice(key: str, label: str, value: str) -> FieldError:
    message = f"{label}: entered twice, the second time as ‘{shown(value)}’. Enter it once."
    return FieldError(key, shown(value), message)


def _notices(ignored: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return a word on each part that is not in use, and of very many the number of the rest."""
    notices = [
        f"Part of the link is not used here and was ignored: ‘{shown(name)}’ = ‘{shown(value)}’."
        for name, value in ignored[:MOST_NOTICES]
    ]
    rest = len(ignored) - len(notices)
    return (*notices, and_more(rest)) if rest else tuple(notices)
