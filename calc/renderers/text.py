"""The text renderer: an answer for the command line and for the clipboard."""

from calc.answers.calculator import Answer
from calc.answers.exercise import Exercise, lettered
from calc.answers.figures import THIN_SPACE, decimals, quantity, rounded
from calc.answers.kit import KitLine
from calc.answers.sheet import Box, Cell, Column, Figure, Press, Quantity, Span, Table, Verdict
from calc.answers.sources import cite
from calc.inputs.rows import Rows

WIDTH = 88
BLANK = "______"  # to be filled in by hand


IN_TABLES = 4  # significant figures, where rows are held against one another


def written(value: float, places: int | None = None, figures: int | None = IN_TABLES) -> str:
    """Write a number for a person: a fixed number of decimals, or significant figures.

    figures : four, as tables have them; None for as many as a sentence has
    """
    return rounded(value, figures) if places is None else decimals(value, places)


def cell_text(cell: Cell, places: int | None = None, figures: int | None = IN_TABLES) -> str:
    """Write one cell or figure for a person; `places` fixes a single number's decimals."""
    match cell:
        case None:
            return "not known"
        case Quantity(value, unit):
            if value is None:
                return "not known"
            return written(value, places, figures) + (THIN_SPACE + unit if unit else "")
        case Span(low, high, unit):
            return f"{rounded(low, figures)} to {quantity(high, unit, figures)}"
        case Verdict(state, reason, word):
            return f"{word or state}: {reason}"
        case Box():
            return cell.text or BLANK
        case KitLine():
            return BLANK
        case Press(_, field, text):
            return f"{field}={text}"
        case str():
            return cell
        case _:
            return written(cell, places, figures)


def figure_text(figure: Figure) -> str:
    """Write a key figure, with as many digits as a sentence has."""
    return cell_text(figure.value, figure.decimals, figures=None)


def heading_text(column: Column) -> str:
    """Write a column's head with its unit."""
    return f"{column.label} ({column.unit})" if column.unit else column.label


def table_text(table: Table) -> str:
    """Write a table in columns of equal width, the marked row with an arrow."""
    heads = [heading_text(column) for column in table.columns]
    rows = [
        [cell_text(cell, column.decimals) for column, cell in zip(table.columns, row, strict=True)]
        for row in table.rows
    ]
    widths = [max(len(text) for text in column) for column in zip(heads, *rows, strict=True)]
    lines = [table.caption]
    for index, row in enumerate([heads, *rows], start=-1):
        sign = "> " if index >= 0 and index == table.marked else "  "
        cells = (text.ljust(width) for text, width in zip(row, widths, strict=True))
        lines.append((sign + "  ".join(cells)).rstrip())
    if table.note:
        lines.append(table.note)
    return "\n".join(lines)


def row_words(rows: Rows, row: object) -> str:
    """Write what is known of one row of a table of inputs: each cell with label and unit."""
    cells, values = [], rows.cells_of(row)
    for column in rows.columns:
        unit = THIN_SPACE + column.unit if column.unit else ""
        text = column.say(values[column.key])
        if text:
            cells.append(f"{column.label} {text}{unit}")
    return ", ".join(cells)


def input_lines(answer: Answer) -> list[str]:
    """Write each input with its label, as a plain list."""
    lines = []
    for field in answer.calculator.fields:
        value = answer.inputs[field.key]
        if isinstance(field, Rows) and not isinstance(value, int):
            lines += [
                f"  {field.label} {at}: {row_words(field, row)}" for at, row in enumerate(value, 1)
            ]
            continue
        text = field.say(value) or field.empty
        unit = f" {field.unit}" if field.unit and value is not None else ""
        lines.append(f"  {field.label}: {text}{unit}")
    return lines


def exercise_text(exercise: Exercise) -> str:
    """Write a problem with the place for its answer, or with its solution."""
    lines = [f"{exercise.number}. {exercise.question}"]
    lines += [f"   {letter}  {words}" for letter, words in lettered(exercise.options)]
    if exercise.box is not None:
        unit = THIN_SPACE + exercise.unit if exercise.unit else ""
        lines.append(f"   Answer: {cell_text(exercise.box)}{unit}")
    if exercise.judged is not None:
        lines.append(f"   {cell_text(exercise.judged)}")
    if exercise.solution is not None:
        lines.append(f"   Answer: {exercise.solution.answer}")
        lines += [f"   - {step}" for step in exercise.solution.steps]
        lines += [f"   Not {answer}: {words}" for answer, words in exercise.solution.wrong]
    return "\n".join(lines)


def answer_text(answer: Answer) -> str:
    """Write a whole answer as plain text; drawings are told by their description.

    The many inputs of a whole job come last.
    """
    sheet = answer.sheet
    parts = [answer.calculator.title, sheet.sentence]
    if sheet.notation:
        parts.append(f"  {sheet.notation}")
    if sheet.verdict:
        parts.append(cell_text(sheet.verdict))
    if sheet.figures:
        parts.append(
            "\n".join(f"  {figure.label}: {figure_text(figure)}" for figure in sheet.figures)
        )
    inputs = "\n".join(["Inputs", *input_lines(answer)])
    if not answer.calculator.is_whole_job:
        parts.append(inputs)
    if sheet.sound:
        parts.append(f"{sheet.sound.title}: --wav FILE writes it, as {sheet.sound.name}")
    parts += [f"{drawing.title}: {drawing.description}" for drawing in sheet.drawings]
    parts += [table_text(table) for table in sheet.tables]
    parts += [exercise_text(each) for each in sheet.exercises]
    for part in sheet.parts:
        parts.append(part.title.upper())
        parts += [cell_text(part.verdict)] if part.verdict else []
        parts += [part.sentence] if part.sentence else []
        parts += [f"{drawing.title}: {drawing.description}" for drawing in part.drawings]
        parts += [table_text(table) for table in part.tables]
    for title, entries in (
        ("Next", [f"{way.label}: {way.link}" for way in sheet.onward]),
        ("Cautions", sheet.cautions),
        ("The working", sheet.steps),
        ("What this does not cover", sheet.unknowns),
        ("Sources", cite(sheet.sources)),
    ):
        if entries:
            parts.append("\n".join([title, *(f"  - {line}" for line in entries)]))
    if answer.calculator.is_whole_job:
        parts.append(inputs)
    return "\n\n".join(parts) + "\n"
