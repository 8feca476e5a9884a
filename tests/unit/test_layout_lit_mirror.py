"""The lit mirror: an asked size, a full mirror with its painted back away from the lights, a panel that closes the back.

Figures are worked by hand from the catalogue: slope-44 has a body of 44.45 mm, a lip of 9.525 mm that is 9.525 mm thick, a rebate of
25.4 mm and a depth of 34.925 mm; split-t30-6 is 6 mm thick, mirror-4 is 4 mm, n = 1.52; clearance 1/8 in in all; glue line 0.1 mm.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from halfsilver.errors import JobError
from halfsilver.files.jobs import job_from_text
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import shower
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.decide import decided
from halfsilver.services.findings import findings
from jobs import shop

KIT = (Path(__file__).parents[2] / "examples" / "kit-mirror.yaml").read_text(encoding="utf-8")
SIZE = "size: {of: sight, width: 24 in, height: 36 in}"


def mirror(*changes: tuple[str, str]) -> Design:
    text = KIT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return decided(job_from_text(text, file="kit-mirror.yaml"), shop())


def found(design: Design, rule: str) -> list[Finding]:
    show = shower(units="in", fraction=32)
    return [one for one in findings(design, show) if one.rule == rule]


@pytest.mark.parametrize(
    ("of", "outside"),
    [
        ("sight", (609.6 + 2 * (44.45 + 9.525), 914.4 + 2 * (44.45 + 9.525))),
        ("outside", (609.6, 914.4)),
        ("sheet", (609.6 + 3.175 + 2 * 44.45, 914.4 + 3.175 + 2 * 44.45)),
    ],
)
def test_the_outside_follows_what_is_asked(of: str, outside: tuple[float, float]) -> None:
    ledger = mirror(("of: sight", f"of: {of}")).ledger
    step = 25.4 / 64  # the outside is taken up to it
    for d, least in zip(("width", "height"), outside, strict=True):
        assert least - 1e-6 <= ledger[f"outside.{d}"] < least + step


def test_chain_by_hand() -> None:
    ledger = mirror().ledger
    assert ledger["front.rebate.width"] == pytest.approx(609.6 + 2 * 9.525)
    assert ledger["rear.glass.height"] == pytest.approx(914.4 + 2 * 9.525 - 3.175)
    assert ledger["batten.depth"] == pytest.approx(25.4 - 6)
    assert ledger["rear.planed"] == 0
    assert ledger["gap"] == pytest.approx(25.4 - 6 + 0.1 + 9.525)
    assert ledger["packing"] == pytest.approx(25.4 - 4)
    assert ledger["panel.width"] == pytest.approx(ledger["outside.width"] - 12)
    assert ledger["screw.max.panel"] == pytest.approx(3 + 34.925 - 3)
    assert ledger["outside.depth"] == pytest.approx(34.925 + 0.1 + 34.925 + 3 + 6)
    assert not [name for name in ledger.entries if name.startswith(("screen.", "hidden.", "cover.", "reach.", "bar.", "relief."))]


def test_a_painted_back_looks_away_from_the_lights_and_light_passes_its_glass() -> None:
    ledger = mirror().ledger
    assert ledger["gap.optical"] == pytest.approx(ledger["gap"] + 4 / 1.52)  # the mirror's face lies t/n behind its surface
    assert not found(mirror(), "glass.painted_back")


@pytest.mark.parametrize("side", ["cavity", "viewer"])
def test_a_mirror_turned_round_is_a_stop(side: str) -> None:
    turned = found(mirror(("rear: {kind: mirror-4}", f"rear: {{kind: mirror-4, coated_side: {side}}}")), "glass.painted_back")
    assert [one.severity for one in turned] == [Severity.STOP]
    assert side in turned[0].advice
    assert not found(mirror(("rear: {kind: mirror-4}", "rear: {kind: mirror-4, coated_side: screen}")), "glass.painted_back")


def test_a_rear_sheet_that_lets_light_through_is_said() -> None:
    assert [one.severity for one in found(mirror(("kind: mirror-4", "kind: split-t30-4")), "glass.rear_mirror")] == [Severity.CAUTION]
    assert not found(mirror(), "glass.rear_mirror")


def test_without_a_size_the_job_is_refused_at_its_place() -> None:
    with pytest.raises(JobError) as refused:
        mirror((SIZE, ""))
    assert [problem.path for problem in refused.value.problems] == ["size"]


def test_parts_and_layers() -> None:
    design = mirror()
    parts = {part.id: part for part in design.parts}
    assert "screen" not in parts
    assert {"front-glass", "rear-glass", "strip", "back-panel", "batten-long"} <= parts.keys()
    ledger, panel = design.ledger, parts["back-panel"]
    assert panel.size_mm == pytest.approx((ledger["panel.width"], ledger["panel.height"], ledger["panel.thickness"]))
    assert panel.mass_kg == pytest.approx(panel.size_mm[0] * panel.size_mm[1] * panel.size_mm[2] * 700e-9)
    assert [layer.part for layer in design.layers][-1] == "back-panel"
    assert all(a.from_mm <= b.from_mm for a, b in zip(design.layers, design.layers[1:], strict=False))
    mirror_layer = next(layer for layer in design.layers if layer.part == "rear-glass")
    packing = next(layer for layer in design.layers if layer.part == "packing")
    assert packing.from_mm == pytest.approx(mirror_layer.to_mm)
    assert packing.to_mm == pytest.approx(ledger["depth.back"])  # the packing ends where the panel begins


def test_every_check_of_the_example_can_be_made() -> None:
    assert not [one for one in findings(mirror(), shower(units="in", fraction=32)) if one.severity is Severity.STOP]
