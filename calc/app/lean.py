"""Dataclasses without what only developers need, for the page's Python alone.

A frozen dataclass brings two functions that refuse a change, and every one a way to be printed:
with some three hundred classes a tenth of the page's memory.  Nothing of the handbook prints one,
and that nothing changes one is held by the type checker and by the tests, which run without this
module.  Equality and hash stay as they are.

It must begin before any class is made.
"""

import dataclasses
import sys
import typing
from collections.abc import Callable
from types import FunctionType
from typing import Any

_dataclass: Callable[..., Any] = dataclasses.dataclass


def begin() -> None:
    """Let every dataclass that is made from now on be a lean one."""
    dataclasses.dataclass = _lean


def _lean(cls: Any = None, /, **options: Any) -> Any:
    """Stand for `dataclasses.dataclass`, and make less."""
    is_frozen = options.pop("frozen", False)
    hashes = is_frozen and options.get("eq", True)
    kept = {"repr": False, **options, **({"unsafe_hash": True} if hashes else {})}
    return _dataclass(**kept) if cls is None else _dataclass(cls, **kept)


def end() -> None:
    """Take away the types that functions and classes were declared with.

    Inputs have been read from them by now, and nothing asks for them again.
    """
    for name, module in sys.modules.items():
        if name.split(".")[0] == "calc":
            for value in vars(module).values():
                _strip(value)
    for cleanup in getattr(typing, "_cleanups", ()):
        cleanup()


def _strip(value: object) -> None:
    if isinstance(value, FunctionType):
        _strip_function(value)
    elif isinstance(value, type) and value.__module__.split(".")[0] == "calc":
        for field in getattr(value, "__dataclass_fields__", {}).values():
            field.type = None
        if "__annotations__" in vars(value):
            del value.__annotations__
        for part in vars(value).values():
            _strip_function(getattr(part, "fget", None) or getattr(part, "func", part))


def _strip_function(function: object) -> None:
    if isinstance(function, FunctionType):
        # None and not an empty dictionary: there are five thousand functions.
        setattr(function, "__annotations__", None)  # noqa: B010 - the checker knows dictionaries only
