"""What kind of speaker it is, its box, and what its maker says of the lowest frequency."""

import re

from calc.reading.clauses import Page
from calc.reading.features import HIGH_PASS
from calc.reading.power_words import words
from calc.reading.record import Notes, Span

_COMPONENTS = words(
    r"component (?:set|system|speaker|kit)", r"2-way component", r"two-way component",
    r"components?(?![a-z])",
    r"komponenten", r"compo-?system", r"kit (?:2|two|deux) voies", r"kit eclate", r"split system",
    r"sistema a componenti", r"2-wege-(?:kompo|system|set)", r"separates",
)  # fmt: skip
_COAXIAL = words(r"coaxial", r"coax(?![a-z])", r"koaxial", r"koax(?![a-z])", r"full-?range",
    r"breitband",
                 r"coassial", r"coaxiaux", r"coaxiale", r"triaxial")  # fmt: skip
_SUBWOOFER = words(
    r"sub-?woofers?", r"subs?(?![a-z])", r"(?<!mid[ -])bass driver", r"subbass", r"caisson"
)
_TWEETER = words(r"tweeters?", r"hochtoner", r"dome tweeter")
_MID_BASS = words(r"mid-?bass(?:es)?", r"mid-?woofers?", r"door woofers?", r"tiefmitteltoner",
    r"kickbass",
                  r"mid-?bass driver", r"bass-?mid")  # fmt: skip
_MIDRANGE = words(r"mid-?range(?: driver)?", r"mitteltoner")
_USE = words(
    r"(?:for|with|add|without|from|to|your|use) "
    r"(?:a |an |the |our |your |of )?(?:sub|tweeter|component|coax)",
             r"recommended", r"crossover", r"compatible", r"matching", r"includes?")  # fmt: skip
_SEALED = words(
    r"sealed",
    r"caja (?:sellada|cerrada)",
    r"cassa chiusa",
    r"gesloten (?:kast|box)",
    r"closed[- ]box",
    r"geschlossen",
    r"acoustic suspension",
    r"clos(?![a-z])",
)
_PORTED = words(r"ported", r"vented", r"bass[- ]?reflex", r"ventilated", r"ventiliert", r"port tun")
_ADVICE = words(
    r"recommend", r"fur ", r"pour ", r"voor ", r"para ", r"per ", r"volume", r"suitable",
    r"for (?:both )?sealed", r"for ported",
    r"or (?:ported|sealed)",
    r"works in", r"empfohl", r"litre", r"liter", r"optim", r"alignment", r"designed for", r"ideal",
    r"either", r"not (?:for )?(?:sealed|ported|vented)", r"cu\.? ?ft", r"vented pole",
    r"vented magnet",
    r"pole", r"magnet", r"basket", r"choose", r"could", r"can be", r"fits", r"suggest",
)  # fmt: skip
_TUNED = words(r"tuned (?:to|at)", r"tuning(?: frequency)?", r"port(?:ed)? (?:at|to)",
    r"abgestimmt auf",
               r"fb(?![a-z])", r"accord")  # fmt: skip
_ADVISED = words(r"recomm?[ae]nd", r"empfehl", r"empfohl", r"minimum", r"min(?![a-z])",
    r"use (?:a |with )",
    r"do not use below",
                 r"not below", r"conseille", r"consigliat", r"recomendad")  # fmt: skip
_PART = re.compile(r"s?\s{0,2}[:=\t|]")  # ‘Tweeter: 13 mm’ is what it has, not what it is
_KINDS = (
    ("woofer", _SUBWOOFER), ("tweeter", _TWEETER), ("mid-bass", _MID_BASS), ("midrange", _MIDRANGE),
)  # fmt: skip


def read_section(notes: Notes, page: Page) -> None:
    """Take the kind of speaker where the text names a single one."""
    found: dict[str, Span] = {}
    for statement in page.statements:
        for clause in statement.clauses:
            if clause.search(_USE) is not None:
                break  # what else the statement names goes with it, or is in it
            if clause.opener == "(":
                continue
            for word, pattern in (("components", _COMPONENTS), ("full-range", _COAXIAL), *_KINDS):
                place = clause.search(pattern)
                if place is not None and not _PART.match(page.text, place.end):
                    found.setdefault(word, place)
    # A set has a tweeter and a mid-bass in it, a coaxial a tweeter.
    if "components" in found:
        for inner in ("tweeter", "mid-bass", "midrange"):
            found.pop(inner, None)
    elif "full-range" in found:
        found.pop("tweeter", None)
    elif set(found) == {"mid-bass", "tweeter"}:
        for span in found.values():
            notes.refuse(span, "the text gives several kinds of speaker")
        return
    if len(found) == 1:
        word, span = next(iter(found.items()))
        notes.claim("section", word, span)
    elif found:
        for span in found.values():
            notes.refuse(span, "the text gives several kinds of speaker")


def read_enclosure(notes: Notes, page: Page) -> None:
    """Take whether it is in a sealed or ported box, and the tuning; advice is no fact."""
    for statement in page.statements:
        text = page.text
        start, end = statement.span.start, statement.span.end
        if _ADVICE.search(text, start, end) or (
            statement.head is not None and statement.head.search(_ADVICE) is not None
        ):
            continue
        for clause in statement.clauses:
            for word, pattern in (("sealed", _SEALED), ("ported", _PORTED)):
                place = clause.search(pattern)
                if place is not None:
                    notes.claim("enclosure", word, place)
            tuned = clause.search(_TUNED)
            corners = clause.of("Hz")
            if tuned is not None and len(corners) == 1:
                value = corners[0].one(15, 120)
                span = Span(
                    min(tuned.start, corners[0].span.start), max(tuned.end, corners[0].span.end)
                )
                if value is None:
                    notes.refuse(span, "the tuning is not clear")
                else:
                    notes.claim("tuning_hz", value, span)


def read_lowest(notes: Notes, page: Page) -> None:
    """Take the lowest frequency where the maker recommends a high-pass, never from a response."""
    for statement in page.statements:
        for at, clause in enumerate(statement.clauses):
            advised, filtered = clause.search(_ADVISED), clause.search(HIGH_PASS)
            if advised is None or filtered is None:
                continue
            corners = clause.of("Hz")
            if len(corners) != 1:
                continue
            span = Span(
                min(advised.start, filtered.start, corners[0].span.start),
                max(advised.end, filtered.end, corners[0].span.end),
            )
            value = corners[0].one(20, 12000)
            others = [c for c in statement.clauses[at + 1 : at + 2] if c.opener == "&"]
            if value is None or any(other.of("Hz") for other in others):
                notes.refuse(span, "a range: which end is safe is not clear")
            else:
                notes.claim("lowest_hz", value, span)
