"""How signal and remote signal come to a plan's amplifiers: sources, inputs, leads."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from calc.choosing.wired.figures import Figures
from calc.choosing.wired.hung import Hung
from calc.choosing.wired.system import GROUND, REMOTE, SUPPLY, Lead, Pin, Source

Way = Literal["rca", "high", "converter"]
_SIDES = {"left": "L", "right": "R"}
_NAMES = {"factory": ("factory", "radio"), "processor": ("processor",)}
_UNNAMED = {"for ": ""}
_RADIO, _CONVERTER = "radio", "converter"


@dataclass(frozen=True)
class _Plug:
    """What a channel of an amplifier takes: a word of the radio's outputs, and which side."""

    word: str | None
    side: str


@dataclass
class Signal:
    """The boxes that signals come from, the amplifiers' inputs, and the leads between."""

    way: Way
    kind: str | None
    figures: Figures
    inputs: dict[str, tuple[Pin, ...]] = field(default_factory=dict)
    leads: list[Lead] = field(default_factory=list)
    pins: dict[str, Pin] = field(default_factory=dict)
    pairs: dict[str, None] = field(default_factory=dict)

    def add(self, key: str, name: str, channels: int, rows: Sequence[Hung]) -> None:
        """Add an amplifier with its rows of the channel table."""
        plugs = dict(_plugs(rows))
        if self.way == "high":
            self.inputs[key] = tuple(self._high(key, name, plugs))
        else:
            self.inputs[key] = tuple(self._rca(key, name, channels, plugs))

    def _rca(self, key: str, name: str, channels: int, plugs: dict[int, _Plug]) -> Iterator[Pin]:
        """Yield the pins of RCA inputs; a pair that one output feeds is one pin."""
        for first in range(1, channels + 1, 2):
            pair = [at for at in (first, first + 1) if at <= channels]
            words = {plugs[at].word for at in pair if at in plugs}
            together = [pair] if len(words) < 2 else [[at] for at in pair]
            for numbers in together:
                label = "in L R" if channels == 1 else f"in {' '.join(map(str, numbers))}"
                pin = Pin(f"in{''.join(map(str, numbers))}", label)
                yield pin
                if words:
                    word = next(plugs[at].word for at in numbers if at in plugs)
                    self._rca_lead(f"{key}.{pin.key}", name, word, numbers)

    def _rca_lead(self, end: str, name: str, word: str | None, numbers: Sequence[int]) -> None:
        source = _CONVERTER if self.way == "converter" else _RADIO
        own = word or f"for {' '.join(map(str, numbers))}"
        pin = self.pins.setdefault(own, Pin(f"out{len(self.pins) + 1}", f"RCA {own}"))
        if self.way == "converter":
            self.pairs.update(dict.fromkeys([own]))
        words = f"{word or 'RCA'}, {self.figures.signal(name)}"
        self.leads.append(Lead(start=f"{source}.{pin.key}", end=end, kind="rca", words=words))

    def _high(self, key: str, name: str, plugs: dict[int, _Plug]) -> Iterator[Pin]:
        """Yield the pins of high-level inputs: + and − of each channel that is used."""
        for number, plug in sorted(plugs.items()):
            side = _SIDES[plug.side]
            own = f"{plug.word or 'out'} {side}"
            for sign, printed in (("+", "+"), ("-", "−")):
                label = f"{own} {printed}"
                pin = self.pins.get(own + sign)
                if pin is None:
                    at = len(self.pins) // 2 + 1
                    pin = self.pins[own + sign] = Pin(f"out{at}{sign}", label, sign == "-")
                yield Pin(f"in{number}{sign}", f"in {number} {printed}", sign == "-")
                self.leads.append(
                    Lead(
                        start=f"{_RADIO}.{pin.key}",
                        end=f"{key}.in{number}{sign}",
                        kind="high +" if sign == "+" else "high -",
                        words=f"{own}, {self.figures.signal(name)}" if sign == "+" else "",
                    )
                )

    def sources(self, remote: Sequence[Pin]) -> tuple[Source, ...]:
        """Return the radio with its pins, and the converter below it; leads between are added."""
        name = _NAMES.get(self.kind or "", ("replacement", "radio"))
        pins = tuple(self.pins.values())
        if self.way != "converter":
            return (Source(key=_RADIO, name=name, pins=(*pins, *remote)),)
        pairs = tuple(f"{_short(word, self.pairs)}{side}" for word in self.pairs for side in "LR")
        for pair in pairs:
            for sign in "+-":
                kind: Literal["high +", "high -"] = "high +" if sign == "+" else "high -"
                start, end = f"{_RADIO}.{pair}{sign}", f"{_CONVERTER}.{pair}{sign}"
                self.leads.append(Lead(start=start, end=end, kind=kind))
        return (
            Source(key=_RADIO, name=name, pins=tuple(remote), outlets=pairs),
            Source(key=_CONVERTER, name=("line-output", "converter"), pins=pins, inlets=pairs),
        )


def _short(word: str, words: dict[str, None]) -> str:
    """Return a letter for an output of the radio: F of front; a number where two are alike."""
    letters = [_UNNAMED.get(other[:4], other[:1].upper()) for other in words]
    at = list(words).index(word)
    return letters[at] if letters.count(letters[at]) == 1 else str(at + 1)


def _plugs(rows: Sequence[Hung]) -> Iterator[tuple[int, _Plug]]:
    """Yield what each channel takes; a bridged pair takes both sides of its output.

    A channel by itself takes the side that it is on, or the plug of its number.
    """
    for row in rows:
        word = row.feed.speaker.output
        numbers = [int(number) for number in row.channel.output.split("+")]
        for number in numbers:
            side = "left" if number % 2 else "right"
            if len(numbers) == 1 and row.channel.side in _SIDES:
                side = row.channel.side
            yield number, _Plug(word, side)


def ends_of(*, has_remote: bool, is_open: bool) -> tuple[Pin, ...]:
    """Return the pins below the inputs.

    has_remote : it has a terminal for a remote lead
    is_open : how it is turned on is not known
    """
    remote = (Pin(REMOTE, "REM", is_open=is_open),) if has_remote else ()
    return (*remote, Pin(SUPPLY, "+12\u202fV"), Pin(GROUND, "GND"))
