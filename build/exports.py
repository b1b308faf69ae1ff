"""Takes out of the runtime's code the names that nobody calls.

A WebAssembly module exports functions and figures by their names.  The runtime exports nearly ten
thousand, for extensions that other programs load into it; a page loads none, and putting every one
of them into a table takes a browser longer than anything else of the start.  Only the section of
exports is written anew, as the WebAssembly specification lays it out (Core, 5.5.10).
"""

import re
from collections.abc import Callable, Iterable, Iterator

_HEAD = 8  # magic number and version
_IMPORTS, _EXPORTS = 2, 7
_FUNCTION, _TABLE, _MEMORY, _GLOBAL, _TAG = range(5)
_WORD = re.compile(r"[A-Za-z_$][\w$]*")
# How the loader's script gives an export a name of its own.
_ASSIGNED = re.compile(r'var ([\w$]+)=(?:Module\["[\w$]+"\]=)?wasmExports\["[\w$]+"\];')


def _number(data: bytes, at: int) -> tuple[int, int]:
    """Return an unsigned number in LEB128 and where it ends.

    >>> _number(bytes([0xE5, 0x8E, 0x26]), 0)
    (624485, 3)
    """
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 0x7F) << shift
        shift += 7
        if not byte & 0x80:
            return value, at


def _bytes_of(value: int) -> bytes:
    """Return a number in LEB128.

    >>> _bytes_of(624485).hex()
    'e58e26'
    """
    made = bytearray()
    while value > 0x7F:
        made.append(value & 0x7F | 0x80)
        value >>= 7
    made.append(value)
    return bytes(made)


def _sections(code: bytes) -> Iterator[tuple[int, bytes]]:
    at = _HEAD
    while at < len(code):
        kind = code[at]
        size, at = _number(code, at + 1)
        yield kind, code[at : at + size]
        at += size


def _name(data: bytes, at: int) -> tuple[str, int]:
    size, at = _number(data, at)
    return data[at : at + size].decode(), at + size


def _exports(section: bytes) -> Iterator[tuple[str, bytes]]:
    """Yield each export's name and its bytes."""
    count, at = _number(section, 0)
    for _ in range(count):
        begin = at
        name, at = _name(section, at)
        _, at = _number(section, at + 1)
        yield name, section[begin:at]


def _after_limits(data: bytes, at: int) -> int:
    flags, at = _number(data, at)
    for _ in range(2 if flags & 1 else 1):
        _, at = _number(data, at)
    return at


def _imports(section: bytes) -> Iterator[tuple[str, str]]:
    """Yield the module and the name of each import."""
    after: dict[int, Callable[[bytes, int], int]] = {
        _FUNCTION: lambda data, at: _number(data, at)[1],
        _TABLE: lambda data, at: _after_limits(data, at + 1),
        _MEMORY: _after_limits,
        _GLOBAL: lambda _, at: at + 2,
        _TAG: lambda data, at: _number(data, at + 1)[1],
    }
    count, at = _number(section, 0)
    for _ in range(count):
        module, at = _name(section, at)
        name, at = _name(section, at)
        at = after[section[at]](section, at + 1)
        yield module, name


def words_of(scripts: Iterable[str]) -> set[str]:
    """Return every word that stands in scripts; what they call is among them."""
    return {word for script in scripts for word in _WORD.findall(script)}


def without_unused(loader: str, others: Iterable[str]) -> str:
    """Return the loader's script without the variables that neither it nor other scripts read.

    >>> loader = 'var _a=Module["_a"]=wasmExports["a"];var _b=wasmExports["b"];_b()'
    >>> without_unused(loader, ["runtime._c()"])
    'var _b=wasmExports["b"];_b()'
    >>> without_unused(loader, ["runtime._a()"]) == loader
    True
    """
    used = words_of([_ASSIGNED.sub("", loader), *others])
    return _ASSIGNED.sub(lambda match: match[0] if match[1] in used else "", loader)


def pruned(code: bytes, scripts: Iterable[str]) -> bytes:
    """Return the module with those exports only that are named in scripts, or whose addresses its
    own imports ask for.

    A script may name an export with a line before it, as the loader does.
    """
    sections = list(_sections(code))
    wanted = words_of(scripts)
    for kind, section in sections:
        if kind == _IMPORTS:
            wanted |= {name for module, name in _imports(section) if module.startswith("GOT.")}
    made = bytearray(code[:_HEAD])
    for kind, section in sections:
        if kind == _EXPORTS:
            kept = [one for name, one in _exports(section) if {name, f"_{name}"} & wanted]
            section = _bytes_of(len(kept)) + b"".join(kept)
        made += bytes([kind]) + _bytes_of(len(section)) + section
    return bytes(made)
