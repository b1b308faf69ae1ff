"""An amplifier's case: its size, and what is on each side as it lies with its front to you."""

from dataclasses import dataclass
from typing import Annotated

from calc.inputs.fields import Number, Text, Words
from calc.physics.floor_plan import HOLDINGS, Amplifier, Holding

LONGEST_NAME = 24

Name = Annotated[str, Text("name", start="amplifier", longest=LONGEST_NAME, numbered=True)]


@dataclass(frozen=True, kw_only=True)
class Body:
    """Width from left to right, depth from front to back, and the five free sides."""

    width_mm: Annotated[float, Number("width", low=20, high=2000, start=260.0)]
    depth_mm: Annotated[float, Number("depth", low=20, high=2000, start=180.0)]
    height_mm: Annotated[float, Number("height", low=5, high=1000, start=55.0)]
    front: Annotated[
        tuple[Holding, ...], Words("front", words=HOLDINGS, start=("signal", "controls"))
    ]
    right: Annotated[tuple[Holding, ...], Words("right", words=HOLDINGS, start=())]
    back: Annotated[tuple[Holding, ...], Words("back", words=HOLDINGS, start=("power", "speaker"))]
    left: Annotated[tuple[Holding, ...], Words("left", words=HOLDINGS, start=())]
    top: Annotated[tuple[Holding, ...], Words("top", words=HOLDINGS, start=())]

    def named(self, name: str) -> Amplifier:
        """Return the amplifier that has this case."""
        return Amplifier(
            name=name,
            width_mm=self.width_mm,
            depth_mm=self.depth_mm,
            height_mm=self.height_mm,
            holds={
                "front": frozenset(self.front),
                "right": frozenset(self.right),
                "back": frozenset(self.back),
                "left": frozenset(self.left),
                "top": frozenset(self.top),
            },
        )
