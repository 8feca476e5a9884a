"""Path-traced reference of the ideal scene with two sheets, made with the general renderer ``mitsuba``; not part of the test run.

    python -m venv elsewhere/traced && elsewhere/traced/bin/pip install mitsuba
    nice elsewhere/traced/bin/python tests/oracles/pathtraced/draw.py --passes 32

It takes half an hour on two processors and writes ``two_sheets.npz`` beside itself; ``test_optics_traced.py`` reads that. Each view is
drawn in passes with seeds of their own, and the spread between the passes gives the standard errors that are kept.

A thin sheet of given R and T is a mask of opacity 1 - T round a mirror, on both sides, of reflectance R/(1 - T). The renderer reckons with
32 bits and starts every ray a little off the surface that it leaves: 1500 x 2^-24 of the largest coordinate. A reflected path would become
shorter by that at every mirror, so both mirrors stand half of it further out, which gives the path its length back. Samples are
independent: the stratified and multi-jittered ones were seen to be off by 0.5 and 1.7 % on this scene, where every choice at a mirror
takes a new number.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import mitsuba as mi
import numpy as np

mi.set_variant("scalar_rgb")
from mitsuba import ScalarTransform4f as Place  # noqa: E402 - the variant decides what this is

HERE = Path(__file__).parent
RESULT = HERE / "two_sheets.npz"
BLOCK = 15
STAND_OFF = 1500 * 2.0**-24


def rectangle(centre, normal, half_across, half_along, along, **rest):
    """A rectangle that faces ``normal``; its second axis runs ``along``."""
    across = np.cross(along, normal)
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = across * half_across, np.multiply(along, half_along), normal, centre
    return {"type": "rectangle", "to_world": Place(matrix), **rest}


def sheet(z, scene, given):
    mirror = {
        "type": "twosided", "inside": {
            "type": "conductor", "material": "none",
            "specular_reflectance": {"type": "rgb", "value": given["R"] / (1 - given["T"])},
        },
    }  # fmt: skip
    thin = {"type": "mask", "opacity": 1 - given["T"], "inside": mirror}
    return rectangle((0, 0, z), (0, 0, 1), scene["width_mm"] / 2, scene["height_mm"] / 2, (0, 1, 0), bsdf=thin)


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


def built(scene):
    out = STAND_OFF / 2 * 0.92 * scene["width_mm"] / 2
    given = {
        "type": "scene", "integrator": {"type": "path", "max_depth": -1, "rr_depth": 8},
        "front": sheet(scene["gap_mm"] + out, scene, scene["front"]), "rear": sheet(-out, scene, scene["rear"]), "screen": screen(scene),
    }  # fmt: skip
    return mi.load_dict(given | dict(walls(scene)))


def sensor(camera, width, height, samples):
    film = {
        "type": "hdrfilm", "width": width, "height": height, "rfilter": {"type": "box"}, "pixel_format": "rgb",
        "component_format": "float32",
    }  # fmt: skip
    eye = {
        "type": "perspective", "fov": camera["fov_x_deg"], "fov_axis": "x", "near_clip": 1.0, "far_clip": 1e5, "film": film,
        "to_world": Place().look_at(origin=camera["origin_mm"], target=camera["target_mm"], up=[0, 1, 0]),
        "sampler": {"type": "independent", "sample_count": samples},
    }  # fmt: skip
    return mi.load_dict(eye)


def passes(world, camera, size, samples, count):
    for seed in range(count):
        yield np.array(mi.render(world, sensor=sensor(camera, *size, samples), spp=samples, seed=seed), dtype=float)


def blocks(picture):
    rows, columns = (side // BLOCK for side in picture.shape[:2])
    return picture.reshape(rows, BLOCK, columns, BLOCK, 3).mean(axis=(1, 3))


def spread(values):
    values = np.asarray(values)
    return values.mean(axis=0), values.std(axis=0, ddof=1) / len(values) ** 0.5


def main():
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--passes", type=int, default=32)
    words.add_argument("--samples", type=int, default=256, help="samples a pixel and pass in the pictures")
    words.add_argument("--only", nargs="*")
    asked = words.parse_args()
    given = json.loads((HERE / "two_sheets.json").read_text(encoding="utf-8"))
    world = built(given["scene"])
    found = dict(np.load(RESULT)) if RESULT.exists() else {}
    for name, view in given["views"].items():
        if asked.only and name not in asked.only:
            continue
        size = view["size_px"]
        wide = view["kind"] == "picture"
        drawn = list(passes(world, view["camera"], size, asked.samples if wide else view["samples"], asked.passes))
        if wide:
            found[name] = np.mean(drawn, axis=0).astype(np.float16)
            found[f"{name}/blocks"], found[f"{name}/blocks_error"] = spread([blocks(one) for one in drawn])
        else:
            found[name], found[f"{name}/error"] = spread([one.mean(axis=0) for one in drawn])
        np.savez_compressed(RESULT, **found)


if __name__ == "__main__":
    main()
