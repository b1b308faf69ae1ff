"""What the contract says of results: the kind of each figure, and how to find misfits."""

_POWERS = (
    "bridged_power_w",
    "bridged_power_low_w",
    "bridged_power_high_w",
    "bridged_v",
    "bridged_a",
)
_RUN = {
    "from": "text",
    "to": "text",
    "length_m": "number",
    "current_a": "number",
    "size": "text?",
    "size_mm2": "number?",
    "fuse_a": "number?",
    "fuse_later_a": "number?",
    "kit_size": "text?",
    "kit_mm2": "number?",
}
_LOAD = {"at": "text", "power_w": "number", "drop_v": "number?"}
_RELAXED = [{"what": "text", "by_mm": "number?", "which": "text?", "words": "text"}]
_MOUNTED = {
    "feasible": "yes/no?",
    "placements": [
        {
            "amplifier": "text",
            "x_mm": "number",
            "y_mm": "number",
            "turned_deg": "count",
            "controls": "text?",
        }
    ],
    "verdict": "text",
    "relax": _RELAXED,
    "lead_in_bay_m": "number?",
    "spare_m2": "number?",
}
_STEPS = [
    {
        "number": "count",
        "key": "text",
        "what": "text",
        "unit": "text",
        "expected_low": "number?",
        "expected_high": "number?",
        "open_is_right": "yes/no",
        "reading": "text?",
        "verdict": "text?",
        "meaning": "text",
    }
]
_PROBLEMS = [
    {
        "number": "count",
        "step": "text",
        "kind": "text",
        "question": "text",
        "options": ["text"],
        "unit": "text",
        "answer": "text?",
        "right": "yes/no?",
        "said": "text?",
    }
]
_THREE = frozenset({"suitable", "unsuitable", "not-known"})
_FOUR = _THREE | {"likely"}
_CHECKS = [{"check": "text", "needed": "text", "has": "text", "verdict": _FOUR, "must": "yes/no"}]
_ASKED = [{"amplifier": "text", "key": "text", "words": "text"}]
_ASSUMED = [{"where": "text", "key": "text", "value": None, "unit": "text", "why": "text"}]
_CANDIDATES = [
    {
        "amplifier": "text",
        "verdict": _FOUR,
        "checks": _CHECKS,
        "why": "text",
        "near_miss": "text?",
        "ways": [{"words": "text", "kind": "text"}],
        "ask": _ASKED,
        "assumed": _ASSUMED,
    }
]
RESULTS = {
    "amplifier-choice": {"rows": _CANDIDATES, "ranking": ["text"]},
    "fit-plan": {
        "amplifier": "text?",
        "verdict": _FOUR,
        "checks": _CHECKS,
        "steps": [{"step": "text", "verdict": _FOUR}],
        "notices": ["text"],
        "near_miss": "text?",
        "ways": [{"words": "text", "kind": "text"}],
        "tips": ["text"],
        "assumed": _ASSUMED,
        "ask": _ASKED,
        "candidates": _CANDIDATES,
        "channels": [
            {
                **dict.fromkeys(
                    ("amplifier", "output", "plus", "minus", "input", "speaker", "side"), "text"
                ),
                "wiring": "text?",
                "load_ohm": "number",
                **dict.fromkeys(
                    ("power_w", "high_pass_hz", "low_pass_hz", "delay_ms", "ceiling_v", "start_v"),
                    "number?",
                ),
                "filters": [
                    {
                        "edge": "text",
                        "box": "text",
                        "hz": "number",
                        "family": "text",
                        "order": "count",
                    }
                ],
                "polarity": "text",
            }
        ],
    },
    "signal-chain": {
        "source_v": "number?",
        "input": "text?",
        "verdict": _THREE,
        "adapter": "yes/no?",
        "divider_db": "number?",
        "headroom_db": "number?",
        "input_v": "number?",
        "gain_reserve_db": "number?",
    },
    "gain-voltage": {
        "target_v": "number",
        "target_boosted_v": "number",
        "full_scale_v": "number",
        "target_low_v": "number",
        "target_high_v": "number",
        "speaker_target_v": "number?",
        "reading_db": "number?",
        "reading_w": "number?",
    },
    "test-tone": {
        "frequency_hz": "count",
        "tone_dbfs": "number",
        "peak": "number",
        "highest_dbfs": "number",
        "length_s": "count",
        "rate_hz": "count",
        "size_bytes": "count",
        "file": "text",
    },
    "boost-cost": {
        "power_ratio": "number",
        "lower_input_db": "number",
        "curve": [{"frequency_hz": "number", "level_db": "number"}],
        "asked_w": "number",
        "headroom_before_db": "number",
        "headroom_after_db": "number",
        "half_gain_low_hz": "number",
        "half_gain_high_hz": "number",
        "half_gain_octaves": "number",
        "elsewhere_w": "number",
        "target_v": "number",
        "target_boosted_v": "number",
        "clipped_ratio": "number",
    },
    "turn-on": {
        "modes": [{"mode": "text", "works": "text", "why": "text"}],
        "best": "text?",
        "drain_ah": "number",
        "drain_percent": "number",
        "drain_parked_ah": "number?",
    },
    "commissioning": {
        "steps": _STEPS,
        "count": "count",
        "taken": "count",
        "within": "count",
        "out": "count",
    },
    "exercises": {
        "count": "count",
        "problems": _PROBLEMS,
        "key": None,
        "answered": "count",
        "right": "count",
    },
    "mounting-reach": {
        **_MOUNTED,
        "runs": [{"lead": "text", "from": "text", "to": "text", "length_m": "number"}],
        "leads_in_bay": [
            {"amplifier": "text", "lead": "text", "face": "text", "length_m": "number"}
        ],
        "height_needed_mm": "number",
        "false_floor_mm": "number",
        "fixing": [{"amplifier": "text", "mass_kg": "number", "holds_n": "number"}],
    },
    "bay-heat": {
        "heat_w": "number",
        "heat_ab_w": "number?",
        "rise_c": "number?",
        "rise_low_c": "number?",
        "rise_high_c": "number?",
        "bay_c": "number?",
        "parked_c": "number?",
        "area_needed_m2": "number?",
        "duties": [{"duty": "text", "heat_w": "number", "rise_c": "number?"}],
    },
    "footprint": {"width_mm": "number", "depth_mm": "number", "sheets": "count"},
    "power-cable": {
        "current_a": "number",
        "current_full_a": "number",
        "current_ab_a": "number?",
        "current_by_fuses_a": "number?",
        "required_mm2": "number?",
        "size": "text?",
        "size_mm2": "number?",
        "drop_v": "number?",
        "drop_full_v": "number?",
        "permitted_a": "number?",
        "fuse_a": "number?",
        "limited_by": "text",
        "output_loss_percent": "number?",
        "fuse_note": "text?",
        "kit_size": "text?",
        "kit_mm2": "number?",
        "kit_drop_v": "number?",
        "kit_permitted_a": "number?",
    },
    "cable-tree": {
        "runs": [_RUN],
        "loads": [_LOAD],
        "copper_kg": "number?",
        "separate": {"runs": [_RUN], "loads": [_LOAD], "copper_kg": "number?"},
    },
    "wire-facts": {
        "diameter_mm": "number",
        "area_mm2": "number",
        "mohm_per_m": "number",
        "permitted_a": "number?",
    },
    "speaker-lead": {"loss_db": "number", "loss_percent": "number", "damping": "number?"},
    "supply-budget": {
        "duties": [
            {
                "duty": "text",
                "amplifier_a": "number",
                "margin_idle_a": "number",
                "margin_running_a": "number",
                "engine_off_h": "number?",
            }
        ]
    },
    "kit-list": {
        "items": [
            {
                "number": "count",
                "unit": "text",
                "note": "text",
                "is_open": "yes/no",
                "item": "text",
                "quantity": "count?",
                "size": "text?",
                "kit_size": "text?",
                "length_m": "number?",
                "reason": "text",
            }
        ],
        "kit_signal": {"pairs": "count", "enough": "yes/no?", "spare_m": "number?"},
    },
    "cable-chart": {
        "charts": [
            {
                "material": "text",
                "sizes": "text",
                "cells": [
                    {
                        "power_w": "number",
                        "length_m": "number",
                        "size": "text?",
                        "size_mm2": "number?",
                        "fuse_a": "number?",
                        "limited_by": "text",
                    }
                ],
            }
        ]
    },
    "bridged-output": {
        "channel_load_ohm": "number",
        "min_bridged_ohm": "number",
        "allowed": "yes/no",
        **dict.fromkeys(_POWERS, "number?"),
    },
    "channel-map": {
        "groupings": [
            {
                "grouping": "text",
                "weakest": "text?",
                "quietest": "text?",
                "spare": ["count"],
                "uses": [
                    {
                        "section": "text",
                        "outputs": ["text"],
                        "load_ohm": "number",
                        "power_w": "number?",
                        "level_db": "number?",
                        "total_db": "number?",
                        "in_series": "yes/no",
                        "trim_db": "number?",
                        "match": "number?",
                    }
                ],
            }
        ]
    },
    "coil-wiring": {
        "networks_total": "count",
        "best": "count?",
        "distinct_loads": [{"load_ohm": "number", "networks": "count", "even": "count"}],
        "arrangements": [
            {
                "notation": "text",
                "load_ohm": "number",
                "even": "yes/no",
                "fits": "yes/no",
                "joints": "count",
                "share_percent": ["number"],
                "meter_low_ohm": "number",
                "meter_high_ohm": "number",
                "nets": {"amp+": ["text"], "amp-": ["text"]},
            }
        ],
    },
    "meter-check": {
        "likely": [{"what": "text", "expected_low_ohm": "number?", "expected_high_ohm": "number?"}]
    },
    "filter-response": {
        "response": [
            {
                "frequency_hz": "number",
                "level_db": "number",
                "phase_deg": "number",
                "delay_ms": "number",
            }
        ],
        "corner_3db_hz": "number?",
        "corner_6db_hz": "number?",
        "slope_db_per_octave": "count",
    },
    "crossover-sum": {
        "response": [
            {"frequency_hz": "number", "level_db": "number?", "phase_difference_deg": "number"}
        ],
        "ripple_db": "number?",
        "advice": "text",
    },
    "passive-network": {
        "components": [
            {
                "part": "text",
                "place": "text",
                "position": "count",
                "exact": "number",
                "preferred": "number",
                "unit": "text",
            }
        ],
        "corner_hz": "number?",
    },
    "level-pad": dict.fromkeys(
        (
            "series_ohm",
            "shunt_ohm",
            "series_w",
            "shunt_w",
            "preferred_series_ohm",
            "preferred_shunt_ohm",
            "preferred_loss_db",
        ),
        "number",
    ),
    "arrival-delay": {
        "sections": [
            {
                "section": "text",
                "distance_m": "number",
                "flight_ms": "number",
                "delay_ms": "number",
                "samples": "number?",
            }
        ]
    },
    "filter-split": {
        "complete": "yes/no",
        "settings": {
            box: [{"kind": "text", "state": "text", "frequency_hz": "number?", "order": "count?"}]
            for box in ("head-unit", "amplifier", "passive")
        },
        "missing": [
            {
                "section": "text",
                "edge": "text",
                "needed_low_hz": "number",
                "needed_high_hz": "number",
                "needed_order": "count",
            }
        ],
        "stacked": [
            {
                "section": "text",
                "edge": "text",
                "corner_3db_hz": "number?",
                "corner_6db_hz": "number?",
                "slope_db_per_octave": "count",
            }
        ],
        "response": [{"frequency_hz": "number", "level_db": "number?"}],
        "sections": [{"section": "text", "polarity": "text", "try_both": "yes/no"}],
    },
}
_KINDS = {"number": (int, float), "count": (int,), "text": (str,), "yes/no": (bool,)}


def misfits(shape, value, at="results"):
    """Return where a result is not of the shape that the contract gives it.

    What no contract promises yet, of a new calculator, or what may be of any kind, has no shape:
    None.  A set is of the words that may stand there.
    """
    if shape is None:
        return []
    if isinstance(shape, dict) and isinstance(value, dict):
        missing = [f"{at}.{key}: missing" for key in shape if key not in value]
        return missing + [
            problem
            for key in shape
            if key in value
            for problem in misfits(shape[key], value[key], f"{at}.{key}")
        ]
    if isinstance(shape, list) and isinstance(value, list):
        return [problem for one in value for problem in misfits(shape[0], one, f"{at}[]")]
    if isinstance(shape, frozenset) and value in shape:
        return []
    if isinstance(shape, str):
        kind = shape.removesuffix("?")
        if value is None and kind != shape:
            return []
        if isinstance(value, _KINDS[kind]) and isinstance(value, bool) == (kind == "yes/no"):
            return []
    return [f"{at}: {value!r} is not of the kind {shape}"]
