"""What the golden corpus asks: requests drawn at random, always the same ones.

Only `_fields_know` and `_examples` look inside `calc`; all else changes texts without knowing what
they mean.  See `golden.py`, which stores the requests with their replies.
"""

import json
import random
import re
import zlib
from base64 import urlsafe_b64decode
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, quote

TESTS = Path(__file__).resolve().parent
ROOT = TESTS.parent
VALID, SPOILT, LOOSE = 200, 50, 400
CHANGED_SYSTEMS = 150
EXCHANGED_SYSTEMS = 40
WHOLE_JOB = ("fit-plan", "amplifier-choice")
SHAPES = ("text", "json", "csv")

Texts = dict[str, Any]
Request = dict[str, Any]
Ask = Callable[[Request], str]  # some requests are made of what earlier ones were replied

# ---- the only part that looks inside ---------------------------------------------------


@dataclass(frozen=True)
class Known:
    """What has to be known of a calculator to ask it.

    valid, spoilt, loose : inputs by key; those of even places hold texts only, as a link does
    examples : systems to be changed, as texts; none but for the whole job
    prefix : what stands before a key in a link
    """

    keys: tuple[str, ...]
    valid: tuple[Texts, ...]
    spoilt: tuple[Texts, ...]
    loose: tuple[Texts, ...]
    examples: tuple[Texts, ...]
    starts: int
    has_files: bool
    has_stream: bool
    has_sound: bool
    prefix: str


def names() -> list[str]:
    from calc.app.contents import CALCULATORS

    return list(CALCULATORS)


def _fields_know(name: str) -> Known:
    from field_inputs import valid_field
    from inputs import invalid_inputs, valid_inputs

    from calc.app.contents import CALCULATORS, PAGES, page_of

    calculator = CALCULATORS[name]

    def rng_at(kind: str, at: int) -> random.Random:
        return random.Random(f"{name} {kind} {at}")

    def loose(at: int) -> Texts:
        rng = rng_at("loose", at)
        fields = [field for field in calculator.fields if rng.random() < 0.7]
        return {field.key: valid_field(field, rng, at % 2 == 0) for field in fields}

    return Known(
        keys=tuple(field.key for field in calculator.fields),
        valid=tuple(
            valid_inputs(calculator, rng_at("valid", at), at % 2 == 0) for at in range(VALID)
        ),
        spoilt=tuple(
            invalid_inputs(calculator, rng_at("spoilt", at), at % 2 == 0) for at in range(SPOILT)
        ),
        loose=tuple(loose(at) for at in range(LOOSE)),
        examples=tuple(_examples(calculator)) if name in WHOLE_JOB else (),
        starts=len(calculator.starts),
        has_files=bool(calculator.files),
        has_stream=calculator.stream is not None,
        has_sound=name == "test-tone",
        prefix=f"{name}." if len(PAGES[page_of(name)]) > 1 else "",
    )


def _examples(calculator: Any) -> Iterator[Texts]:
    """Yield the starting points and the systems in files, as texts."""
    defaults = {field.key: field.default for field in calculator.fields}
    for start in calculator.starts:
        yield defaults | dict(start.texts)
    for path in _system_files():
        given, wrong = calculator.files[0](path.read_text(encoding="utf-8"))
        assert not wrong, path
        yield defaults | {key: _as_text(raw) for key, raw in given.items() if key in defaults}


# ---- texts changed without knowing what they mean -----------------------------------------------


def _system_files() -> list[Path]:
    folders = (ROOT / "shared" / "systems", TESTS / "customers")
    return [path for folder in folders for path in sorted(folder.glob("*.toml"))]


def _as_text(raw: Any) -> str:
    return raw if isinstance(raw, str) else ";".join(",".join(row) for row in raw)


def _altered(text: str, rng: random.Random) -> str:
    """Return a text with one number in it changed, or another of three words."""
    if text in ("yes", "no", "not-known"):
        return rng.choice(["yes", "no", "not-known"])
    numbers = list(re.finditer(r"\d+(?:\.\d+)?", text))
    if not numbers:
        return ""
    number = rng.choice(numbers)
    value = float(number[0]) * rng.choice((0.4, 0.8, 1.25, 1.25, 2, 3))
    new = f"{value:.3f}".rstrip("0").rstrip(".") if "." in number[0] else f"{value:.0f}"
    return text[: number.start()] + new + text[number.end() :]


def _one_cell_less(text: str, rng: random.Random) -> str:
    cells = re.split(r"([,;\n])", text)
    cells[rng.randrange(0, len(cells), 2)] = ""
    return "".join(cells)


def _changed_system(system: Mapping[str, str], rng: random.Random) -> Texts:
    """Return a system with one to four of its figures changed or taken away."""
    changed = dict(system)
    for _ in range(rng.randint(1, 4)):
        key = rng.choice([key for key, text in changed.items() if text.strip()])
        way = rng.random()
        if way < 0.2:
            changed[key] = ""
        elif way < 0.5 and "," in changed[key]:
            changed[key] = _one_cell_less(changed[key], rng)
        else:
            changed[key] = _altered(changed[key], rng)
    return changed


def _changed_systems(known: Known, number: int, seed: str) -> list[Texts]:
    found = []
    for at in range(number):
        rng = random.Random(f"{seed} {at}")
        found.append(_changed_system(known.examples[at % len(known.examples)], rng))
    return found


# ---- the requests -------------------------------------------------------------------------------


def _query(known: Known, inputs: Texts) -> str:
    def quoted(text: str) -> str:
        return quote(text, errors="surrogatepass")

    return "&".join(f"{known.prefix}{k}={quoted(_as_text(raw))}" for k, raw in inputs.items())


def _words(inputs: Texts) -> list[str]:
    return [f"{key}={_as_text(raw)}" for key, raw in inputs.items()]


def _first_requests(name: str, known: Known) -> Iterator[Request]:
    """Yield the example in every shape, starting points, and what stands beside the answers."""
    head = {"calculator": name}
    yield {**head, "kind": "answer", "inputs": {}}
    yield {**head, "kind": "open", "query": ""}
    yield {**head, "kind": "open", "query": f"{known.prefix}no_such_field=1&other.field=2"}
    yield {**head, "kind": "open", "query": f"{known.prefix}packed=AAAA"}
    yield {**head, "kind": "answer", "inputs": []}
    for shape in SHAPES:
        yield {**head, "kind": "hand-over", "inputs": {}, "as": shape}
    for at in range(known.starts):
        yield {**head, "kind": "start", "start": at, "inputs": {}}
    for words in ([], ["--json"], ["--html"], ["--link"], ["--fields"], ["no=1"], ["nothing"]):
        yield {"command": [name, *words]}
    if known.has_sound:
        yield {**head, "kind": "sound", "inputs": {}}
    if known.has_stream:
        yield {"stream": {**head, "inputs": {}}}
    if known.has_files:
        yield {"command": []}
        yield {**head, "kind": "hand-over", "inputs": {}, "as": "file"}
        yield {**head, "kind": "qr-file", "inputs": {}}
        for path in _system_files():
            text = path.read_text(encoding="utf-8")
            for own in (text, _altered(text, random.Random(path.name))):
                yield {**head, "kind": "file", "text": own}


def _requests_for(
    ask: Ask, name: str, known: Known, at: int, inputs: Texts, *, is_plan: bool = False
) -> Iterator[Request]:
    """Yield the requests with the inputs of a place in their row."""
    head = {"calculator": name}
    yield {**head, "kind": "answer", "inputs": inputs}
    if at % 3 == 0:
        query = json.loads(ask({**head, "kind": "answer", "inputs": inputs})).get("query")
        kept = {"kept": inputs} if at % 6 == 3 else {}  # what no link holds, from the device
        yield {**head, "kind": "open", "query": query or _query(known, inputs), **kept}
    if at % 6 == 5:
        yield {**head, "kind": "fill", "inputs": inputs}
    shape = "json" if is_plan else SHAPES[at // 3 % 3]
    if is_plan or at % 3 == 1:
        yield {**head, "kind": "hand-over", "inputs": inputs, "as": shape}
    if at % 10 == 2:
        for words in ([], ["--json"], ["--link"]):
            yield {"command": [name, *_words(inputs), *words]}
    if known.has_stream and at % 3 == 2:
        yield {"stream": {**head, "inputs": inputs}}
    if known.has_files and at % 10 == 4:
        yield {**head, "kind": "hand-over", "inputs": inputs, "as": "file"}
    if known.starts and at % 40 == 8:
        yield {**head, "kind": "start", "start": at // 40 % known.starts, "inputs": inputs}


def requests_of(name: str, ask: Ask) -> Iterator[Request]:
    """Yield all that is asked of a calculator by itself."""
    known = _fields_know(name)
    yield from _first_requests(name, known)
    for draws in (known.valid, known.loose):
        for at, inputs in enumerate(draws):
            yield from _requests_for(ask, name, known, at, inputs)
    for at, inputs in enumerate(known.spoilt):
        yield {"calculator": name, "kind": "answer", "inputs": inputs}
        if at % 2 == 0:
            query = _query(known, inputs)
            twice = f"{query}&{query.split('&')[-1]}" if at % 4 else query
            yield {"calculator": name, "kind": "open", "query": twice}
            words = _words(inputs)
            as_json = ["--json"] if at % 8 else []
            yield {"command": [name, *words, *(words[:1] if at % 4 else []), *as_json]}
    if known.examples:
        is_plan = name == "fit-plan"
        for at, system in enumerate(known.examples):
            yield from _requests_for(ask, name, known, at, system, is_plan=is_plan)
        for at, system in enumerate(_changed_systems(known, CHANGED_SYSTEMS, name)):
            yield from _requests_for(ask, name, known, at, system, is_plan=is_plan)


def exchange_of(name: str, ask: Ask) -> Iterator[Request]:
    """Yield what a calculator takes from systems and gives back; two where it never takes."""
    known = _fields_know("fit-plan")
    bridged = dict(known.examples[0])
    bridged["speakers"] = bridged["speakers"].replace("subs,woofer,2,2,4", "subs,woofer,2,1,8")
    bridged["amplifier"] = bridged["amplifier"].replace(",4,50,75,,,2,", ",4,50,75,,150,2,")
    bridged |= {"closed": "yes", "area_m2": "0.9"}
    systems = [known.examples[0], bridged, *known.examples[1:], *known.valid[:6]]
    systems += _changed_systems(known, EXCHANGED_SYSTEMS - len(systems), "exchange")
    has_taken = False
    for at, system in enumerate(systems):
        if at == 2 and not has_taken:
            return
        take = {"calculator": name, "kind": "take", "system": system, "about": 0}
        yield take
        reply = json.loads(ask(take))
        abouts = reply.get("abouts", [])
        has_taken = has_taken or bool(abouts)
        if len(abouts) > 1:
            take["about"] = len(abouts) - 1
            yield dict(take)
            reply = json.loads(ask(take))
        if "query" in reply:
            rng = random.Random(f"{name} give {at}")
            taken = _texts_in(name, reply["query"])
            for inputs in (taken, _one_figure_changed(taken, rng))[at % 10 != 0 :]:
                yield {**take, "kind": "give", "inputs": inputs}


def _texts_in(name: str, query: str) -> Texts:
    """Return a link's inputs by key."""
    parts = {key.removeprefix(f"{name}."): text for key, text in parse_qsl(query, True)}
    packed = parts.get("packed")
    if packed is None:
        return parts
    plain = zlib.decompress(urlsafe_b64decode(packed + "=" * (-len(packed) % 4))).decode()
    return dict(parse_qsl(plain, keep_blank_values=True))


def _one_figure_changed(texts: Texts, rng: random.Random) -> Texts:
    keys = sorted(key for key, text in texts.items() if text)
    if not keys:
        return texts
    key = rng.choice(keys)
    return {**texts, key: _altered(texts[key], rng)}
