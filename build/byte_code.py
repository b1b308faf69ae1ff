"""Compiles Python's files to byte code.  Runs in the page's own Python: see compile.mjs.

So any Python builds the handbook, whatever its own byte code is.
"""

import importlib.util
import marshal
from pathlib import Path
from types import CodeType

# Checked neither by time nor by hash: the compiled files come without their sources.
_UNCHECKED = (1).to_bytes(4, "little")


def compile_all(folder: str, modules: set[str] | None = None) -> None:
    """Put a compiled file in each source's place, without docstrings and numbers of lines.

    modules : those that are wanted, with dots; all where none are named
    """
    root = Path(folder)
    for file in sorted(root.rglob("*.py")):
        inside = file.relative_to(root)
        if modules is None or _module(inside) in modules:
            source = file.read_bytes()
            head = importlib.util.MAGIC_NUMBER + _UNCHECKED + importlib.util.source_hash(source)
            code = compile(source, str(inside), "exec", dont_inherit=True, optimize=2)
            file.with_suffix(".pyc").write_bytes(head + marshal.dumps(_without_lines(code)))
        file.unlink()


def _module(file: Path) -> str:
    parts = file.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _without_lines(code: CodeType) -> CodeType:
    """Take numbers of lines and long names out: only tracebacks show them.

    They were a tenth of the image.  What goes wrong in a page goes wrong in the same way outside
    it, where they are.
    """
    constants = tuple(
        _without_lines(constant) if isinstance(constant, CodeType) else constant
        for constant in code.co_consts
    )
    return code.replace(co_linetable=b"", co_qualname=code.co_name, co_consts=constants)
