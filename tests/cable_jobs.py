"""Jobs that several tests of trees and kit lists ask for."""

# Four amplifiers behind two blocks.
WIDE = {
    "runs": "battery,front,1;front,A,0.6;battery,block,3;block,B,0.5;block,C,1.2;C,D,0.4",
    "loads": "A,120;B,250;C,300;D,80",
}

SYSTEMS = (
    {},
    WIDE,
    {**WIDE, "sizes": "awg", "duty": "full", "max_drop_v": "1"},
    {**WIDE, "return": "cable", "connections_mohm": "1", "material": "cca15", "max_drop_v": "1"},
    {**WIDE, "engine_space": "yes", "bundle": "3", "regulated_min_v": "11", "idle_w": "0.5"},
)
SHARED = ("sizes", "duty", "max_drop_v", "return", "connections_mohm", "material",
          "engine_space", "bundle", "regulated_min_v", "idle_w")  # fmt: skip

TWO = {
    "amplifiers": "A,250,yes,2,1;B,370,yes,3,0",
    "routes": "power,battery,block,3;power,block,A,0.5;power,block,B,0.8;earth,A,body,0.5;"
    "earth,B,body,0.7;signal,head,A,4;signal,head,B,4.2;signal,head,B,4.3;signal,head,B,4.4;"
    "speaker,A,door,4;trigger,head,A,4;trigger,head,B,4",
}
