"""Turn-on: which ways switch this amplifier on in this vehicle.

Three-valued: True, False, or None where a figure is missing.
"""

from dataclasses import dataclass
from typing import Literal

Mode = Literal["trigger", "signal-sensing", "supply-sensing", "relay-added"]
MODES: tuple[Mode, ...] = ("trigger", "signal-sensing", "supply-sensing", "relay-added")
MODE_WORDS: dict[Mode, str] = {
    "trigger": "remote turn-on lead",
    "signal-sensing": "signal-sensing turn-on",
    "supply-sensing": "voltage-sensing turn-on",
    "relay-added": "ignition-switched relay",
}


@dataclass(frozen=True, kw_only=True)
class Vehicle:
    """What the vehicle and its head unit have.

    has_trigger : the head unit has a wire that is live while it plays
    has_speaker_signal : the signal comes over the factory speaker leads
    is_always_live : the amplifier's supply is live with the ignition off
    stops_engine : the engine stops by itself at a halt
    has_button : it is started by a button, without a key that turns
    """

    has_trigger: bool | None
    has_speaker_signal: bool | None
    is_always_live: bool | None
    stops_engine: bool | None
    has_button: bool | None


@dataclass(frozen=True, kw_only=True)
class Senses:
    """What the amplifier switches on by: a trigger wire, a signal, the running engine's volts."""

    trigger: bool | None
    signal: bool | None
    supply: bool | None


def all_of(*parts: bool | None) -> bool | None:
    """Return whether all hold: one that does not decides, one that is missing leaves it open.

    >>> all_of(True, True), all_of(True, None), all_of(None, False)
    (True, None, False)
    """
    if False in parts:
        return False
    return None if None in parts else True


def opposite(value: bool | None) -> bool | None:
    """Return the opposite; of what is not known, not known."""
    return None if value is None else not value


def works(mode: Mode, vehicle: Vehicle, senses: Senses) -> bool | None:
    """Return whether a way of turning on works.

    A fused feed that goes off with the ignition gives the trigger that the head unit has not, by
    way of a relay; every vehicle has one, behind a start button too, only that it must be found by
    measuring.  So one way always works.  Sensing the running engine's volts fails where the engine
    stops at each halt.

    >>> van = Vehicle(has_trigger=False, has_speaker_signal=True, is_always_live=True,
    ...               stops_engine=True, has_button=False)
    >>> [works(mode, van, Senses(trigger=True, signal=True, supply=True)) for mode in MODES]
    [False, True, False, True]
    """
    if mode == "trigger":
        return all_of(vehicle.has_trigger, senses.trigger)
    if mode == "signal-sensing":
        return all_of(vehicle.has_speaker_signal, senses.signal)
    if mode == "supply-sensing":
        return all_of(senses.supply, opposite(vehicle.stops_engine))
    return True


def best(vehicle: Vehicle, senses: Senses) -> Mode:
    """Return the first way that surely works, in the order of `MODES`."""
    return next(mode for mode in MODES if works(mode, vehicle, senses))
