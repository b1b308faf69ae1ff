"""The sizes of a tree's runs with the least conductor: an exact search.

What a run may carry does not depend on other runs: its size must take the smallest fuse
for its own full current.  What is left is to spend the permitted drop along each way from
the battery.  From the loads inwards, every subtree keeps its list of (worst drop, volume)
pairs of which none is better in both; a bound by Lagrange multipliers drops the pairs that
cannot become a best plan, and only those.  Drops and volumes are whole numbers, so that sums
do not depend on their order.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from calc.cabling.sizing import Offer, Rules
from calc.cabling.tree import Plan, Run, Tree, plan_of
from calc.physics.permitted_current import carries

_PER_VOLT = 10**15
_PER_MM2_M = 10**6
_LAST_BITS = 1 + 1e-9
_ROUNDS = 120  # of improving the multipliers; more make the bound tighter, not the answer


@dataclass(frozen=True, kw_only=True)
class Shortfall:
    """Why no plan exists: of `heat` and `fuse` a run's index, of `drop` a load's.

    figure : the full current that no cable carries [A], or the least drop possible [V]
    """

    kind: str
    index: int
    figure: float


@dataclass(frozen=True, slots=True)
class _Option:
    """A size that a run may take: drop and volume in whole numbers."""

    offer: Offer
    drop: int
    volume: int


# A partial plan: worst drop below a place, volume, and the option chosen for each run.
_State = tuple[int, int, tuple[tuple[int, _Option], ...]]


def shortfalls(tree: Tree, rules: Rules) -> list[Shortfall]:
    """Return what stands in the way of any plan; an empty list means that one exists."""
    short = []
    thickest = rules.offers[-1]
    widest = max((offer.permitted_a or 0.0 for offer in rules.offers), default=0.0)
    for at, full in enumerate(tree.full_currents):
        fuse = tree.ratings[at]
        if not carries(widest, full):
            short.append(Shortfall(kind="heat", index=at, figure=full))
        elif fuse is None or not carries(widest, fuse):
            short.append(Shortfall(kind="fuse", index=at, figure=full))
    body = rules.body_drop(tree.total_a)
    for at, path in enumerate(tree.paths):
        least = body + sum(
            rules.run_drop(thickest, ampere=tree.currents[on], length_m=tree.runs[on].drop_m)
            for on in path
        )
        if not rules.keeps(least):
            short.append(Shortfall(kind="drop", index=at, figure=least))
    return short


def least_conductor(tree: Tree, rules: Rules) -> Plan | None:
    """Return the plan with the least conductor, earth leads included.

    None where `shortfalls` finds something.

    Of plans with equal volume the one with the smaller worst drop, then the one that is
    thicker towards the battery.
    """
    if shortfalls(tree, rules):
        return None
    search = _Search(tree, rules)
    return plan_of(tree, search.best(), rules)


class _Search:
    """One search: the options of every run, the bound, and the lists from the loads inwards."""

    def __init__(self, tree: Tree, rules: Rules) -> None:
        self._tree = tree
        self._options = [self._options_of(at, rules) for at in range(len(tree.runs))]
        left = rules.max_drop_v * _LAST_BITS - rules.body_drop(tree.total_a)
        # Each drop was rounded by half a count at most: what is met exactly must stay met.
        self._limit = int(left * _PER_VOLT) + len(tree.runs) + 1
        self._above = self._least_above()

    @cached_property
    def _bound(self) -> tuple[list[float], float]:
        return self._multipliers()

    @property
    def _weights(self) -> list[float]:
        """Each run's weight for its drop."""
        return self._bound[0]

    @cached_property
    def _least(self) -> list[float]:
        """What each run adds to the bound at least, once weighted."""
        return [
            min(option.volume + weight * option.drop for option in options)
            for options, weight in zip(self._options, self._weights, strict=True)
        ]

    def _options_of(self, at: int, rules: Rules) -> tuple[_Option, ...]:
        """Return the sizes that carry the run's fuse, thickest first, none in vain."""
        tree, run = self._tree, self._tree.runs[at]
        options: list[_Option] = []
        for offer in rules.offers:
            drop = rules.run_drop(offer, ampere=tree.currents[at], length_m=run.drop_m)
            option = _Option(
                offer,
                round(drop * _PER_VOLT),
                round(offer.size.area_mm2 * run.drop_m * _PER_MM2_M),
            )
            is_carried = carries(offer.permitted_a, tree.must_carry[at])
            is_carried = is_carried and _is_settled(offer, run, rules)
            if is_carried and (not options or option.drop < options[-1].drop):
                options.append(option)
        return tuple(reversed(options))

    def _least_above(self) -> list[int]:
        """Return the drop that the way to each run's start takes at least."""
        least = [0] * len(self._options)
        for at in self._tree.outward:
            for child in self._tree.children[at]:
                least[child] = least[at] + self._options[at][0].drop
        return least

    # ---- the bound

    def _multipliers(self) -> tuple[list[float], float]:
        """Return each run's weight for its drop, and the volume of a plan that is known.

        Subgradient steps on one multiplier per load; any are right, better ones cut more.
        """
        tree, options, limit = self._tree, self._options, self._limit
        prices = [0.0] * len(tree.loads)
        cut = self._repaired([0] * len(options))
        best, kept = -1.0, [0.0] * len(options)
        for _ in range(_ROUNDS):
            weights = [0.0] * len(options)
            for price, path in zip(prices, tree.paths, strict=True):
                for at in path:
                    weights[at] += price
            chosen = [
                _cheapest(sizes, weight) for sizes, weight in zip(options, weights, strict=True)
            ]
            over = [sum(options[at][chosen[at]].drop for at in path) - limit for path in tree.paths]
            bound = sum(sizes[k].volume for sizes, k in zip(options, chosen, strict=True)) + sum(
                price * excess for price, excess in zip(prices, over, strict=True)
            )
            if bound > best:
                best, kept = bound, weights
            cut = min(cut, self._repaired(chosen))
            norm = sum(excess * excess for excess in over)
            if not norm or cut - best < 1:
                break
            step = (cut - bound) / norm
            prices = [max(0.0, p + step * excess) for p, excess in zip(prices, over, strict=True)]
        return kept, float(cut)

    def _repaired(self, chosen: Sequence[int]) -> int:
        """Return the volume of a plan near a choice: thicker where it must, thinner where it can.

        Options are indices, 0 the thickest.
        """
        tree, options, limit = self._tree, self._options, self._limit
        now = list(chosen)
        drops = [sum(options[at][now[at]].drop for at in path) for path in tree.paths]
        through = [
            [load for load, path in enumerate(tree.paths) if at in path]
            for at in range(len(options))
        ]
        while any(drop > limit for drop in drops):
            best, best_at = -1.0, -1
            for at, sizes in enumerate(options):
                gain = sum(1 for load in through[at] if drops[load] > limit)
                if now[at] == 0 or not gain:
                    continue
                thin, thick = sizes[now[at]], sizes[now[at] - 1]
                worth = gain * (thin.drop - thick.drop) / (thick.volume - thin.volume)
                if worth > best:
                    best, best_at = worth, at
            self._move(now, drops, through, best_at, -1)
        for at in sorted(range(len(options)), key=lambda run: -tree.runs[run].length_m):
            while now[at] + 1 < len(options[at]):
                more = options[at][now[at] + 1].drop - options[at][now[at]].drop
                if any(drops[load] + more > limit for load in through[at]):
                    break
                self._move(now, drops, through, at, 1)
        return sum(sizes[k].volume for sizes, k in zip(options, now, strict=True))

    def _move(
        self,
        now: list[int],
        drops: list[int],
        through: list[list[int]],
        at: int,
        way: int,
    ) -> None:
        sizes = self._options[at]
        change = sizes[now[at] + way].drop - sizes[now[at]].drop
        now[at] += way
        for load in through[at]:
            drops[load] += change

    # ---- the lists

    def best(self) -> list[Offer]:
        """Return the best plan's size for each run."""
        if self._is_star():
            return self._best_star()
        _, states = self._joined(self._tree.trunks)
        _, _, chosen = min(states, key=lambda state: (state[1], state[0]))
        offers = {at: option.offer for at, option in chosen}
        return [offers[at] for at in range(len(self._tree.runs))]

    def _is_star(self) -> bool:
        """Tell whether one run feeds branches that feed nothing else: amplifiers on a block."""
        children = self._tree.children
        return len(self._tree.trunks) == 1 and all(
            not children[at] for at in children[self._tree.trunks[0]]
        )

    def _best_star(self) -> list[Offer]:
        """Return the best plan of a star: for each size of the main run the thinnest branches.

        Each branch is bound by its own way alone, so that nothing else has to be tried.
        """
        (trunk,) = self._tree.trunks
        branches = self._tree.children[trunk]
        best: tuple[tuple[int, int], dict[int, _Option]] | None = None
        for main in self._options[trunk]:
            left = self._limit - main.drop
            fitting = {
                at: [option for option in self._options[at] if option.drop <= left]
                for at in branches
            }
            if left < 0 or not all(fitting.values()):
                continue
            chosen = {at: options[-1] for at, options in fitting.items()} | {trunk: main}
            volume = sum(option.volume for option in chosen.values())
            worst = main.drop + max((chosen[at].drop for at in branches), default=0)
            # The thickest main run comes first, and stays where others are no better.
            if best is None or (volume, worst) < best[0]:
                best = ((volume, worst), chosen)
        assert best is not None  # there is a plan: nothing falls short
        return [best[1][at].offer for at in range(len(self._tree.runs))]

    def _below(self, at: int) -> tuple[frozenset[int], list[_State]]:
        """Return the runs of a run's subtree, itself included, and their best pairs."""
        inside, states = self._joined(self._tree.children[at])
        inside |= {at}
        fits = self._fits(inside, self._above[at])
        states_here = [
            (drop + option.drop, volume + option.volume, ((at, option), *chosen))
            for option in self._options[at]
            for drop, volume, chosen in states
            if fits(drop + option.drop, volume + option.volume)
        ]
        return inside, _unbeaten(states_here)

    def _joined(self, branches: Sequence[int]) -> tuple[frozenset[int], list[_State]]:
        """Return the best pairs of branches that begin at one place."""
        inside: frozenset[int] = frozenset()
        states: list[_State] = [(0, 0, ())]
        for at in branches:
            more, states_below = self._below(at)
            inside |= more
            fits = self._fits(inside, self._above[at])
            both = _side_by_side(states, states_below)
            states = _unbeaten([state for state in both if fits(state[0], state[1])])
        return inside, states

    def _fits(self, inside: frozenset[int], above: int) -> Callable[[int, int], bool]:
        """Return what tells whether a drop and a volume can become a best plan.

        The bound is the volume, the least that the runs outside add at the multipliers'
        weights, and the drop at the weight of its loads.
        """
        # The weight of a trunk is the sum of its loads' prices.
        fixed = sum(least for at, least in enumerate(self._least) if at not in inside)
        fixed -= self._limit * sum(self._weights[at] for at in self._tree.trunks)
        price, most = self._price(inside), self._limit - above
        cut = self._bound[1] * _LAST_BITS + 1 - fixed
        return lambda drop, volume: drop <= most and volume + price * drop <= cut

    def _price(self, inside: frozenset[int]) -> float:
        """Return the sum of the prices of the loads that hang on these runs."""
        return sum(
            self._weights[at]
            for at in inside
            if not any(at in self._tree.children[other] for other in inside)
        )


def _is_settled(offer: Offer, run: Run, rules: Rules) -> bool:
    """Tell whether a size is no thinner than what is settled for a run; the thickest always is."""
    least = min(run.least_mm2, rules.offers[-1].size.area_mm2)
    return offer.size.area_mm2 >= least * (1 - 1e-9)


def _cheapest(sizes: Sequence[_Option], weight: float) -> int:
    """Return the index of the size with the least volume and weighted drop."""
    return min(range(len(sizes)), key=lambda at: sizes[at].volume + weight * sizes[at].drop)


def _unbeaten(states: list[_State]) -> list[_State]:
    """Return the pairs that no other beats in both, from the least drop to the least volume."""
    kept: list[_State] = []
    # sort is stable: of equals the first, the thicker towards the battery, stays
    for state in sorted(states, key=lambda pair: (pair[0], pair[1])):
        if not kept or state[1] < kept[-1][1]:
            kept.append(state)
    return kept


def _side_by_side(left: list[_State], right: list[_State]) -> list[_State]:
    """Return what two lists of branches give together: the worse drop, the sum of volumes.

    Both lists run from the least drop to the least volume, and so does the result.
    """
    joined, a, b = [], 0, 0
    while a < len(left) and b < len(right):
        first, second = left[a], right[b]
        joined.append((max(first[0], second[0]), first[1] + second[1], first[2] + second[2]))
        # The next pair is the one at which either list may become thinner first.
        following = [
            side[at + 1][0] if at + 1 < len(side) else None for side, at in ((left, a), (right, b))
        ]
        if following[0] is None and following[1] is None:
            break
        if following[1] is None or (following[0] is not None and following[0] <= following[1]):
            a += 1
        else:
            b += 1
    return joined
