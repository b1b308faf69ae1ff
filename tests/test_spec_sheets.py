"""Texts of spec sheets: what is in them is read right or not at all, and never anything else.

The texts stand in `tests/spec_sheets/`, one table each: `text`, `figures` (all that may be taken),
`unread` (of these the keys that are known not to be read) and `asked` (keys that a question
offers).
"""

import json
import re
import tomllib

from conftest import ROOT, each

from calc.app.command_line import main
from calc.reading import read_amplifier, read_speaker

FOLDER = ROOT / "tests" / "spec_sheets"
READERS = {"amplifiers": read_amplifier, "speakers": read_speaker}


def corpus():
    """Return the texts with the reader of their kind."""
    return [
        (f"{file.stem}: {text.get('note', text['text'])}", READERS[file.stem.split("-")[0]], text)
        for file in sorted(FOLDER.glob("*.toml"))
        for text in tomllib.loads(file.read_text(encoding="utf-8"))["texts"]
    ]


def same(read, told):
    """Tell whether a figure that was read is the one that the corpus tells."""
    try:  # a size in inches is rounded to tenths of a millimetre
        return abs(float(read) - float(told)) < 0.06 * (float(told) > 20) + 1e-3
    except ValueError:
        return read == str(told)


def complaint(case):
    """Return what is wrong with the reading of a text; empty where nothing is."""
    note, read, text = case
    reading = read(text["text"])
    told = text["figures"]
    wrong = {k: v for k, v in reading.values.items() if k not in told or not same(v, told[k])}
    unread = set(told) - set(reading.values)
    asked = {key for one in reading.questions for _, values in one.choices for key in values}
    found = []
    if wrong:
        found.append(f"read wrongly {wrong}")
    if unread != set(text.get("unread", ())):
        found.append(f"not read {sorted(unread)}")
    if asked != set(text.get("asked", ())):
        found.append(f"asked {sorted(asked)}")
    return f"{note}: {'; '.join(found)}" if found else ""


def test_what_is_read_is_what_the_text_says():
    complaints = [one for one in map(complaint, corpus()) if one]
    assert not complaints, "\n".join(complaints)


def test_there_are_texts_enough():
    assert len(corpus()) >= 140


SHEETS = """ALDER 4-55
Power: 4 x 55 W RMS @ 4 ohm, max. 800 W total. Fuse 2 x 20 A
Soft start. 250 × 52 × 170 mm
-----
RMS power 4 x 75 W at 4 ohms
"""


@each("name", ["amplifier-choice", "fit-plan"])
def test_the_command_line_reads_sheets_as_a_stock_list(name, tmp_path, capsys):
    path = tmp_path / "sheets.TXT"
    path.write_text(SHEETS, encoding="utf-8")
    system = tmp_path / "system.toml"
    speakers = '[[speakers]]\nsection = "components"\ncount = 2\ncoil_ohm = 4\nrated_w = 70\n'
    system.write_text(speakers + "[leads]\npower_m = 4.5\n")
    assert main([name, str(system), str(path), "--json"]) == 0
    answer, told = capsys.readouterr()
    names = [row["name"] for row in json.loads(answer)["inputs"]["shelf"]]
    assert names == ["ALDER 4-55", "Amplifier 2"]
    assert "read: RMS power per channel at 4 Ω 55 W, from ‘4 x 55 W RMS @ 4 ohm’" in told
    assert "refused: ‘max. 800 W total’" in told
    assert "left open: ‘250 × 52 × 170 mm’" in told
    assert "not understood: ‘Soft start’" in told


# Forms that change nothing of what a text says.
FORMS = {
    "capitals": str.upper,
    "hard blanks": lambda text: text.replace(" ", "\u00a0"),
    "a stretched line": lambda text: text.replace(" ", "  "),
    "another system's line ends": lambda text: text.replace("\n", "\r\n"),
    "the sign for ohms in words": lambda text: re.sub(r"\s?Ω", " ohms", text),
    "watts in words": lambda text: re.sub(r"(?<=\d)\s?W\b", " watts", text),
    "another sign for times": lambda text: re.sub(r"(?<=\d) x (?=\d)", "×", text),
    "bullets": lambda text: "\n".join(f"• {line}" for line in text.strip().split("\n")),
    "lines that ran together": lambda text: re.sub(r"\s+", " ", text),
    "tabs lost": lambda text: text.replace("\t", " "),
    "words around it": lambda text: f"Technical data\n{text}\nSubject to change. © 2026",
}


@each("form", FORMS)
def test_a_text_in_another_form_is_read_as_before_or_less(form, is_long):
    """More may be left unread, or asked; nothing may be read that was not, or otherwise."""
    found = []
    # By turns: each text in a third of the forms, but for the long run.
    texts = corpus() if is_long else corpus()[list(FORMS).index(form) % 3 :: 3]
    for note, read, text in texts:
        told = text["figures"]
        values = read(FORMS[form](text["text"])).values
        wrong = {k: v for k, v in values.items() if k not in told or not same(v, told[k])}
        wrong.pop("name", None)
        if wrong:
            found.append(f"{note}: {wrong}")
    assert not found, "\n".join(found)
