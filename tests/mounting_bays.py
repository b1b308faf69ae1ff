"""Bays and amplifiers at random, and the same problem seen otherwise."""

import random
from dataclasses import replace

from calc.physics.floor_plan import Amplifier, Bay, Rectangle, Rooms
from calc.placement.placing import Problem

GRID = 10  # mm; bodies are even multiples, so that the middles of faces lie on it as well
NAMES = ("front", "right", "back", "left")
THINGS = ("power", "speaker", "signal", "controls", "fins")
WORDS = ("in place", "seat slid", "seat out", "never")
NO_ROOMS = Rooms(power_mm=0, speaker_mm=0, signal_mm=0, controls_mm=0, fins_mm=0)

# ---- at random -------------------------------------------------------------------------------


def any_holds(rng, share):
    """What the faces hold; a face holds something with this probability."""
    return {
        face: frozenset(rng.sample(THINGS, rng.choice((1, 1, 1, 2, 3))))
        for face in (*NAMES, "top")
        if rng.random() < share
    }


def any_amplifier(rng, name, most=6, share=0.35):
    """Even multiples of the grid, of at most this many."""
    sizes = range(2, most + 1, 2)
    return Amplifier(
        name=name,
        width_mm=GRID * rng.choice(sizes),
        depth_mm=GRID * rng.choice(sizes),
        height_mm=GRID * rng.randint(1, 5),
        holds=any_holds(rng, share),
    )


def any_keep_out(rng, wide, deep, most=3):
    """A rectangle that may reach over the bay's edge."""
    return Rectangle(
        x_mm=GRID * rng.randint(-1, wide - 1),
        y_mm=GRID * rng.randint(-1, deep - 1),
        width_mm=GRID * rng.randint(1, most),
        depth_mm=GRID * rng.randint(1, most),
    )


def bare(*sizes):
    return tuple(
        Amplifier(name=f"{at}", width_mm=wide, depth_mm=deep, height_mm=50)
        for at, (wide, deep) in enumerate(sizes)
    )


def any_rooms(rng, most=3):
    return Rooms(**{f"{thing}_mm": GRID * rng.randint(0, most) for thing in THINGS})


def any_entries(rng, wide, deep):
    """Where some kinds of lead come in, now and then outside; None in one case of four."""
    if rng.random() < 0.25:
        return None
    return {
        lead: (GRID * rng.randint(-1, wide + 1), GRID * rng.randint(-1, deep + 1))
        for lead in THINGS[:3]
        if rng.random() < 0.8
    }


def any_problem(rng, number=None, alike=None, keep_outs=None):
    """A problem on the grid; many are tight.

    The height is known wherever it is asked for, and a hand needs some room, or no body is too
    high.
    """
    number = number or rng.choice((1, 1, 2, 2, 2, 3, 3, 4))
    wide, deep = (rng.randint(*((4, 12), (5, 10), (6, 9), (5, 7))[number - 1]) for _ in "xy")
    share = rng.choice((0.15, 0.35, 0.6))
    most = 4 if number == 4 else 6
    amplifiers = [any_amplifier(rng, f"amplifier {at}", most, share) for at in range(number)]
    if alike or (alike is None and rng.random() < 0.25):
        amplifiers = [replace(amplifiers[at and rng.choice((0, at))], name=f"{at}")
                      for at in range(number)]  # fmt: skip
    top = rng.choice(("open", "wall", "seat"))
    rooms = any_rooms(rng)
    high = GRID * rng.randint(2 if rooms.controls_mm else 5, 8)
    asked = top != "open" and any("top" in one.holds for one in amplifiers)
    return Problem(
        bay=Bay(
            width_mm=GRID * wide,
            depth_mm=GRID * deep,
            height_mm=high if asked or rng.random() < 0.5 else None,
            edges=tuple(rng.choice(("open", "wall", "seat", "seat")) for _ in NAMES),
            top=top,
            seat_travel_mm=GRID * rng.randint(0, 5),
            keep_outs=tuple(
                any_keep_out(rng, wide, deep)
                for _ in range(rng.choice((0, 0, 1, 2, 3)) if keep_outs is None else keep_outs)
            ),
        ),
        amplifiers=tuple(amplifiers),
        rooms=rooms,
        entries=any_entries(rng, wide, deep),
    )


def realistic(rng, number=4, keep_outs=3):
    """Everyday sizes to the millimetre; the bay is between roomy and hopeless."""
    amplifiers = []
    for at in range(number):
        holds = {
            "left": frozenset({"power", "speaker"}),
            "right": frozenset({"signal", "controls"}),
        }
        if rng.random() < 0.5:
            holds = {
                "front": frozenset({"signal", "controls"}),
                "back": frozenset({"power", "speaker"}),
            }
        if rng.random() < 0.4:
            holds["top"] = frozenset({"controls"})
        if rng.random() < 0.4:
            side = "front" if "left" in holds else "left"
            holds[side] = frozenset({"fins"})
        amplifiers.append(
            Amplifier(
                name=f"amplifier {at}",
                width_mm=rng.randint(130, 420),
                depth_mm=rng.randint(100, 260),
                height_mm=rng.randint(40, 65),
                holds=holds,
            )
        )
    area = sum(one.width_mm * one.depth_mm for one in amplifiers)
    wide = rng.randint(600, 1300)
    deep = round(area * rng.uniform(1.3, 3.2) / wide)
    return Problem(
        bay=Bay(
            width_mm=wide,
            depth_mm=deep,
            height_mm=rng.choice((None, 120, 180)),
            edges=rng.choice(
                (
                    ("open", "wall", "wall", "wall"),
                    ("seat", "wall", "wall", "wall"),
                    ("open", "wall", "seat", "wall"),
                    ("seat", "open", "seat", "open"),
                )
            ),
            top=rng.choice(("open", "wall", "seat")),
            seat_travel_mm=rng.choice((0, 80, 200)),
            keep_outs=tuple(
                Rectangle(
                    x_mm=rng.randint(0, wide - 50),
                    y_mm=rng.randint(0, max(0, deep - 50)),
                    width_mm=rng.randint(20, 160),
                    depth_mm=rng.randint(20, 160),
                )
                for _ in range(keep_outs)
            ),
        ),
        amplifiers=tuple(amplifiers),
        entries={"power": (0, deep), "speaker": (wide, deep), "signal": (wide / 2, 0)},
    )


def as_inputs(problem):
    """The same problem as the texts that a form sends."""
    bay = problem.bay
    amplifiers = [
        f"{one.name},{one.width_mm},{one.depth_mm},{one.height_mm},"
        + ",".join("+".join(sorted(one.face(face))) or "none" for face in (*NAMES, "top"))
        for one in problem.amplifiers
    ]
    keep_outs = [f"{k.x_mm},{k.y_mm},{k.width_mm},{k.depth_mm}" for k in bay.keep_outs]
    return {
        "bay_width_mm": f"{bay.width_mm}",
        "bay_depth_mm": f"{bay.depth_mm}",
        "bay_height_mm": "" if bay.height_mm is None else f"{bay.height_mm}",
        "seat_travel_mm": f"{bay.seat_travel_mm}",
        **{f"{name}_edge": edge for name, edge in zip(NAMES, bay.edges, strict=True)},
        "top_edge": bay.top,
        "keep_outs": ";".join(keep_outs),
        "amplifiers": ";".join(amplifiers),
        "entries": ";".join(f"{lead},{x},{y}" for lead, (x, y) in problem.entries.items()),
    }


# ---- the same problem seen otherwise ------------------------------------------------------------


def mirrored(problem):
    """Left and right swapped, of the bay and of every amplifier."""
    bay, wide = problem.bay, problem.bay.width_mm
    swap = {"left": "right", "right": "left"}
    front, right, back, left = bay.edges
    return replace(
        problem,
        bay=replace(
            bay,
            edges=(front, left, back, right),
            keep_outs=tuple(
                replace(one, x_mm=wide - one.x_mm - one.width_mm) for one in bay.keep_outs
            ),
        ),
        amplifiers=tuple(
            replace(one, holds={swap.get(face, face): held for face, held in one.holds.items()})
            for one in problem.amplifiers
        ),
        entries=problem.entries and {at: (wide - x, y) for at, (x, y) in problem.entries.items()},
    )


def rotated(problem):
    """The bay turned counter-clockwise by a quarter: its front becomes its right edge."""
    bay = problem.bay
    return replace(
        problem,
        bay=replace(
            bay,
            width_mm=bay.depth_mm,
            depth_mm=bay.width_mm,
            edges=(bay.edges[3], *bay.edges[:3]),
            keep_outs=tuple(
                Rectangle(
                    x_mm=bay.depth_mm - one.y_mm - one.depth_mm,
                    y_mm=one.x_mm,
                    width_mm=one.depth_mm,
                    depth_mm=one.width_mm,
                )
                for one in bay.keep_outs
            ),
        ),
        entries=problem.entries
        and {at: (bay.depth_mm - y, x) for at, (x, y) in problem.entries.items()},
    )


def enlarged(problem, wide_mm=0.0, deep_mm=0.0):
    bay = problem.bay
    larger = replace(bay, width_mm=bay.width_mm + wide_mm, depth_mm=bay.depth_mm + deep_mm)
    return replace(problem, bay=larger)


def without_keep_out(problem, at):
    bay = problem.bay
    rest = (*bay.keep_outs[:at], *bay.keep_outs[at + 1 :])
    return replace(problem, bay=replace(bay, keep_outs=rest))


def without_amplifier(problem, at):
    rest = (*problem.amplifiers[:at], *problem.amplifiers[at + 1 :])
    return replace(problem, amplifiers=rest)


def with_edge(problem, side, edge):
    edges = list(problem.bay.edges)
    edges[NAMES.index(side)] = edge
    return replace(problem, bay=replace(problem.bay, edges=tuple(edges)))


def some(count, start=0, **kind):
    """Seeds with their problems."""
    for seed in range(start, start + count):
        yield seed, any_problem(random.Random(seed), **kind)
