"""The register of sources, `shared/published/sources.toml`: what figures and rules rest on."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, get_args

from calc.physics.published import read

Status = Literal["published", "trade practice", "from memory"]
STATUSES: tuple[Status, ...] = get_args(Status)


@dataclass(frozen=True, kw_only=True)
class Source:
    """An entry of the register.

    reference : the publication, with clause and edition; empty for trade practice
    holds : what is taken from it, with every figure that a text may quote
    rests : what rests on it
    test : the file of tests that holds it; empty where nothing can be tested
    """

    key: str
    status: Status
    reference: str
    holds: str
    rests: str
    test: str

    @property
    def words(self) -> str:
        """The entry in one sentence, its status first."""
        reference = f"{self.reference}: " if self.reference else ""
        return f"{self.status.capitalize()}: {reference}{self.holds}."


@cache
def register() -> Mapping[str, Source]:
    """Return all entries by their keys."""
    entries = tomllib.loads(read("sources.toml").decode())
    return {key: Source(key=key, **entry) for key, entry in entries.items()}


def cite(keys: Iterable[str]) -> tuple[str, ...]:
    """Return entries in words, each once, by their keys; other words are left as they are.

    >>> cite(["circuit-symbols", "invented, the Lantern Van"])[1]
    'invented, the Lantern Van'
    """
    entries = register()
    return tuple(
        entries[key].words if key in entries else key for key in dict.fromkeys(keys) if key
    )
