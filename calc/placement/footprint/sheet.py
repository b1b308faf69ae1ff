"""What the answer of `footprint` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.placement.footprint.drawing import ROOM_WORDS, RULE_MM, overview, tile_drawing
from calc.placement.footprint.inputs import FORM, Inputs, it_takes_no_heap_of_paper
from calc.placement.footprint.solve import Result, solve
from calc.placement.footprint.tiles import HEIGHT_MM, WIDTH_MM


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    name, count = inputs.name, len(result.sheets)
    return Sheet(
        sentence=_sentence(inputs, result),
        results=data(result),
        figures=(Figure("Sheets of paper", Quantity(count)),),
        drawings=(
            overview(name, result.around, result.body, result.strips, result.sheets),
            *(
                tile_drawing(name, result.body, result.strips, sheet, count)
                for sheet in result.sheets
            ),
        ),
        tables=(_rooms_table(result),),
        cautions=(
            f"Measure the printed rule before you cut: it must be {quantity(RULE_MM, 'mm')} long. "
            "Print at 100 %, not “fit to page”.",
            "Measure the frame the other way too: a printer can stretch one direction.",
            "Paper shows no height, and nothing of what lies behind: never drill blind through it.",
        ),
        steps=(
            f"Each sheet shows at most {rounded(WIDTH_MM)} × {quantity(HEIGHT_MM, 'mm')} of the "
            "footprint; sheets lie edge to edge along the frame. Cut one of two neighbours along "
            "its frame and tape it to the other’s.",
        ),
        unknowns=(
            "Whether the printer keeps the scale: that is what the rule is for.",
            "Rounded corners, feet and brackets that stand out of the body.",
        ),
        sources=("Rooms: common practice, no source; put in your own.",),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "width_mm": result.around.width_mm,
        "depth_mm": result.around.depth_mm,
        "sheets": len(result.sheets),
        "columns": result.columns,
        "rows": result.rows,
        "rule_mm": RULE_MM,
    }


def _sentence(inputs: Inputs, result: Result) -> str:
    around, count = result.around, len(result.sheets)
    paper = f"{count} sheets, {result.columns} across and {result.rows} deep."
    if count == 1:
        paper = "one sheet of paper."
    size = f"{rounded(around.width_mm)} × {quantity(around.depth_mm, 'mm')}"
    return f"{inputs.name} with its rooms takes {size}: {paper}"


def _rooms_table(result: Result) -> Table:
    return Table(
        name="rooms",
        caption="Rooms at the faces",
        columns=(Column("Face"), Column("For"), Column("Room", "mm")),
        rows=tuple(
            (strip.face, ROOM_WORDS[strip.kind], Quantity(strip.room_mm)) for strip in result.strips
        ),
    )


FOOTPRINT = Calculator(
    name="footprint",
    title="A footprint to lay in the car",
    question="Can I try it in the car before I buy it?",
    inputs=Inputs,
    groups=FORM,
    checks=(it_takes_no_heap_of_paper,),
    solve=solve,
    present=present,
)
