"""A tree of runs in the sizes in which power cable is bought."""

from dataclasses import dataclass

from calc.cabling.sizing import Offer, Rules
from calc.cabling.tree import Plan, Tree, drops


@dataclass(frozen=True, kw_only=True)
class Bought:
    """What is bought for each run.

    offers : the size; None where none of those that are sold is thick enough
    full_drops_v : what each load loses at full power [V]; None unless every run has a size
    """

    offers: tuple[Offer | None, ...]
    full_drops_v: tuple[float, ...] | None


def bought(tree: Tree, rules: Rules, plan: Plan | None) -> Bought:
    """Return what is bought for a plan of least sizes: of those sold the next up.

    The fuses of the plan stand: what is bought resists no more and carries no less.
    """
    if plan is None:
        return Bought(offers=(None,) * len(tree.runs), full_drops_v=None)
    offers = tuple(rules.kit_offer(offer) for offer in plan.offers)
    whole = [offer for offer in offers if offer is not None]
    return Bought(
        offers=offers,
        full_drops_v=drops(tree.at_full_power, whole, rules) if len(whole) == len(offers) else None,
    )
