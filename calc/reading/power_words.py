"""The words that stand beside a power, in the languages of spec sheets."""

import re


def words(*patterns: str) -> re.Pattern[str]:
    """Return a pattern that finds any of these at the beginning of a word."""
    return re.compile("|".join(rf"(?<![a-z]){pattern}" for pattern in patterns))


RMS = words(
    r"w?rms(?![a-z])", r"continu", r"sinus", r"nennleist", r"nominal", r"nominell",
    r"rated (?:output )?power", r"cont\.? power", r"efficace", r"dauerleist", r"dauer",
    r"rms-?leistung", r"cea-?\s?2006", r"cta-?\s?2006", r"certified", r"effektiv", r"eficaz",
)  # fmt: skip
MAX = words(
    r"maxi?(?![a-z])", r"maxim", r"massim", r"peak", r"p\.?m\.?p\.?o", r"dynami", r"burst",
    r"music", r"musik", r"musique", r"instant", r"spitze", r"impuls", r"crete", r"pico",
    r"picco", r"surge", r"up to", r"bis zu", r"jusqu", r"hasta", r"fino a", r"program",
    r"eiaj", r"jeita", r"ultimate", r"short[- ]term", r"kurzzeit", r"over(?![a-z])",
    r"more than", r"wmax",
    r"(?:one|single) channel driven", r"momentan", r"momentary", r"tri-?mode max", r"headroom",
    r"clipped", r"piek", r"muziek", r"hochst", r"maks", r"szczyt", r"topp", r"huippu", r"spids",
)  # fmt: skip
MAX_SIGN = re.compile(r"[<>≥]")
TOTAL = words(
    r"total", r"totaal", r"gesamt", r"sum(?![a-z])", r"combined", r"somme", r"altogether",
    r"complessiv",
    r"all channels together", r"overall", r"system power", r"in all(?![a-z])", r"zusammen",
)  # fmt: skip
ABLE = words(r"bridge?-?able", r"bruckbar", r"pontable", r"puenteable", r"ponticell", r"ponteabile")
BRIDGED = words(
    r"bridged", r"bridge(?!-?able)", r"bridging", r"bruck(?!bar)", r"gebruckt", r"pont(?!able)",
    r"ponte(?!a)", r"brdg(?![a-z])", r"gebrug", r"mostk", r"puente(?!able)", r"btl(?![a-z])",
    r"brd(?![a-z])",
)  # fmt: skip
MONO = words(r"mono(?![a-z])")
STEREO = words(r"stereo")
SUB = words(
    r"sub(?![a-z])", r"sub-?woofer", r"ch(?:annel)?\.? ?5(?![0-9])", r"fifth", r"5th", r"funft",
    r"bass channel", r"kanal 5", r"canal 5",
)  # fmt: skip
STABLE = words(
    r"stab(?:le|il)", r"min(?![a-z])", r"minim(?!um into)", r"mindest", r"kleinste", r"lowest",
    r"down to",
    r"capable", r"fest(?![a-z])", r"as low as",
)  # fmt: skip
EACH = words(
    r"per (?:channel|ch)(?![a-z])", r"pro kanal", r"je kanal", r"par canal", r"per kanaal",
    r"por canal",
    r"per canale", r"each(?![a-z])", r"a channel", r"/ ?ch(?![a-z])", r"/ ?channel", r"/ ?kanal",
    r"par voie", r"wpc(?![a-z])", r"every channel",
)  # fmt: skip
PLACES = words(r"front", r"rear", r"heck", r"arriere", r"avant", r"posterior")
DISTORTION = words(r"thd", r"distort", r"klirr", r"distors")
FOREIGN = words(
    r"thd", r"distort", r"klirr", r"distors", r"s/n", r"snr", r"signal", r"noise", r"damping",
    r"dampf", r"crosstalk", r"separation", r"response", r"frequenz", r"freq", r"sensitiv",
    r"empfind", r"idle", r"consum", r"standby", r"stand-by", r"recommend", r"empfohl",
    r"suitable", r"ideal", r"for speakers", r"speakers? (?:rated|of|with|that)", r"reference",
    r"ref(?![a-z])", r"rel(?![a-z])", r"minimum power", r"efficien", r"verbrauch", r"draw",
    r"sensibi", r"leerlauf", r"heat", r"dissipat", r"compatible", r"pairs? (?:well )?with",
    r"rausch", r"compared", r"than the", r"instead", r"successor", r"predecessor", r"also as",
    r"series also", r"bigger", r"smaller", r"brother", r"sister", r"optional", r"input",
    r"headphone", r"pre-?out", r"if ", r"unlike", r"versus", r"vs(?![a-z])",
)  # fmt: skip
NEGATED = words(
    r"not(?![a-z])", r"never", r"cannot", r"[a-z]{2,6}n't", r"nicht", r"kein", r"no longer",
    r"rather than", r"non(?![a-z-])", r"ne(?![a-z])", r"niet(?![a-z])", r"avoid",
)  # fmt: skip
POWER = words(r"power", r"leistung", r"puissance", r"potenza", r"potencia", r"watt", r"output")
# What begins a new statement, though no sign says so; and what joins a power and its load.
FRESH = words(
    r"power", r"leistung", r"puissance", r"poten[zc]", r"vermogen", r"output", r"impedan",
    r"(?:min\w*|last|load)(?![a-z])", r"speaker", r"lautspr", r"stab", r"fuse",
)  # fmt: skip
LOAD = words(r"impedan", r"load(?![a-z])", r"speaker", r"lautspr", r"last(?![a-z])")
DIRECTLY = re.compile(r"[a-z]*\s?(?:output\s?)?(?=@|(?:at|into|in|an|bei|bij|sous)(?![a-z]))")
INTO = re.compile(
    r"@|(?<![a-z])(?:at|into|in|an|bei|bij|aan|sous|su|sur|a|en|em|on|with|przy|pri)(?![a-z])"
)
