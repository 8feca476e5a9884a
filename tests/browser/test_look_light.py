"""The page's own drawing against the stills: read back from the board in linear values, pixel by pixel inside the opening.

The still renderer is itself held against a path tracer elsewhere; it shares no code with the shader.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from playwright.sync_api import Browser, Page

from asset_drawing import Asset, Eye, rays_of
from browser_parts import Server, watched
from halfsilver.files.edit import set_values
from halfsilver.files.workshop import read_workshop
from halfsilver.layout.design import Design
from halfsilver.services.load import load_text, resolve
from halfsilver.services.look_asset import look_asset
from halfsilver.services.pictures import picture

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
WIDTH, HEIGHT = 240, 135
PAIRS = {"mirrors": {}, "darker": {"glass.front.kind": "chrome-t20-4", "glass.rear.kind": "split-t70-4"}}
Light = NDArray[np.float64]

DRAW = """async ({ header, tables, eye, lit, width, height, content }) => {
  const { readAsset, toHalf } = await import("/static/look-asset.js");
  const { Board } = await import("/static/look-gl.js");
  const { halfFor } = await import("/static/look-eye.js");
  const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;
  const asset = readAsset(JSON.parse(header), bytes(tables));
  const board = Board.on(Object.assign(document.createElement("canvas"), { width, height }));
  const piece = board.piece(asset);
  const shown = new Float32Array(bytes(content.values));
  const values = new Uint16Array((shown.length / 3) * 4);
  for (let k = 0; k < shown.length / 3; k++) for (let c = 0; c < 3; c++) values[4 * k + c] = toHalf(shown[3 * k + c]);
  piece.content({ values, width: content.width, height: content.height });
  const at = { x: eye.x_mm, y: eye.y_mm, away: eye.distance_mm, viewer: eye.id };
  at.half = halfFor(asset.frame, at, width / height);
  const found = board.linear(piece, at, lit, width, height);
  const fault = board.gl.getError();
  board.gl.getExtension("WEBGL_lose_context").loseContext();
  const raw = new Uint8Array(found.buffer);
  let text = "";
  for (let k = 0; k < raw.length; k += 32768) text += String.fromCharCode(...raw.subarray(k, k + 32768));
  return { light: btoa(text), fault };
}"""


def coded(data: bytes) -> str:
    return base64.b64encode(data).decode()


@cache
def design_of(pair: str, more_mirror: float = 0.0) -> Design:
    """The foyer with a pair of sheets; ``more_mirror`` is added to both reflectances of the rear one."""
    shop = read_workshop()
    text = set_values((EXAMPLES / "foyer.yaml").read_text(), PAIRS[pair], file="job.yaml")
    loaded = load_text(text, file="job.yaml", workshop=shop)
    if more_mirror:
        kind = shop.glass[loaded.job.glass.rear.kind]
        kinds = dict(shop.glass) | {kind.id: replace(kind, R_coated=kind.R_coated + more_mirror, R_plain=kind.R_plain + more_mirror)}
        loaded = replace(loaded, workshop=replace(shop, glass=kinds))
    return resolve(loaded)


@cache
def asset_of(pair: str, more_mirror: float = 0.0) -> tuple[str, bytes]:
    return look_asset(design_of(pair, more_mirror))


def content_for(asset: Asset) -> NDArray[np.float32]:
    """A soft pattern in the screen's own proportions."""
    lit = asset["screen"]["picture"]
    columns = round(90 * (lit["right_mm"] - lit["left_mm"]) / (lit["top_mm"] - lit["bottom_mm"]))
    y, x = np.mgrid[0:90, 0:columns]
    return np.stack([0.5 + 0.4 * np.sin(x / 9), 0.5 + 0.4 * np.cos(y / 7), 0.3 + 0.2 * np.sin((x + y) / 11)], axis=-1).astype(np.float32)


@dataclass(frozen=True)
class Drawer:
    page: Page

    def draw(self, pair: str, viewer: str, *, screen: float, lights: float, more_mirror: float = 0.0, mix: Any = None) -> Light:
        header, tables = asset_of(pair, more_mirror)
        asset = Asset(header, tables)
        content = content_for(asset)
        eye = next(one for one in asset["viewers"] if one["id"] == viewer)
        lit = {"screen": screen, "lights": lights} | ({"mix": mix} if mix else {})
        told = {"values": coded(content.tobytes()), "width": content.shape[1], "height": content.shape[0]}
        asked = {"header": header, "tables": coded(tables), "eye": eye, "lit": lit, "width": WIDTH, "height": HEIGHT, "content": told}
        answer = self.page.evaluate(DRAW, asked)
        assert answer["fault"] == 0
        found = np.frombuffer(base64.b64decode(answer["light"]), "<f4").reshape(HEIGHT, WIDTH, 4)
        return found[::-1, :, :3].astype(float)


@pytest.fixture(scope="module")
def drawer(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Drawer]:
    server = Server(tmp_path_factory.mktemp("light"))
    server.start()
    context = browser.new_context()
    page = watched(context.new_page())
    page.goto(server.address)
    yield Drawer(page)
    context.close()
    server.stop()


def still_of(pair: str, viewer: str, state: Any) -> Light:
    asset = Asset(*asset_of(pair))
    content = content_for(asset)
    linear, _ = picture(design_of(pair), viewer=viewer, state=state, width_px=WIDTH, height_px=HEIGHT, content=content)
    return linear.astype(float)


def opening(pair: str, viewer: str) -> NDArray[np.bool_]:
    asset = Asset(*asset_of(pair))
    eye = next(one for one in asset["viewers"] if one["id"] == viewer)
    at = Eye(asset, eye, WIDTH, HEIGHT)
    return np.asarray(rays_of(at).cover(at.sight).reshape(HEIGHT, WIDTH) > 0.999)


def apart(still: Light, drawn: Light) -> Light:
    """How far they are apart, each pixel over its own light: stricter than over the range of the whole picture."""
    return np.asarray(np.abs(drawn - still).max(axis=-1) / np.maximum(still.max(axis=-1), 1e-3))


def agree(still: Light, drawn: Light) -> bool:
    """Under one percent in mean, over the seven tenths that agree best; and one percent over the light of all together."""
    error = np.sort(apart(still, drawn))
    return bool(error[: int(0.7 * error.size)].mean() < 0.01 and abs(drawn.mean() / still.mean() - 1) < 0.01)


@pytest.mark.parametrize("state", ["all", "lights"])
@pytest.mark.parametrize("viewer", ["front", "side", "child"])
@pytest.mark.parametrize("pair", list(PAIRS))
def test_the_page_draws_the_still(drawer: Drawer, pair: str, viewer: str, state: str) -> None:
    drawn = drawer.draw(pair, viewer, screen=float(state == "all"), lights=1.0)
    inside = opening(pair, viewer)
    still = still_of(pair, viewer, state)
    assert agree(still[inside], drawn[inside])
    beside = apart(still[~inside], drawn[~inside])
    assert (beside < 0.01).mean() > 0.6  # wall and frame


@pytest.mark.parametrize("state", ["on", "dark"])
def test_without_lights_too(drawer: Drawer, state: str) -> None:
    inside = opening("mirrors", "side")
    assert agree(
        still_of("mirrors", "side", state)[inside], drawer.draw("mirrors", "side", screen=float(state == "on"), lights=0.0)[inside]
    )


@pytest.mark.parametrize("state", ["lights", "dark"])
def test_two_hundredths_of_reflectance_are_noticed(drawer: Drawer, state: str) -> None:
    inside = opening("mirrors", "side")
    drawn = drawer.draw("mirrors", "side", screen=0.0, lights=float(state == "lights"), more_mirror=-0.02)
    assert not agree(still_of("mirrors", "side", state)[inside], drawn[inside])


def test_dimmers_and_colours_are_factors(drawer: Drawer) -> None:
    dark, full, half = (drawer.draw("mirrors", "front", screen=0.0, lights=level) for level in (0.0, 1.0, 0.5))
    np.testing.assert_allclose(half - dark, (full - dark) / 2, rtol=2e-3, atol=2e-3)
    red = drawer.draw("mirrors", "front", screen=0.0, lights=1.0, mix=[0, 0, 0, 1, 0, 0]) - dark
    lit = (full - dark).max(axis=-1) > 50
    assert lit.sum() > 100
    # Grey sheets leave a red of sRGB as it is: one cd/m2 of it is 1/0.2126 of linear red (IEC 61966-2-1).
    grey = (0.21263901, 0.71516868, 0.07219232)
    np.testing.assert_allclose(red[lit][:, 0] * grey[0], (full - dark)[lit] @ grey, rtol=0.02)


def test_the_page_is_sent_what_the_program_reckons() -> None:
    header, _ = asset_of("mirrors")
    assert json.loads(header)["digest"] == design_of("mirrors").digest
