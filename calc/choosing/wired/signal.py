"""How the signal comes to a plan's amplifiers: sources, inputs, leads."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from calc.choosing.places import Place
from calc.choosing.wired.figures import Figures
from calc.choosing.wired.system import Lead, LeadKind, Pin, Source

Way = Literal["rca", "high", "converter"]
_SIDES = {"left": "L", "right": "R"}
_NAMES = {"factory": ("factory", "head unit"), "processor": ("DSP",)}
_REPLACEMENT = ("head unit",)
_RADIO, _CONVERTER = "radio", "converter"
_SIGNS: tuple[tuple[str, str, LeadKind], ...] = (("+", "+", "high +"), ("-", "−", "high -"))


@dataclass(frozen=True)
class _Plug:
    """What a channel of an amplifier takes: a word of the radio's outputs, and which side."""

    word: str | None
    side: str


@dataclass
class Signal:
    """The boxes that signals come from, the amplifiers' inputs, and the leads between.

    pins : of the radio and of the converter, each by what it gives
    """

    kind: str | None
    figures: Figures
    leads: list[Lead] = field(default_factory=list)
    radio: dict[str, Pin] = field(default_factory=dict)
    converter: dict[str, Pin] = field(default_factory=dict)

    def inputs(self, key: str, name: str, rows: Sequence[Place], way: Way, count: int) -> list[Pin]:
        """Return the input pins of an amplifier, and keep the leads to them.

        rows : its own of the channel table
        count : how many channels it has
        """
        plugs = dict(_plugs(rows))
        if way == "high":
            return list(self._high(key, name, plugs))
        return list(self._rca(key, name, plugs, way, count))

    def _rca(
        self, key: str, name: str, plugs: dict[int, _Plug], way: Way, count: int
    ) -> Iterator[Pin]:
        """Yield the pins of RCA inputs; a pair that one output feeds is one pin."""
        for first in range(1, count + 1, 2):
            pair = [at for at in (first, first + 1) if at <= count]
            words = {plugs[at].word for at in pair if at in plugs}
            for numbers in [pair] if len(words) < 2 else [[at] for at in pair]:
                label = "in L R" if count == 1 else f"in {' '.join(map(str, numbers))}"
                pin = Pin("in" + "".join(map(str, numbers)), label)
                yield pin
                used = [plugs[at] for at in numbers if at in plugs]
                if used:
                    self._rca_lead(f"{key}.{pin.key}", name, used[0].word, label, way)

    def _rca_lead(self, end: str, name: str, word: str | None, label: str, way: Way) -> None:
        source, pins = (_CONVERTER, self.converter) if way == "converter" else (_RADIO, self.radio)
        own = word if word is not None else f"for {label.removeprefix('in ')}"
        if word is None and own in pins:  # another amplifier's inputs of the same numbers
            own = f"{own} ({len(pins) + 1})"
        pin = pins.setdefault(own, Pin(f"rca{len(pins) + 1}", f"RCA {own}"))
        words = f"{'RCA' if word is None else word}, {self.figures.signal(name)}"
        self.leads.append(Lead(start=f"{source}.{pin.key}", end=end, kind="rca", words=words))

    def _high(self, key: str, name: str, plugs: dict[int, _Plug]) -> Iterator[Pin]:
        """Yield the pins of high-level inputs: + and − of each channel that is used."""
        for number, plug in sorted(plugs.items()):
            own = f"{plug.word or 'out'} {_SIDES[plug.side]}"
            for sign, printed, kind in _SIGNS:
                made = Pin(f"high{len(self.radio)}", f"{own} {printed}", is_close=sign == "-")
                pin = self.radio.setdefault(own + sign, made)
                yield Pin(f"in{number}{sign}", f"in {number} {printed}", is_close=sign == "-")
                self.leads.append(
                    Lead(
                        start=f"{_RADIO}.{pin.key}",
                        end=f"{key}.in{number}{sign}",
                        kind=kind,
                        words=f"{own}, {self.figures.signal(name)}" if sign == "+" else "",
                    )
                )

    def sources(self, remote: Sequence[Pin]) -> tuple[Source, ...]:
        """Return the radio with its pins, and the converter below it; leads between are kept."""
        name = _NAMES.get(self.kind or "", _REPLACEMENT)
        letters = _letters(list(self.converter))
        pairs = tuple(f"{letter}{side}" for letter in letters for side in "LR")
        radio = Source(key=_RADIO, name=name, pins=(*self.radio.values(), *remote), outlets=pairs)
        if not pairs:
            return (radio,)
        for pair in pairs:
            for sign, _, kind in _SIGNS:
                start, end = f"{_RADIO}.{pair}{sign}", f"{_CONVERTER}.{pair}{sign}"
                self.leads.append(Lead(start=start, end=end, kind=kind))
        pins = tuple(self.converter.values())
        words = ("line-output", "converter")
        return radio, Source(key=_CONVERTER, name=words, pins=pins, inlets=pairs)


def _letters(words: Sequence[str]) -> list[str]:
    """Return a letter for each output: F of front; a number where that tells nothing apart.

    >>> _letters(["front", "rear"]), _letters(["doors", "dash"]), _letters(["for 1 2"])
    (['F', 'R'], ['1', '2'], [''])
    """
    letters = ["" if word.startswith("for ") else word[:1].upper() for word in words]
    is_clear = len(set(letters)) == len(letters)
    return letters if is_clear else [str(at) for at in range(1, len(words) + 1)]


def _plugs(rows: Sequence[Place]) -> Iterator[tuple[int, _Plug]]:
    """Yield what each channel takes; a bridged pair takes both sides of its output.

    A channel by itself takes the side that it is on, or the plug of its number.
    """
    for row in rows:
        numbers = [int(number) for number in row.channel.output.split("+")]
        for number in numbers:
            side = "left" if number % 2 else "right"
            if len(numbers) == 1 and row.channel.side in _SIDES:
                side = row.channel.side
            yield number, _Plug(row.feed.speaker.output, side)
