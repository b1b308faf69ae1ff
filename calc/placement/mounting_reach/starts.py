"""Typical bays as starting points of `mounting-reach`; all figures are invented."""

from calc.answers.calculator import Start

STARTS = (
    Start(
        "Load floor",
        {
            "bay_width_mm": "800",
            "bay_depth_mm": "420",
            "bay_height_mm": "110",
            "seat_travel_mm": "0",
            "mounted_on": "floor",
            "front_edge": "open",
            "right_edge": "wall",
            "back_edge": "wall",
            "left_edge": "open",
            "top_edge": "wall",
            "keep_outs": "360,340,90,80",
            "entries": "power,0,420;speaker,0,420;signal,800,0",
        },
    ),
    Start(
        "Under a seat",
        {
            "bay_width_mm": "430",
            "bay_depth_mm": "560",
            "bay_height_mm": "150",
            "seat_travel_mm": "180",
            "mounted_on": "floor",
            "front_edge": "open",
            "right_edge": "wall",
            "back_edge": "wall",
            "left_edge": "open",
            "top_edge": "seat",
            "keep_outs": "0,0,35,560;395,0,35,560",
            "entries": "power,0,280;speaker,0,280;signal,430,280",
        },
    ),
    Start(
        "Bulkhead wall",
        {
            "bay_width_mm": "900",
            "bay_depth_mm": "600",
            "bay_height_mm": "140",
            "seat_travel_mm": "0",
            "mounted_on": "wall",
            "front_edge": "wall",
            "right_edge": "open",
            "back_edge": "open",
            "left_edge": "open",
            "top_edge": "open",
            "keep_outs": "420,250,60,350",
            "entries": "power,0,0;speaker,0,0;signal,900,0",
        },
    ),
    Start(
        "Side pocket",
        {
            "bay_width_mm": "660",
            "bay_depth_mm": "240",
            "bay_height_mm": "320",
            "seat_travel_mm": "0",
            "mounted_on": "floor",
            "front_edge": "open",
            "right_edge": "wall",
            "back_edge": "wall",
            "left_edge": "wall",
            "top_edge": "open",
            "keep_outs": "0,150,110,90",
            "entries": "power,660,240;speaker,660,240;signal,660,0",
        },
    ),
)
