"""The look's page and what it is drawn from: the same as the program's own, refused where it cannot be, kept only when asked."""

from __future__ import annotations

import json
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from desks import Visitor
from halfsilver.services.appearance.predict import viewers_of
from halfsilver.services.appearance.setting import case_of
from halfsilver.services.desk_look import eye_numbers
from halfsilver.services.look_asset import look_asset


def test_the_page_says_what_is_seen_and_is_small(visitor: Visitor) -> None:
    job = visitor.begin()
    page = visitor.get(f"/jobs/{job}/look")
    assert page.status_code == 200
    assert len(page.content) < 100_000
    for words in (
        "Picture seen",
        "Picture&#39;s light",
        "Mirror",
        "Contrast",
        "First echo",
        "Images of the lights",
        "Depth",
        "Mass",
        "Price",
    ):
        assert words.replace("&#39;", "'") in page.text.replace("&#39;", "'")
    assert f"/jobs/{job}/look/still.png?viewer=front" in page.text  # for those without script
    assert " style=" not in page.text
    assert "<script>" not in page.text


def test_the_page_draws_from_what_the_program_reckons(visitor: Visitor) -> None:
    job = visitor.begin()
    header, tables = look_asset(visitor.desk.reckoned(visitor.desk.head(job)).design)
    assert visitor.get(f"/jobs/{job}/look/asset").text == header
    assert visitor.get(f"/jobs/{job}/look/tables").content == tables
    assert json.loads(header)["tables_sha256"] == sha256(tables).hexdigest()


def test_other_glass_is_another_asset_and_nothing_is_kept(visitor: Visitor) -> None:
    job = visitor.begin()
    stands = visitor.get(f"/jobs/{job}/look/asset").json()
    tried = visitor.get(f"/jobs/{job}/look/asset?front=chrome-t20-4&gap=50+mm").json()
    assert tried["digest"] != stands["digest"]
    assert tried["space"]["gap_mm"] == pytest.approx(50, abs=1.0)  # to the shop's steps
    assert visitor.desk.head(job).number == 1
    numbers = visitor.get(f"/jobs/{job}/look/numbers?front=chrome-t20-4&gap=50+mm").text
    assert 'class="moved"' in numbers
    assert "as it stands" in numbers


@pytest.mark.parametrize(("query", "path"), [("gap=5+1/8+mm", "gap"), ("front=no-such-sheet", "glass.front.kind")])
def test_what_cannot_be_read_is_refused_in_words(visitor: Visitor, query: str, path: str) -> None:
    job = visitor.begin()
    for what in ("asset", "tables", "numbers"):
        answer = visitor.get(f"/jobs/{job}/look/{what}?{query}")
        assert answer.status_code == 422
        assert answer.json()["problems"][0]["path"] == path
    assert visitor.get(f"/jobs/{job}/look?{query}").status_code == 200  # the page shows the job as it stands, and says it


@pytest.mark.parametrize("query", ["x=nan", "away=inf", "x=1e9", "dim=-1", "shown=11", "front=" + "x" * 81])
def test_places_and_factors_have_bounds(visitor: Visitor, query: str) -> None:
    job = visitor.begin()
    assert visitor.get(f"/jobs/{job}/look/numbers?{query}").status_code == 422


def test_an_eye_at_a_viewer_sees_the_viewers_numbers(visitor: Visitor) -> None:
    """The same as `appearance.json` tells of the viewer; without lights, the contrast without lights; half the screen, half its light."""
    job = visitor.begin()
    reckoned = visitor.desk.reckoned(visitor.desk.head(job))
    known = viewers_of(reckoned.design, case_of(reckoned.design))["side"]
    at = {"sideways_mm": 600.0, "up_mm": 1600 - 60 * 25.4, "distance_mm": 2500.0}
    seen = eye_numbers(reckoned, **at)
    assert known.screen_gain
    assert known.room_contrast
    assert known.visible_images_over_picture
    assert known.picture_share
    assert known.room_contrast_lights_off
    assert known.visible_images
    assert seen.mirror == pytest.approx(known.mirror_reflectance.value)
    assert seen.gain == pytest.approx(known.screen_gain.value)
    assert seen.contrast == pytest.approx(known.room_contrast.value)
    assert seen.images == known.visible_images_over_picture.value
    assert seen.share == pytest.approx(known.picture_share.value, abs=1e-6)
    off = eye_numbers(reckoned, **at, lights=0.0)
    assert off.contrast == pytest.approx(known.room_contrast_lights_off.value)
    assert off.images is None
    dark = eye_numbers(reckoned, **at, screen=0.0)
    assert dark.contrast is None
    assert abs((dark.images or 0) - known.visible_images.value) <= 1  # a screen that is off is darker than black
    half = eye_numbers(reckoned, **at, lights=0.0, screen=0.5)
    assert off.contrast is not None
    assert half.contrast is not None
    assert (half.contrast - 1) / (off.contrast - 1) == pytest.approx(0.5, rel=0.01)


def test_a_still_is_drawn_once(visitor: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    job = visitor.begin("kit-mirror.yaml")
    monkeypatch.setattr("halfsilver.services.desk_look.STILL_PX", (96, 54))
    first = visitor.get(f"/jobs/{job}/look/still.png?said=1&lights=1")
    assert Image.open(BytesIO(first.content)).size == (96, 54)
    kept = list(Path(visitor.desk.cache, "stills").iterdir())
    assert len(kept) == 1
    assert visitor.get(f"/jobs/{job}/look/still.png?said=1&lights=1").content == first.content
    dark = visitor.get(f"/jobs/{job}/look/still.png?said=1")
    assert dark.content != first.content
    assert visitor.get(f"/jobs/{job}/look/still.png?viewer=nobody").status_code == 422


def test_a_cache_that_cannot_be_written_is_none(visitor: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    job = visitor.begin("kit-mirror.yaml")
    monkeypatch.setattr("halfsilver.services.desk_look.STILL_PX", (48, 27))
    Path(visitor.desk.cache).mkdir(parents=True, exist_ok=True)
    Path(visitor.desk.cache, "stills").write_text("in the way")
    assert visitor.get(f"/jobs/{job}/look/still.png").status_code == 200


def test_patterns_have_the_screens_proportions(visitor: Visitor) -> None:
    job = visitor.begin()
    lit = visitor.get(f"/jobs/{job}/look/asset").json()["screen"]["picture"]
    image = Image.open(BytesIO(visitor.get(f"/jobs/{job}/look/content/bars.png").content))
    wide, high = lit["right_mm"] - lit["left_mm"], lit["top_mm"] - lit["bottom_mm"]
    assert image.size == (1280, pytest.approx(1280 * high / wide, abs=1))
    for name in ("no-such", "..%2f..%2fetc%2fpasswd", "own"):
        assert visitor.get(f"/jobs/{job}/look/content/{name}.png").status_code == 404


def test_what_is_tried_can_become_the_job(visitor: Visitor) -> None:
    job = visitor.begin()
    fields = {"based_on": "1", "front": "chrome-t20-4", "rear": "", "gap": "50 mm"}
    assert visitor.post(f"/jobs/{job}/look/keep", fields).status_code == 303
    state = visitor.desk.head(job)
    assert state.number == 2
    assert "glass.front.kind: split-t50-lam-6 → chrome-t20-4" in state.made.words
    text = visitor.desk.text(state)
    assert "gap: 50 mm" in text
    late = visitor.post(f"/jobs/{job}/look/keep", {**fields, "front": "clear-4"})
    assert late.status_code == 409
    assert visitor.desk.head(job).number == 2
    assert visitor.post(f"/jobs/{job}/look/keep", {**fields, "based_on": "2", "front": "no-such"}).status_code == 422


def test_a_picture_of_ones_own_is_put_with_the_job(visitor: Visitor) -> None:
    job = visitor.begin()
    target = BytesIO()
    Image.new("RGB", (40, 30), (200, 40, 10)).save(target, "JPEG")
    answer = visitor.post(f"/jobs/{job}/look/content", {"based_on": "1"}, files={"file": ("beach.jpg", target.getvalue())})
    assert answer.headers["location"] == f"/jobs/{job}/look?content=own"
    assert '<option value="own" selected>' in visitor.get(answer.headers["location"]).text
    assert Image.open(BytesIO(visitor.get(f"/jobs/{job}/file/beside/content.png").content)).size == (40, 30)
    for data in (b"", b"GIF89a none of ours"):
        assert visitor.post(f"/jobs/{job}/look/content", {"based_on": "2"}, files={"file": ("x.png", data)}).status_code == 422


@pytest.mark.parametrize("size", [(1, 1), (1, 9), (9, 1)])
def test_a_picture_of_a_single_row_or_spot_is_drawn(visitor: Visitor, size: tuple[int, int]) -> None:
    job = visitor.begin()
    target = BytesIO()
    Image.new("RGB", size, (200, 40, 10)).save(target, "PNG")
    visitor.post(f"/jobs/{job}/look/content", {"based_on": "1"}, files={"file": ("spot.png", target.getvalue())})
    still = visitor.get(f"/jobs/{job}/look/still.png?said=1&screen=1&content=own")
    assert still.status_code == 200
    assert Image.open(BytesIO(still.content)).convert("RGB").getpixel((480, 270))[0] > 100  # type: ignore[index]


def test_options_stand_side_by_side(visitor: Visitor) -> None:
    job = visitor.begin("kit-mirror.yaml")
    visitor.post(f"/jobs/{job}/options", {"name": "Wider gap"})
    page = visitor.get(f"/jobs/{job}/look/beside").text
    assert page.count("<canvas") == 2
    assert "Wider gap" in page
    assert page.count("<dt>Price</dt>") == page.count("<dt>Mass</dt>") == page.count("<dt>Depth</dt>") == 2


def test_where_nobody_looks_it_is_said(visitor: Visitor) -> None:
    job = visitor.begin("kit-mirror.yaml")
    visitor.change(job, {"viewers[0].id": "", "viewers[0].distance": "", "viewers[0].eye_height": ""})
    page = visitor.get(f"/jobs/{job}/look")
    assert page.status_code == 200
    assert "names nobody who looks" in page.text
    assert visitor.get(f"/jobs/{job}/look/beside").status_code == 200


def test_dimming_and_white_of_the_lights_are_kept(visitor: Visitor) -> None:
    job = visitor.begin()
    lights = {"based_on": "1", "dim": "0.35", "colour": "4200 K", "red": "", "green": "", "blue": ""}
    assert visitor.post(f"/jobs/{job}/look/light", lights).status_code == 303
    kept = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job.lights
    assert kept is not None
    assert (kept.dim, kept.colour) == (0.35, 4200.0)
    assert visitor.post(f"/jobs/{job}/look/light", {**lights, "dim": "0.5"}).status_code == 409  # another state stands by now
    assert visitor.post(f"/jobs/{job}/look/light", {**lights, "based_on": "2", "colour": "warm"}).status_code == 422
    assert "Keep these lights" in visitor.get(f"/jobs/{job}/look").text


def test_a_mix_takes_the_place_of_a_white_and_back(visitor: Visitor) -> None:
    job = visitor.begin()
    strips = visitor.get("/workshop/1/lights.csv").text
    visitor.post("/workshop", {"based_on": "1"}, files={"file": ("lights.csv", strips.replace(",450,white,", ",450,rgb,").encode())})
    visitor.change(job, {"lights.kind": "tape-12-50", "lights.colour": "3000 K"})
    mixed = {"based_on": visitor.number(job), "red": "1.000", "green": "0.200", "blue": "0.000"}
    assert visitor.post(f"/jobs/{job}/look/light", mixed).status_code == 303
    lights = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job.lights
    assert lights is not None
    assert lights.mix is not None
    assert lights.colour is None
    assert (lights.mix.red, lights.mix.green, lights.mix.blue) == (1.0, 0.2, 0.0)
    assert visitor.post(f"/jobs/{job}/look/light", {"based_on": visitor.number(job), "colour": "5000 K"}).status_code == 303
    lights = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job.lights
    assert lights is not None
    assert lights.mix is None
    assert lights.colour == 5000.0
