"""One run of cable: the smallest size that keeps the drop and that a fuse can protect.

Currents in A, lengths in m, resistances in Ω, voltages in V.
"""

from dataclasses import dataclass
from functools import cached_property
from math import isclose
from typing import Literal

from calc.parts.cable_kind import CableKind
from calc.parts.current_way import ReturnBy, Way
from calc.physics.conductors import (
    KIT_SIZES,
    LEAST_POWER_MM2,
    SIZES,
    Material,
    Size,
    System,
    bare_ohm_per_m,
)
from calc.physics.permitted_current import (
    ENGINE_AIR_C,
    INSULATION_C,
    carries,
    permitted_current,
    smallest_fuse,
)

Limit = Literal["drop", "heat", "fuse"]

# What is met but for the last bits of a sum is met.
_LAST_BITS = 1 + 1e-9


@dataclass(frozen=True, kw_only=True)
class Offer:
    """A size on offer under given rules.

    ohm_per_m : resistance, warm and in the rules' material [Ω/m]
    permitted_a : what it may carry [A]; None where no table says
    """

    size: Size
    ohm_per_m: float
    permitted_a: float | None


@dataclass(frozen=True, kw_only=True)
class Rules:
    """What all runs of an installation share.

    material, sizes : what the cable is made of, and in which sizes it is sold
    conductor_c : temperature at which the drop is reckoned [°C]
    insulation_c : temperature the insulation is made for [°C]; None: not known
    engine_space, engine_c, bundle : what lowers the permitted current; the air there [°C]
    max_drop_v : highest drop from battery to amplifier and back [V]
    return_by : through the `body`, or a second `cable` of the same size
    body_ohm : resistance of the body, which carries all currents [Ω]; none with a cable
    connections_ohm : joints and fuse holders of each run [Ω]
    least_mm2 : no thinner size is offered [mm²]; none below 16 AWG or 1.5 mm² ever is
    """

    material: Material = "copper"
    sizes: System = "metric"
    conductor_c: float = 50.0
    insulation_c: float | None = INSULATION_C
    engine_space: bool = False
    engine_c: float = ENGINE_AIR_C
    bundle: int = 1
    max_drop_v: float = 0.5
    return_by: ReturnBy = "body"
    body_ohm: float = 0.002
    connections_ohm: float = 0.0
    least_mm2: float = 0.0

    @cached_property
    def offers(self) -> tuple[Offer, ...]:
        """Every size with its resistance and its permitted current, thinnest first."""
        # An area that was typed is that of its size.
        least = max(self.least_mm2, LEAST_POWER_MM2[self.sizes]) * (1 - 1e-9)
        every = SIZES[self.sizes]
        # A size in which cable is bought, and no standard size, is on offer where it is settled.
        bought = [size for size in KIT_SIZES[self.sizes] if isclose(size.area_mm2, self.least_mm2)]
        sizes = sorted({*every, *bought}, key=lambda size: size.area_mm2)
        fitting = [size for size in sizes if size.area_mm2 >= least]
        return tuple(self.offer_of(size) for size in fitting or every[-1:])

    def kit_offer(self, least: Offer | None) -> Offer | None:
        """Return the size in which a cable of at least this size is bought; None beyond them.

        >>> rules = Rules(sizes="awg")
        >>> rules.kit_offer(rules.offers[3]).size.name, rules.kit_offer(rules.offers[-1])
        ('8 AWG', None)
        """
        if least is None:
            return None
        area = least.size.area_mm2 * (1 - 1e-9)
        size = next((size for size in KIT_SIZES[self.sizes] if size.area_mm2 >= area), None)
        return None if size is None else self.offer_of(size)

    @cached_property
    def widest_a(self) -> float | None:
        """The most that a size on offer may carry [A]; None where no table says."""
        return max((offer.permitted_a for offer in self.offers if offer.permitted_a), default=None)

    def offer_of(self, size: Size) -> Offer:
        """Return one size under these rules."""
        return Offer(
            size=size,
            ohm_per_m=size.ohm_per_m(material=self.material, conductor_c=self.conductor_c),
            permitted_a=permitted_current(
                size,
                material=self.material,
                insulation_c=self.insulation_c,
                engine_space=self.engine_space,
                engine_c=self.engine_c,
                bundle=self.bundle,
            ),
        )

    @property
    def ways(self) -> int:
        """How often a run's length counts: once, or out and back."""
        return 2 if self.return_by == "cable" else 1

    def body_drop(self, ampere: float) -> float:
        """Return the drop of the body under the current of all loads [V]."""
        return self.body_ohm * ampere if self.return_by == "body" else 0.0

    def run_drop(self, offer: Offer, *, ampere: float, length_m: float) -> float:
        """Return the drop of one run, with its return cable where it has one [V].

        >>> rules = Rules()
        >>> ten = next(offer for offer in rules.offers if offer.size.area_mm2 == 10)
        >>> round(rules.run_drop(ten, ampere=30, length_m=5), 3)
        0.32
        """
        return ampere * (offer.ohm_per_m * length_m * self.ways + self.connections_ohm)

    def required_mm2(self, *, ampere: float, length_m: float, total_a: float) -> float | None:
        """Return the cross-section that keeps the drop, without any allowance [mm²].

        total_a : current of all loads in the body [A]
        None when body and joints alone use up the drop.

        >>> round(Rules().required_mm2(ampere=30, length_m=5, total_a=30), 2)
        6.57
        """
        left = self.max_drop_v - self.body_drop(total_a) - ampere * self.connections_ohm
        if left <= 0:
            return None
        one_mm2 = bare_ohm_per_m(area_mm2=1.0, material=self.material, conductor_c=self.conductor_c)
        return ampere * one_mm2 * length_m * self.ways / left

    def keeps(self, drop_v: float) -> bool:
        """Tell whether a drop is within the limit [V]."""
        return drop_v <= self.max_drop_v * _LAST_BITS


def rules_of(cable: CableKind, way: Way, *, least_mm2: float | None = None) -> Rules:
    """Return the rules for a kind of cable on a way; no thinner size than `least_mm2`."""
    return Rules(
        material=cable.material,
        sizes=cable.sizes,
        conductor_c=cable.conductor_c,
        insulation_c=cable.insulation_c,
        engine_space=cable.in_engine_space,
        engine_c=cable.engine_c,
        bundle=cable.bundle,
        max_drop_v=way.max_drop_v,
        return_by=way.return_by,
        body_ohm=way.body_mohm / 1000,
        connections_ohm=way.connections_mohm / 1000,
        least_mm2=least_mm2 or 0.0,
    )


@dataclass(frozen=True, kw_only=True)
class RunChoice:
    """What was chosen for one run.

    offer : the size; None where none does
    fuse_a : the fuse at its start [A]; None without a size
    limited_by : what asked for this size, or what no size can meet (`heat` too where no
        table gives a permitted current)
    by_drop : the smallest size that keeps the drop, whatever it may carry
    """

    offer: Offer | None
    fuse_a: float | None
    limited_by: Limit
    by_drop: Offer | None


def total_drop(
    rules: Rules, offer: Offer, *, ampere: float, length_m: float, total_a: float | None = None
) -> float:
    """Return the drop from battery to amplifier and back [V].

    total_a : current of all loads in the body [A], the run's own if there is no other
    """
    of_run = rules.run_drop(offer, ampere=ampere, length_m=length_m)
    return of_run + rules.body_drop(ampere if total_a is None else total_a)


def choose(
    rules: Rules,
    *,
    ampere: float,
    full_a: float,
    length_m: float,
    total_a: float | None = None,
    fuse_a: float | None = None,
) -> RunChoice:
    """Return the smallest size whose drop, permitted current and fuse are all right.

    ampere : current that sets the drop [A]
    full_a : full-power current, which the cable must carry [A]
    total_a : current of all loads in the body [A]
    fuse_a : the fuse, where it is not the smallest listed one that carries full_a [A]

    First by drop; where that size may not carry the full current, by heat; where no listed
    fuse lies between the current and what the cable may carry, by fuse.

    >>> choice = choose(Rules(), ampere=9.65, full_a=28.94, length_m=5)
    >>> choice.offer.size.area_mm2, choice.fuse_a, choice.limited_by
    (2.5, 30.0, 'drop')
    """
    offers = rules.offers
    fuse = smallest_fuse(full_a) if fuse_a is None else fuse_a
    by_drop = next(
        (
            at
            for at, offer in enumerate(offers)
            if rules.keeps(
                total_drop(rules, offer, ampere=ampere, length_m=length_m, total_a=total_a)
            )
        ),
        None,
    )
    by_heat = next(
        (at for at, offer in enumerate(offers) if carries(offer.permitted_a, full_a)), None
    )
    by_fuse = None
    if fuse is not None:
        by_fuse = next(
            (
                at
                for at, offer in enumerate(offers)
                if carries(offer.permitted_a, max(fuse, full_a))
            ),
            None,
        )
    thin_enough = None if by_drop is None else offers[by_drop]
    if by_drop is None or by_heat is None or by_fuse is None:
        limit: Limit = "drop" if by_drop is None else "heat" if by_heat is None else "fuse"
        return RunChoice(offer=None, fuse_a=None, limited_by=limit, by_drop=thin_enough)
    limit = "drop"
    if by_heat > by_drop:
        limit = "heat"
    if by_fuse > max(by_drop, by_heat):
        limit = "fuse"
    return RunChoice(
        offer=offers[max(by_drop, by_fuse)], fuse_a=fuse, limited_by=limit, by_drop=thin_enough
    )
