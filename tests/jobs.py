"""Jobs for tests: a plain lit screen whose parts can be changed by key."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from halfsilver.files.jobs import job_from_text
from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.model.job import Job
from halfsilver.model.workshop import Workshop
from halfsilver.services.decide import decided

LIT = """
halfsilver: job/1
title: Test piece
construction: lit-screen
units: {units}
mounting: {{kind: hung, centre_height: 60 in, ground: stud}}
screen:
  {{outline: {{width: {width}, height: {height}, depth: 45 mm}},
   borders: {{left: {border}, right: {border}, top: {border}, bottom: {border}}}, mass: 20 kg{screen}}}
viewers: [{viewers}]
accept: {{hidden_share: 5 %, cone: 30 deg}}
glass: {{front: {{kind: {front_glass}}}, rear: {{kind: split-t30-4}}}}
gap: {gap}
lights: {{kind: tape-24-100, feed: one-end, corner: bottom-left}}
frame: {{front: {{moulding: {moulding}}}, rear: {{moulding: {moulding}, planed: {planed}}}}}
battens: {{width: {batten}}}
fit: {{screen: {fit_screen}, glass: {fit_glass}{fit}}}
{more}
"""

PLAIN = {
    "units": "in", "width": "53 1/4 in", "height": "30 1/2 in", "border": "7/16 in", "screen": "",
    "viewers": "{id: front, distance: 2.5 m}",
    "front_glass": "split-t50-4", "gap": "auto", "moulding": "gallery-57", "planed": "auto", "batten": "3/4 in", "fit_screen": "1/8 in",
    "fit_glass": "1/8 in", "fit": "", "more": "",
}  # fmt: skip


@cache
def shop() -> Workshop:
    """The workshop that ships with the program."""
    return read_workshop()


def lit_job(**changes: Any) -> Job:
    """A lit screen, with parts of its text changed."""
    return job_from_text(LIT.format(**{**PLAIN, **changes}), file="test.yaml")


def lit(workshop: Workshop | None = None, **changes: Any) -> Design:
    """Its design."""
    return decided(lit_job(**changes), workshop or shop())


def with_limits(workshop: Workshop, **limits: Any) -> Workshop:
    """A workshop that works as exactly as these limits say."""
    allowances = workshop.head.allowances
    return replace(workshop, head=replace(workshop.head, allowances=replace(allowances, limits=replace(allowances.limits, **limits))))


def with_moulding(workshop: Workshop, moulding: Any) -> Workshop:
    """A workshop with one moulding more."""
    return replace(workshop, mouldings={**workshop.mouldings, moulding.id: moulding})
