"""What the chapters offer: pages with their calculators, tables and drawings, by name."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from calc.answers import link
from calc.answers.calculator import Answer, Calculator
from calc.answers.sheet import Drawing, Table
from calc.bridging import drawings as bridging_drawings
from calc.bridging import tables as bridging_tables
from calc.bridging.calculators import CALCULATORS as BRIDGING
from calc.cabling import tables as cable_tables
from calc.cabling.calculators import CALCULATORS as CABLING
from calc.cabling.calculators import CHART
from calc.choosing import tables as choosing_tables
from calc.choosing.amplifier_choice import AMPLIFIER_CHOICE
from calc.choosing.fit_plan import FIT_PLAN
from calc.coils import drawings as coil_drawings
from calc.coils import tables as coil_tables
from calc.coils.calculators import CALCULATORS as COILS
from calc.crossovers import drawings as crossover_drawings
from calc.crossovers import tables as crossover_tables
from calc.crossovers.calculators import CALCULATORS as CROSSOVERS
from calc.placement import drawings as placement_drawings
from calc.placement import tables as placement_tables
from calc.placement.calculators import CALCULATORS as PLACEMENT
from calc.placement.calculators import TEMPLATE
from calc.setup import drawings as setup_drawings
from calc.setup import tables as setup_tables
from calc.setup.calculators import CALCULATORS as SETUP
from calc.setup.calculators import SHEET

# A page's address below the site's root, and the calculators that stand on it.
PAGES: Mapping[str, tuple[Calculator, ...]] = MappingProxyType(
    {
        "bridging/": BRIDGING,
        "coil-wiring/": COILS,
        "crossovers/": CROSSOVERS,
        "cables/": CABLING,
        "cable-chart/": CHART,
        "mounting/": PLACEMENT,
        "footprint/": TEMPLATE,
        "set-up/": SETUP,
        "commissioning/": SHEET,
        "choose/": (AMPLIFIER_CHOICE,),
        "plan/": (FIT_PLAN,),
    }
)
CALCULATORS: Mapping[str, Calculator] = MappingProxyType(
    {one.name: one for calculators in PAGES.values() for one in calculators}
)
TABLES: Mapping[str, Callable[..., Table]] = MappingProxyType(
    {
        "bridged-limits": bridging_tables.bridged_limits,
        "typical-bridged-power": bridging_tables.typical_bridged_power,
        "four-groupings": bridging_tables.four_groupings,
        "standard-combinations": coil_tables.standard_combinations,
        "how-to-wire": coil_tables.how_to_wire,
        "corner-by-size": crossover_tables.corner_by_size,
        "corner-by-resonance": crossover_tables.corner_by_resonance,
        "octave-levels": crossover_tables.octave_levels,
        "summing-rules": crossover_tables.summing_rules,
        "part-values": crossover_tables.part_values,
        "delay-by-distance": crossover_tables.delay_by_distance,
        "metric-sizes": cable_tables.metric_sizes,
        "awg-sizes": cable_tables.awg_sizes,
        "fuse-ratings": cable_tables.fuse_ratings,
        "duty-currents": cable_tables.duty_currents,
        "cost-of-cladding": cable_tables.cost_of_cladding,
        "speaker-lengths": cable_tables.speaker_lengths,
        "bend-rooms": placement_tables.bend_rooms,
        "crash-pulls": placement_tables.crash_pulls,
        "gain-targets": setup_tables.gain_targets,
        "tone-levels": setup_tables.tone_levels,
        "section-tones": setup_tables.section_tones,
        "boost-multiples": setup_tables.boost_multiples,
        "speaker-level-volts": setup_tables.speaker_level_volts,
        "clipped-powers": setup_tables.clipped_powers,
        "system-fields": choosing_tables.system_fields,
        "shelf-columns": choosing_tables.shelf_columns,
    }
)
DRAWINGS: Mapping[str, Callable[..., Drawing]] = MappingProxyType(
    {
        "four-channel-grouping": bridging_drawings.four_channel_grouping,
        "half-load": bridging_drawings.half_load,
        "circuit": coil_drawings.circuit_of,
        "terminals": coil_drawings.terminals_of,
        "slopes": crossover_drawings.slopes,
        "families": crossover_drawings.families,
        "like-sum": crossover_drawings.like_sum,
        "survey-grid": placement_drawings.survey_grid,
        "clipped-sine": setup_drawings.clipped_sine,
    }
)


def page_of(calculator: Calculator) -> str:
    """Return the address of the page that holds the calculator."""
    return next(page for page, own in PAGES.items() if calculator in own)


def query_of(answer: Answer) -> str:
    """Return the query part of the answer's link, without the question mark."""
    return link.query(answer.calculator, answer.changed, PAGES[page_of(answer.calculator)])


def link_of(answer: Answer) -> str:
    """Return the answer's link below the site's root.

    >>> link_of(CALCULATORS["bridged-output"].answer({"load_ohm": "8"}))
    'bridging/?bridged-output.load_ohm=8'
    """
    query = query_of(answer)
    page = page_of(answer.calculator)
    return f"{page}?{query}" if query else page
