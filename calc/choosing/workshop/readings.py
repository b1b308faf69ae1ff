"""The readings of the workshop sheet: the commissioning steps, in as few words as a line holds."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import quantity, rounded
from calc.answers.paper import Blank, Read, Stage
from calc.answers.sheet import Verdict
from calc.choosing.places import Place, places_of
from calc.choosing.plan import Plan
from calc.choosing.workshop.lookups import amplifiers_of, spaced
from calc.setup import commissioning
from calc.setup.commissioning import ReadingLine, reading_lines

_HEADINGS = (
    "Main fuse out, {amplifiers} unplugged",
    "Fuse in, engine off, speakers disconnected, gains at 0, tones at {dbfs}\u202fdBFS",
    "Speakers connected, engine running, outdoors",
)


def stages_of(plan: Plan, fuse_a: float | None) -> tuple[Stage, ...]:
    """Return the readings in three stages; none where nothing may be connected.

    fuse_a : the main fuse [A], to be noted once it is in
    """
    places = places_of(plan)
    plural = "amplifiers" if len(amplifiers_of(plan)) > 1 else "amplifier"
    for question in plan.questions:
        inputs, result = question.inputs, question.result
        if not isinstance(inputs, commissioning.Inputs):
            continue
        if not isinstance(result, commissioning.Result):
            continue
        names = [row.name for row in inputs.outputs]
        level = rounded(plan.job.system.set_up.tone_dbfs)
        lines = reading_lines(inputs, result)
        of_phase = [
            [_read(line, names, places) for line in lines if line.phase == phase]
            for phase in range(len(_HEADINGS))
        ]
        of_phase[-1] += [*_by_ear(places), *_fuse(fuse_a)]
        return tuple(
            Stage(heading=heading.format(amplifiers=plural, dbfs=level), reads=tuple(reads))
            for heading, reads in zip(_HEADINGS, of_phase, strict=True)
        )
    return ()


def _read(line: ReadingLine, names: Sequence[str], places: Sequence[Place]) -> Read:
    return Read(
        number=str(line.number),
        words=_words(line, names, places),
        expect=line.expect_short,
        box=line.box,
        how=line.what,
        judged=line.judged if isinstance(line.judged, Verdict) else None,
    )


def _words(line: ReadingLine, names: Sequence[str], places: Sequence[Place]) -> str:
    """Say what is read; at an output, between which terminals of the amplifier."""
    if line.output is None:
        return line.short
    name = names[line.output - 1]
    has_several = len({each.amplifier for each in places}) > 1
    for place in places:
        if place.name == name:
            ends = f"{spaced(place.channel.plus)} to {spaced(place.channel.minus)}"
            where = f"{place.amplifier}, {ends}" if has_several else ends
            return line.short.replace(f"of {name}", where, 1).replace(name, where, 1)
    return line.short


def _by_ear(places: Sequence[Place]) -> Iterator[Read]:
    """Yield a line for each kind of speaker whose polarity is tried both ways."""
    tried = {place.channel.speaker: place for place in places if place.channel.try_both}
    for at, (speaker, place) in enumerate(tried.items(), 1):
        hz = place.channel.meets_hz
        where = "" if hz is None else f" at {quantity(hz, 'Hz', 3)}"
        yield Read(
            number="",
            words=f"Louder{where}: {speaker} normal or reversed",
            expect="keep the louder",
            box=Blank(f"polarity-{at}", f"Polarity kept, {speaker}"),
        )


def _fuse(fuse_a: float | None) -> Iterator[Read]:
    expect = "not known" if fuse_a is None else quantity(fuse_a, "A")
    yield Read(
        number="", words="Main fuse fitted", expect=expect, box=Blank("fuse", "Main fuse fitted")
    )
