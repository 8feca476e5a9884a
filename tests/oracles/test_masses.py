"""Mass and centre of gravity against a sum of small cells: mitres, sloped lips, pockets and cut-outs cut one by one, not by formula."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from halfsilver.files.jobs import job_from_text
from halfsilver.services.checks.known import assembly
from halfsilver.services.decide import decided
from jobs import LIT, PLAIN, shop
from unit.test_findings_sides import text

CELL_MM = 0.2


def inside(points, x, z):
    """Even-odd rule, cell by cell: whether each point lies in a polygon."""
    crossed = np.zeros(x.shape, dtype=bool)
    for (x0, z0), (x1, z1) in zip(points, (*points[1:], points[0]), strict=True):
        if z0 != z1:
            between = (z0 > z) != (z1 > z)
            crossed ^= between & (x < (x1 - x0) * (z - z0) / (z1 - z0) + x0)
    return crossed


def cells(points, planed_mm):
    """Middles (x, z) of the cells of a section, what is planed off its face left out, and the area of one."""
    deep, wide = max(z for _, z in points), max(x for x, _ in points)
    nx, nz = (int(np.ceil(length / CELL_MM)) for length in (wide, deep - planed_mm))
    dx, dz = wide / nx, (deep - planed_mm) / nz
    x, z = (grid.ravel() for grid in np.meshgrid((np.arange(nx) + 0.5) * dx, planed_mm + (np.arange(nz) + 0.5) * dz))
    kept = inside(points, x, z)
    return x[kept], z[kept], dx * dz


def stick(points, planed_mm, long_point_mm, pockets=()):
    """Volume and first moments (along from the middle, inwards, back) of a stick mitred at both ends, by cells of its section.

    A pocket is (from along, to along, from inwards, to inwards, from back): it is open to the back.
    """
    x, z, area = cells(points, planed_mm)
    low, high = x - long_point_mm / 2, long_point_mm / 2 - x  # the mitre shortens each fibre
    volume = (high - low) * area
    total, moment = np.sum(volume), np.array([0.0, np.sum(volume * x), np.sum(volume * z)])
    for start, end, near, far, back in pockets:
        hit = (x > near) & (x < far) & (z > back)
        cut = np.clip(np.minimum(end, high) - np.maximum(start, low), 0, None)[hit] * area
        total -= np.sum(cut)
        moment -= [np.sum(cut) * (start + end) / 2, np.sum(cut * x[hit]), np.sum(cut * z[hit])]
    return total, moment


def frame(design, which):
    """Mass and centre of the four sticks of a frame from cells."""
    facts, ledger = design.facts, design.ledger
    moulding = facts.front_moulding if which == "front" else facts.rear_moulding
    profile = facts.front_profile if which == "front" else facts.rear_profile
    planed = facts.planed_mm if which == "rear" else 0.0
    face = 0.0 if which == "front" else ledger["depth.rear_lip"]
    wide, high = ledger["outside.width"], ledger["outside.height"]
    mass, moment = 0.0, np.zeros(3)
    for side, long_point, off in (("top", wide, high), ("bottom", wide, high), ("left", high, wide), ("right", high, wide)):
        volume, sums = stick(profile.points, planed, long_point, pockets_of(design, which, side, profile, long_point))
        along, inwards, back = sums / volume
        centre = {
            "top": (along, off / 2 - inwards), "bottom": (along, inwards - off / 2),
            "left": (inwards - off / 2, -along), "right": (off / 2 - inwards, -along),
        }[side]  # fmt: skip
        kg = volume * moulding.density * 1e-9
        mass += kg
        moment += kg * np.array([*centre, -(face + back - planed)])
    return mass, moment / mass


def pockets_of(design, which, side, profile, long_point_mm):
    if which != ("rear" if "rear.stick.long" in design.ledger else "front"):
        return []
    ledger, found = design.ledger, []
    for part in design.facts.screen.screen.sticks_out:
        if part.side.value == side:
            name = f"relief.{part.id}"
            start = ledger[f"{name}.at"] - long_point_mm / 2
            body, into, deep = profile.body_mm, ledger[f"{name}.into_wall"], ledger[f"{name}.height"]
            found.append((start, start + ledger[f"{name}.width"], body - into, body, profile.depth_mm - deep))
    return found


BADGES = (
    ", sticks_out: [{id: badge, side: bottom, from: 20 in, to: 22 in, out: 20 mm},"
    " {id: eye, side: right, from: 5 in, to: 9 in, out: 12 mm}, {id: box, side: left, from: 18 in, to: 21 in, out: 15 mm}]"
)


@cache
def lit_design(moulding, screen=""):
    job = LIT.format(**{**PLAIN, "moulding": moulding, "screen": screen, "planed": "auto", "batten": "auto"})
    return decided(job_from_text(job), shop())


@pytest.mark.parametrize(("moulding", "screen"), [("gallery-57", ""), ("gallery-57", BADGES), ("soft-76", ""), ("undercut-51", BADGES)])
@pytest.mark.parametrize("which", ["front", "rear"])
def test_frames_by_cells(moulding, screen, which):
    design = lit_design(moulding, screen)
    mass, centre = frame(design, which)
    found = assembly(design, which, f"{which}-stick")
    assert found.mass_kg == pytest.approx(mass, rel=2e-3)
    assert found.at_mm == pytest.approx(tuple(centre), abs=0.25)


def test_pockets_are_felt_in_all_three_axes():
    plain, cut = (assembly(lit_design("gallery-57", screen), "rear", "rear-stick") for screen in ("", BADGES))
    assert cut.mass_kg < plain.mass_kg
    assert cut.at_mm[1] > plain.at_mm[1]  # a pocket below
    assert cut.at_mm[0] != pytest.approx(plain.at_mm[0], abs=1e-3)
    assert cut.at_mm[2] > plain.at_mm[2]  # and behind


def box(size, centre, density):
    return np.prod(size) * density * 1e-9, np.array(centre, dtype=float)


def test_a_whole_piece_with_its_screen_and_without():
    # Frames from cells, everything else as boxes from the ledger; the screen's mass is the job's.
    design = lit_design("gallery-57", BADGES)
    ledger, facts = design.ledger, design.facts
    bodies = [frame(design, which) for which in ("front", "rear")]
    for which, glass in (("front", facts.front_glass), ("rear", facts.rear_glass)):
        size = (ledger[f"{which}.glass.width"], ledger[f"{which}.glass.height"], glass.thickness)
        bodies.append(box(size, (0, 0, -(ledger[f"depth.{which}_glass"] + glass.thickness / 2)), glass.density))
    wood = facts.workshop.stock[facts.job.battens.stock or facts.habits.batten].density
    width, depth, wide, high = ledger["batten.width"], ledger["batten.depth"], ledger["front.rebate.width"], ledger["front.rebate.height"]
    back = -(ledger["depth.batten"] + depth / 2)
    for sign in (-1, 1):
        bodies.append(box((ledger["batten.long"], width, depth), (0, sign * (high - width) / 2, back), wood))
        bodies.append(box((ledger["batten.short"], width, depth), (sign * (wide - width) / 2, 0, back), wood))
    small = [part for part in design.parts if part.id in ("strip", "plate") or part.id.startswith("bar-")]
    bodies += [(part.mass_kg * part.quantity, np.array(part.at_mm)) for part in small]
    without = assembly(design, "without", leave=("screen",))
    mass = sum(kg for kg, _ in bodies)
    assert without.mass_kg == pytest.approx(mass, rel=2e-3)
    assert without.at_mm == pytest.approx(tuple(sum(kg * at for kg, at in bodies) / mass), abs=0.2)
    x = ledger["screen.offset.left"] + ledger["screen.outline.width"] / 2 - ledger["outside.width"] / 2
    y = ledger["screen.offset.bottom"] + ledger["screen.outline.height"] / 2 - ledger["outside.height"] / 2
    bodies.append((20.0, np.array([x, y, -(ledger["depth.picture"] + 45 / 2)])))
    whole, mass = assembly(design, "complete"), mass + 20.0
    assert whole.mass_kg == pytest.approx(mass, rel=2e-3)
    assert whole.at_mm == pytest.approx(tuple(sum(kg * at for kg, at in bodies) / mass), abs=0.2)


def test_the_backing_of_a_hidden_screen_has_its_hole():
    # Cells of 1 mm over the sheet, those behind which the screen stands left out.
    design = decided(job_from_text(text(base="hidden", more="size: {of: sheet, width: 1400 mm, height: 900 mm}")), shop())
    ledger, part = design.ledger, next(one for one in design.parts if one.id == "backing")
    wide, high, thick = part.size_mm
    x, y = (grid.ravel() for grid in np.meshgrid(*(np.arange(-size / 2 + 0.5, size / 2, 1.0) for size in (wide, high))))
    cx = ledger["screen.offset.left"] + ledger["screen.outline.width"] / 2 - ledger["outside.width"] / 2
    cy = ledger["screen.offset.bottom"] + ledger["screen.outline.height"] / 2 - ledger["outside.height"] / 2
    kept = (abs(x - cx) > ledger["backing.width"] / 2) | (abs(y - cy) > ledger["backing.height"] / 2)
    share = np.count_nonzero(kept) / kept.size
    assert part.mass_kg == pytest.approx(wide * high * thick * share * design.facts.habits.backing_density * 1e-9, rel=6e-3)
    assert part.at_mm[:2] == pytest.approx((x[kept].mean(), y[kept].mean()), abs=1.5)
