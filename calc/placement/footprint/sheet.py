"""What the answer of `footprint` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.placement.footprint.drawing import CLEARANCE_WORDS, RULE_MM, overview, tile_drawing
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
            f"Print at 100 %, not “fit to page”, and measure the rule before you cut: it must be "
            f"{quantity(RULE_MM, 'mm')} long. Measure the frame the other way too: a printer can "
            "stretch one direction.",
            "The template shows no height and nothing behind it. Never drill through it blind.",
        ),
        steps=(
            f"Each sheet shows at most {rounded(WIDTH_MM)} × {quantity(HEIGHT_MM, 'mm')} of the "
            "template. Cut one of two neighbouring sheets along its frame and tape it to the frame "
            "of the other.",
        ),
        unknowns=(
            "Whether the printer keeps the scale: measure the rule.",
            "Rounded corners, and feet or brackets that stick out of the case.",
        ),
        sources=("clearances",),
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
    paper = "one sheet" if count == 1 else f"{count} sheets"
    size = f"{rounded(around.width_mm)} × {quantity(around.depth_mm, 'mm')}"
    return f"With clearances, the {inputs.name} needs {size}. The template prints on {paper}."


def _rooms_table(result: Result) -> Table:
    return Table(
        name="rooms",
        caption="Clearances",
        columns=(Column("Side"), Column("For"), Column("Clearance", "mm")),
        rows=tuple(
            (strip.face, CLEARANCE_WORDS[strip.kind], Quantity(strip.room_mm))
            for strip in result.strips
        ),
    )


FOOTPRINT = Calculator(
    name="footprint",
    title="Paper template",
    question="Can I try the amplifier for size in the car before I buy it?",
    inputs=Inputs,
    groups=FORM,
    checks=(it_takes_no_heap_of_paper,),
    solve=solve,
    present=present,
)
