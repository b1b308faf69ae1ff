"""Groups of a form that several calculators of this chapter have alike."""

from calc.answers.calculator import Group

DRAW_KEYS = ("amplifier_class", "idle_w", "regulated_min_v", "amp_fuses_a", "maker_fuse_a")
CABLE_KEYS = (
    "material", "sizes", "insulation_c", "engine_space", "engine_c", "conductor_c", "bundle",
    "max_drop_v", "return", "body_mohm", "connections_mohm",
)  # fmt: skip
CABLE_GROUPS = (
    Group(
        "The cable",
        ("material", "sizes", "insulation_c", "engine_space"),
        more=("engine_c", "conductor_c", "bundle"),
    ),
    Group("Voltage drop", ("max_drop_v",), more=("return", "body_mohm", "connections_mohm")),
)
