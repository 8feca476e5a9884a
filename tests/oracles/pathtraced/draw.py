"""Path-traced reference of the ideal scene with two sheets, made with the general renderer ``mitsuba``; not part of the test run.

    python -m venv elsewhere/traced && elsewhere/traced/bin/pip install mitsuba
    nice elsewhere/traced/bin/python tests/oracles/pathtraced/draw.py --minutes 45

It needs libLLVM 17 or later (``DRJIT_LIBLLVM_PATH`` names one that is not installed) and writes ``two_sheets.npz`` beside itself;
``test_optics_traced.py`` reads that. Pictures are drawn block by block, in passes with seeds of their own: the next passes go to the
block of the largest relative standard error, and the spread between its passes gives the error that is kept. What was drawn before is
added to, so that it can be drawn in several sittings.

The renderer's own path tracer does all: rays, hits, the light of bands and screen, what walls scatter. Only the thin sheet of given R and T
is a material of its own here, as the renderer's (a mask round a mirror) chooses between passing and reflecting by T, which is
noisy: this one chooses with chances that suit the picture, and weighs what it chose by R or T over its chance. A ray that comes from the
room passes, for nothing stands in the room; one that meets the front sheet from behind is reflected, for the room is black.

Each pixel is drawn as a grid of finer ones, with random places in each: that spreads the samples evenly without making later choices
depend on one another. (The renderer's stratified and multi-jittered samples were seen to be off by 0.5 and 1.7 % on this scene, where every
choice at a mirror takes a new number.) It reckons with 32 bits and starts every ray a little off the surface that it leaves: 1500 x 2^-24
of the largest coordinate. A reflected path would become shorter by that at every mirror, so both mirrors stand half of it further out,
which gives the path its length back.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from time import monotonic

import drjit as dr
import mitsuba as mi
import numpy as np

mi.set_variant("llvm_ad_rgb")
from mitsuba import ScalarTransform4f as Place  # noqa: E402 - the variant decides what this is

HERE = Path(__file__).parent
RESULT = HERE / "two_sheets.npz"
BLOCK, FINER = 15, 8
STAND_OFF = 1500 * 2.0**-24
EACH, PASSES, LEAST = 16, 5, 15  # samples of each finer pixel in a pass; passes before the next look at the errors, and before the first
LIT, ENOUGH = 0.005, 0.001  # radiance of a block that counts; relative standard error that will do
CHANCE = {"picture": 0.6, "lights": 0.75}  # of a reflection by the rear sheet


class Sheet(mi.BSDF):
    """Thin sheet of given R and T, from both sides and at all angles."""

    def __init__(self, words):
        mi.BSDF.__init__(self, words)
        self.given = {name: float(words[name]) for name in ("R", "T")}
        self.front, self.chance = bool(words["front"]), float(words["chance"])
        both = mi.BSDFFlags.FrontSide | mi.BSDFFlags.BackSide
        self.m_components = [mi.BSDFFlags.DeltaReflection | both, mi.BSDFFlags.Null | both]
        self.m_flags = self.m_components[0] | self.m_components[1]

    def sample(self, context, hit, first, second, active=True):
        """Where the path goes on, and R or T over the chance of that."""
        from_room = mi.Frame3f.cos_theta(hit.wi) > 0
        chance = dr.select(from_room, 0.0, 1.0) if self.front else mi.Float(self.chance)
        back = first < chance
        found = dr.zeros(mi.BSDFSample3f)
        found.wo = dr.select(back, mi.reflect(hit.wi), -hit.wi)
        found.pdf = dr.select(back, chance, 1 - chance)
        found.eta = 1.0
        kinds = (mi.BSDFFlags.DeltaReflection, mi.BSDFFlags.Null)
        found.sampled_type = dr.select(back, *(mi.UInt32(+kind) for kind in kinds))
        found.sampled_component = dr.select(back, mi.UInt32(0), mi.UInt32(1))
        return found, mi.Color3f(dr.select(active, dr.select(back, self.given["R"], self.given["T"]) / found.pdf, 0.0))

    def eval(self, context, hit, out, active=True):
        """Nothing is scattered."""
        return mi.Color3f(0.0)

    def pdf(self, context, hit, out, active=True):
        """Nor by chance."""
        return mi.Float(0.0)

    def eval_pdf(self, context, hit, out, active=True):
        """Both."""
        return mi.Color3f(0.0), mi.Float(0.0)

    def to_string(self):
        """Name for the renderer's messages."""
        return "Sheet"


mi.register_bsdf("sheet", Sheet)


def rectangle(centre, normal, half_across, half_along, along, **rest):
    """A rectangle that faces ``normal``; its second axis runs ``along``."""
    across = np.cross(along, normal)
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = across * half_across, np.multiply(along, half_along), normal, centre
    return {"type": "rectangle", "to_world": Place(matrix), **rest}


def walls(scene):
    """Four walls, each matt below and above its band."""
    matt = {"type": "diffuse", "reflectance": {"type": "rgb", "value": scene["wall"]["reflectance"]}}
    black = {"type": "diffuse", "reflectance": {"type": "rgb", "value": 0.0}}
    light = {"type": "area", "radiance": {"type": "rgb", "value": scene["band"]["radiance"]}}
    start, end = scene["band"]["from_rear_mm"]
    stretches = ((-scene["screen"]["behind_mm"], start, {"bsdf": matt}), (start, end, {"bsdf": black, "emitter": light}))
    stretches = (*stretches, (end, scene["gap_mm"], {"bsdf": matt}))
    half = {0: scene["width_mm"] / 2, 1: scene["height_mm"] / 2}
    for axis in (0, 1):
        for sign in (-1, 1):
            for number, (low, high, rest) in enumerate(stretches):
                centre, normal, along = np.zeros(3), np.zeros(3), np.zeros(3)
                centre[axis], centre[2], normal[axis], along[1 - axis] = sign * half[axis], (low + high) / 2, -sign, 1
                yield f"wall{axis}{sign}{number}", rectangle(centre, normal, (high - low) / 2, half[1 - axis], along, **rest)


def screen(scene):
    given = scene["screen"]
    squares = [scene[name] / given["checker_mm"] for name in ("width_mm", "height_mm")]
    first, second = given["levels"]
    # One turn of the renderer's pattern is two squares; its first quarter, at u = v = 0, holds color0.
    pattern = {
        "type": "checkerboard", "color0": {"type": "rgb", "value": first}, "color1": {"type": "rgb", "value": second},
        "to_uv": Place().scale([squares[0] / 2, squares[1] / 2, 1]),
    }  # fmt: skip
    return rectangle(
        (0, 0, -given["behind_mm"]), (0, 0, 1), scene["width_mm"] / 2, scene["height_mm"] / 2, (0, 1, 0),
        bsdf={"type": "diffuse", "reflectance": {"type": "rgb", "value": 0.0}}, emitter={"type": "area", "radiance": pattern},
    )  # fmt: skip


def built(scene, chance):
    out = STAND_OFF / 2 * 0.92 * scene["width_mm"] / 2
    half = scene["width_mm"] / 2, scene["height_mm"] / 2
    given = {"type": "scene", "integrator": {"type": "path", "max_depth": -1, "rr_depth": 60}, "screen": screen(scene)}
    for name, z in (("front", scene["gap_mm"] + out), ("rear", -out)):
        thin = {"type": "sheet", **scene[name], "front": name == "front", "chance": chance}
        given[name] = rectangle((0, 0, z), (0, 0, 1), *half, (0, 1, 0), bsdf=thin)
    return mi.load_dict(given | dict(walls(scene)))


def sensor(camera, size, corner, part):
    """Camera on a part of a picture: its upper left pixel, and how many across and down."""
    crop = dict(
        zip(("crop_offset_x", "crop_offset_y", "crop_width", "crop_height"), (FINER * one for one in (*corner, *part)), strict=True)
    )
    film = {
        "type": "hdrfilm", "width": FINER * size[0], "height": FINER * size[1], "rfilter": {"type": "box"}, "pixel_format": "rgb",
        "component_format": "float32", **crop,
    }  # fmt: skip
    eye = {
        "type": "perspective", "fov": camera["fov_x_deg"], "fov_axis": "x", "near_clip": 1.0, "far_clip": 1e5, "film": film,
        "to_world": Place().look_at(origin=camera["origin_mm"], target=camera["target_mm"], up=[0, 1, 0]),
        "sampler": {"type": "independent"},
    }  # fmt: skip
    return mi.load_dict(eye)


def drawn(world, eye, seed):
    """One pass, as pixels."""
    fine = np.array(mi.render(world, sensor=eye, spp=EACH, seed=seed), dtype=float)
    rows, columns = (side // FINER for side in fine.shape[:2])
    return fine.reshape(rows, FINER, columns, FINER, 3).mean(axis=(1, 3))


@dataclass
class Mean:
    """A mean, the square of its standard error, and of how many passes it is."""

    value: np.ndarray | float = 0.0
    square: np.ndarray | float = 0.0
    count: int = 0

    def joined(self, value, square, count):
        whole = self.count + count
        return Mean((self.count * self.value + count * value) / whole, (self.count**2 * self.square + count**2 * square) / whole**2, whole)

    def after(self, values):
        """With more passes, whose spread gives their error."""
        values = np.asarray(values)
        return self.joined(values.mean(axis=0), values.var(axis=0, ddof=1) / len(values), len(values))

    def error(self):
        """Largest relative standard error, not known from few passes; none of what is hardly lit."""
        if np.min(self.value) < LIT:
            return 0.0
        return np.inf if self.count < LEAST else float((np.sqrt(self.square) / self.value).max())


def picture(name, view, world, found, end, seeds):
    """The view's pixels, the means of its blocks and their standard errors, each block in passes of its own."""
    width, height = view["size_px"]
    corners = [(x, y) for y in range(0, height, BLOCK) for x in range(0, width, BLOCK)]
    eyes = [sensor(view["camera"], view["size_px"], corner, (BLOCK, BLOCK)) for corner in corners]
    pixels = [found[name][y : y + BLOCK, x : x + BLOCK].astype(float) for x, y in corners] if name in found else [0.0 for _ in corners]
    means = [Mean() for _ in corners]
    if name in found:
        flat = (found[f"{name}/{part}"].reshape(len(corners), -1) for part in ("blocks", "blocks_error", "passes"))
        means = [Mean(value, error**2, int(count[0])) for value, error, count in zip(*flat, strict=True)]

    def more(k):
        some = [drawn(world, eyes[k], next(seeds)) for _ in range(PASSES)]
        pixels[k] = (means[k].count * pixels[k] + np.sum(some, axis=0)) / (means[k].count + PASSES)
        means[k] = means[k].after([one.mean(axis=(0, 1)) for one in some])

    for k in range(len(corners)):
        if not means[k].count:
            more(k)
    while monotonic() < end:
        worst = max(range(len(corners)), key=lambda k: means[k].error())
        if means[worst].error() < ENOUGH:
            break
        more(worst)
    shape = height // BLOCK, width // BLOCK
    whole = np.array(pixels).reshape(*shape, BLOCK, BLOCK, 3).swapaxes(1, 2)
    found[name] = whole.reshape(height, width, 3).astype(np.float16)
    found[f"{name}/blocks"] = np.array([one.value for one in means]).reshape(*shape, 3)
    found[f"{name}/blocks_error"] = np.sqrt([one.square for one in means]).reshape(*shape, 3)
    found[f"{name}/passes"] = np.array([one.count for one in means]).reshape(shape)


def lights(name, view, world, found, end, seeds):
    """Means of the view's columns and their standard errors."""
    eye = sensor(view["camera"], view["size_px"], (0, 0), view["size_px"])
    mean = Mean(found[name], found[f"{name}/error"] ** 2, int(found[f"{name}/passes"])) if name in found else Mean()
    while True:
        mean = mean.after([drawn(world, eye, next(seeds)).mean(axis=0) for _ in range(PASSES)])
        if monotonic() > end:
            break
    found[name], found[f"{name}/error"], found[f"{name}/passes"] = mean.value, np.sqrt(mean.square), np.array(mean.count)


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--minutes", type=float, default=45.0, help="for all views; four fifths of it for the pictures")
    words.add_argument("--only", nargs="*", help="views by name; all of them where left out")
    words.add_argument("--result", type=Path, default=RESULT, help="what to begin with, where it exists, and to add to")
    asked = words.parse_args()
    given = json.loads((HERE / "two_sheets.json").read_text(encoding="utf-8"))
    views = {name: view for name, view in given["views"].items() if not asked.only or name in asked.only}
    parts = {"picture": 4.0, "lights": 1.0}
    whole = sum(parts[view["kind"]] for view in views.values())
    found = dict(np.load(asked.result)) if asked.result.exists() else {"seed": np.array(0)}
    seeds = count(int(found["seed"]))
    for name, view in views.items():
        draw = picture if view["kind"] == "picture" else lights
        end = monotonic() + 60 * asked.minutes * parts[view["kind"]] / whole
        draw(name, view, built(given["scene"], CHANCE[view["kind"]]), found, end, seeds)
        np.savez_compressed(asked.result, **found | {"seed": np.array(next(seeds))})


if __name__ == "__main__":
    main()
