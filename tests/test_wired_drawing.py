"""The drawing of the whole system, followed wire by wire, joins what is meant and nothing else."""

import copy
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from conftest import each
from hypothesis import given
from wired_follower import Followed, expected
from wired_lots import PLUGGED, plugged_anyhow, systems
from wired_systems import ARRANGEMENTS

from calc.choosing.wired.layout import halves_at, whole_drawings
from calc.choosing.wired.trunks import trunk


def forms(wired):
    """Return the whole drawing and its two halves by name, these for phones and for paper."""
    whole, (supply, speakers) = whole_drawings(wired)
    on_paper = halves_at(wired, 12.5)
    return {
        "whole": whole.svg,
        "supply": supply.svg,
        "speakers": speakers.svg,
        "supply on paper": on_paper[0].svg,
        "speakers on paper": on_paper[1].svg,
    }


def check(wired):
    """Follow every form; each join stands in the whole one, and in one of the halves."""
    wanted = expected(wired)
    seen = set()
    for form, svg in forms(wired).items():
        followed = Followed(svg)
        assert followed.faults() == [], form
        here = {group for group in wanted if group <= followed.pins.keys()}
        assert followed.groups() == here, form
        if form == "whole":
            assert here == wanted
        else:
            seen |= here
    assert seen == wanted


@each("name", ARRANGEMENTS)
def test_every_arrangement_is_joined_as_it_is_meant(name):
    check(ARRANGEMENTS[name])


@given(systems())
def test_any_system_is_joined_as_it_is_meant(wired):
    check(wired)


@each("name", PLUGGED)
def test_leads_plugged_in_any_order_can_be_followed(name):
    for wired in plugged_anyhow(ARRANGEMENTS[name]):
        check(wired)


def drawn(wires, pins, dots):
    """Return a drawing of these wires, each a way of points."""
    svg = ElementTree.Element("svg")
    for way in wires:
        points = " ".join(f"{x},{y}" for x, y in way)
        ElementTree.SubElement(svg, "polyline", {"class": "wire", "points": points})
    for kind, places in (("pin", pins), ("joint", dots)):
        for x, y in places:
            more = {"data-pin": f"{x},{y}"} if kind == "pin" else {}
            ElementTree.SubElement(
                svg, "circle", {"class": kind, "cx": str(x), "cy": str(y), **more}
            )
    return svg


@each("height", (319, 320, 321, 322, 323, 340))
def test_ends_that_are_nearly_level_are_joined_without_a_bend_beside_the_dot(height):
    pins = [(100, height), (306, 110), (306, 319)]
    wires, dots = trunk(147, [(pin,) for pin in pins])
    followed = Followed(drawn(wires, pins, dots))
    assert followed.faults() == []
    assert followed.groups() == {frozenset(followed.pins)}


def shortened(svg, victim):
    """Return the drawing without one of its elements."""
    made = copy.deepcopy(svg)
    elements = list(made)
    made.remove(elements[victim])
    return made


def moved(svg, at, end, step):
    """Return the drawing with an end of a wire moved up or down, with all of its last piece.

    Of a wire that is straight both ends move: what it joined then ends in the air, or elsewhere.
    """
    made = copy.deepcopy(svg)
    wire = list(made)[at]
    points = [tuple(map(float, p.split(","))) for p in wire.get("points").split()]
    for place in (end, 1 if end == 0 else -2):
        x, y = points[place]
        points[place] = (x, y + step)
    wire.set("points", " ".join(f"{x},{y}" for x, y in points))
    return made


@each("name", ["front and rear joined, sub bridged", "three amplifiers", "coils of two subs mixed"])
def test_the_follower_finds_whatever_is_taken_away_or_moved(name):
    svg = forms(ARRANGEMENTS[name])["whole"]
    right = Followed(svg).groups()
    tried = 0

    def is_found(changed):
        followed = Followed(changed)
        return followed.groups() != right or followed.faults()

    for at, one in enumerate(list(svg)):
        classes = (one.get("class") or "").split()
        if "joint" in classes or "wire" in classes:
            assert is_found(shortened(svg, at)), one.attrib
            tried += 1
        if "wire" in classes:
            for end in (0, -1):
                for step in (22, -22, 31.5, -31.5):
                    assert is_found(moved(svg, at, end, step)), (one.attrib, end, step)
                    tried += 1
    assert tried > 200


def test_a_name_longer_than_its_room_is_cut():
    wired = ARRANGEMENTS["each pair on its own"]
    body = replace(wired.bodies[0], name="Hawthornberryandhazel 4-75")
    svg = forms(replace(wired, bodies=(body,)))["whole"]
    texts = [one.text for one in svg if one.tag == "text"]
    assert "Hawthornbe…" in texts


def texts_of(wired, form="whole"):
    return [one.text for one in forms(wired)[form] if one.tag == "text"]


def test_a_length_without_room_is_left_out_and_never_cut():
    wired = ARRANGEMENTS["two amplifiers"]
    words = "105 mm², a thick one, 12.5 m"
    leads = tuple(replace(lead, words=words) for lead in wired.leads)
    for form in ("whole", "supply"):
        texts = texts_of(replace(wired, leads=leads), form)
        assert "105 mm²" in texts
        assert not any(text.startswith("105 mm²,") for text in texts)


def test_what_is_not_known_yet_and_what_is_not_used_are_told_apart():
    wired = ARRANGEMENTS["each pair on its own"]
    body = wired.bodies[0]
    pins = tuple(replace(pin, is_open=pin.key == "rem") for pin in body.inputs)
    leads = tuple(lead for lead in wired.leads if lead.kind == "rca")
    changed = replace(wired, bodies=(replace(body, inputs=pins),), leads=leads[:1])
    texts = texts_of(changed)
    assert texts.count("open: ask first") == 1
    assert texts.count("not used") == 1  # the second pair of inputs


@each("form", ["whole", "supply", "speakers"])
def test_each_form_keeps_to_its_width(form):
    widest = {"whole": 703, "supply": 358, "speakers": 358}[form]
    for name, wired in ARRANGEMENTS.items():
        svg = forms(wired)[form]
        assert float(svg.get("width")) <= widest, name
        xs = [float(p.split(",")[0]) for one in svg if one.tag == "polyline"
              for p in one.get("points").split()]  # fmt: skip
        assert max(xs) <= widest, name


@pytest.mark.parametrize("name", ["three amplifiers", "one for later"])
def test_the_description_says_every_lead(name):
    wired = ARRANGEMENTS[name]
    whole, halves = whole_drawings(wired)
    assert all(half.description == whole.description for half in halves)
    assert all(body.name in whole.description for body in wired.bodies if body.kind != "later")
    assert wired.power.fuse in whole.description
