"""The bands of speakers that nobody told: where a verdict on filters may rest on a usual figure."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product

from calc.choosing.layouts.feeds import Job
from calc.inputs.declared import replaced
from calc.system.usual import Assumed, Usual

_MOST_TRIES = 64
_Tops = Mapping[str, tuple[float, ...]]
# Bands that there are: for every corner of a filter there is a safe lowest frequency here within
# an octave below it (common practice, no source).
_LOWEST_HZ: _Tops = {
    "tweeter": (1000.0, 2000.0, 4000.0, 8000.0),
    "": (20.0, 40.0, 80.0, 160.0, 320.0, 640.0),
}
_TOP_HZ: _Tops = {
    "woofer": (80.0, 160.0, 320.0),
    "": (1500.0, 3000.0, 6000.0, 12_000.0),
}


@dataclass(frozen=True)
class OpenBands:
    """The ends of speakers' bands for which a job takes usual figures.

    keys : the columns to ask for
    """

    job: Job
    ends: tuple[Assumed, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """The columns of the speakers to ask for, each once."""
        return tuple(dict.fromkeys(end.usual.key for end in self.ends))

    def usual(self) -> Iterator[Job]:
        """Yield the job with each of these figures at either end of its usual range."""
        return self._tried([_range(end.usual) for end in self.ends])

    def every(self) -> Iterator[Job] | None:
        """Return the job with all bands that there may be; None where they are too many to try."""
        choices = [self._possible(end) for end in self.ends]
        count = 1
        for values in choices:
            count *= len(values)
        return self._tried(choices) if count <= _MOST_TRIES else None

    def _possible(self, end: Assumed) -> tuple[float, ...]:
        section = self.job.speakers[_row(end)].section
        every = _LOWEST_HZ if end.usual.key == "lowest_hz" else _TOP_HZ
        return every.get(section, every[""])

    def _tried(self, choices: Sequence[tuple[float, ...]]) -> Iterator[Job]:
        given = self.job.given
        for values in islice(product(*choices), _MOST_TRIES):
            rows = list(given.speakers)
            for end, value in zip(self.ends, values, strict=True):
                rows[_row(end)] = replaced(rows[_row(end)], {end.usual.key: value})
            yield replace(self.job, given=replaced(given, {"speakers": tuple(rows)}))


def open_bands(job: Job) -> OpenBands | None:
    """Return the ends of bands that nobody told; None where all of them are told."""
    amplified = {row for feed in job.feeds for member in feed.members for row in member.rows}
    ends = tuple(
        one
        for one in job.assumed
        if one.usual.key in ("lowest_hz", "top_hz") and _row(one) in amplified
    )
    return OpenBands(job, ends) if ends else None


def _range(usual: Usual) -> tuple[float, ...]:
    value = usual.value
    assert isinstance(value, float)
    return (value,) if usual.low is None or usual.high is None else (usual.low, usual.high)


def _row(end: Assumed) -> int:
    row = end.path[1]
    assert isinstance(row, int)
    return row
