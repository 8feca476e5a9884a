"""What a viewer sees, from hand-worked numbers; thresholds are Barten's (1999, secondary)."""

from __future__ import annotations

import math

import pytest

from halfsilver.errors import RangeError
from halfsilver.files import tables
from halfsilver.optics import appearance as seen
from halfsilver.optics.appearance import LightImage, Surroundings, Thresholds
from halfsilver.optics.sheets import Sheet, printed


def thresholds() -> Thresholds:
    table = tables.load("optics/contrast_thresholds")
    return Thresholds(luminance_cd_m2=tables.rising(table, "luminance", unit="cd/m2"), contrast=table.numbers("threshold", unit="1"))


@pytest.mark.parametrize(("luminance", "expected"), [(0.1, 0.048), (1, 0.017), (10, 0.0078), (100, 0.0051), (1000, 0.0051)])
def test_thresholds_pass_through_the_published_points(luminance: float, expected: float):
    assert thresholds().at(luminance) == pytest.approx(expected)


def test_thresholds_rise_in_the_dark():
    assert thresholds().at(0.01) > 0.1


def image(m: int, luminance: float) -> LightImage:
    return LightImage(m=m, luminance_cd_m2=luminance, x=0.44, y=0.40, depth_mm=30.0 + 50 * m, incidence_deg=20.0)


def test_images_count_while_plainly_seen():
    """Background 10 cd/m2, threshold 0.78 %, four times: at least 0.312 cd/m2."""
    images = [image(m, luminance) for m, luminance in enumerate([300, 100, 30, 10, 3, 1, 0.313, 0.1])]
    count = seen.visible_images(images, background_cd_m2=10, thresholds=thresholds())
    assert count == 7
    assert seen.visible_round_trips(count) == 3
    assert seen.visible_images(images, background_cd_m2=1000, thresholds=thresholds()) == 3
    assert seen.visible_round_trips(0) == 0


def test_contrast_in_the_room_as_worked_by_hand():
    """Hand-worked: T 0.30, R 0.60, room 40 cd/m2, 300 lx, face 4 %, 350 cd/m2 at 1000 : 1 gives 5.29, single pass."""
    room = Surroundings(illuminance_lx=300, mirrored_cd_m2=40)
    veil = seen.veil_cd_m2(transmittance=0.3, face_diffuse=0.04, mirror=0.6, room=room)
    assert veil == pytest.approx(24.34, abs=0.005)
    assert seen.room_contrast(gain=0.3, white_cd_m2=350, black_cd_m2=0.35, veil=veil) == pytest.approx(5.29, abs=0.005)
    with pytest.raises(RangeError, match="has no bound"):
        seen.room_contrast(gain=0.3, white_cd_m2=350, black_cd_m2=0, veil=0)


def test_a_dark_screen_hides_behind_a_backing_of_its_own_grey():
    room = Surroundings(illuminance_lx=300, mirrored_cd_m2=20)
    given = {"transmittance": 0.3, "gain": 0.3, "face_diffuse": 0.02, "mirror": 0.6, "room": room}
    same = seen.hidden_contrast(backing_diffuse=0.02, black_cd_m2=0.0, **given)
    lit = seen.hidden_contrast(backing_diffuse=0.02, black_cd_m2=0.05, **given)
    paper = seen.hidden_contrast(backing_diffuse=0.80, black_cd_m2=0.0, **given)
    assert same == 0
    # By hand: 0.3 x 0.05 over 0.02 x 0.09 x 300/pi + 12.
    assert lit == pytest.approx(0.015 / (0.1719 + 12), rel=1e-3)
    assert paper > 10 * thresholds().at(12)


def test_a_strip_sums_along_its_length():
    """Second derivation: the sum over short Lambertian pieces with both cosines."""
    luminance, width, z, d = 5000.0, 10.0, 20.0, 300.0
    step = 0.5
    pieces = (math.dist((0, 0, 0), (i * step, d, z)) for i in range(-40_000, 40_001))
    expected = sum(luminance * width * step * (d / r) * (z / r) / r**2 for r in pieces)
    found = seen.strip_on_rear_lx(luminance_cd_m2=luminance, strip_width_mm=width, from_rear_mm=z, wall_distance_mm=d)
    assert found == pytest.approx(expected, rel=1e-3)


def test_plane_of_incidence_follows_the_eye():
    assert seen.incidence_at_deg(distance_mm=1000, sideways_mm=1000) == pytest.approx(45)
    assert seen.polarisation_to_plane_deg(axis_deg=45, sideways_mm=1000, height_mm=0) == pytest.approx(45)
    assert seen.polarisation_to_plane_deg(axis_deg=0, sideways_mm=0, height_mm=500) == pytest.approx(-90)


def test_a_range_holds_the_value_and_grows_with_the_error():
    grid = {"wavelength_nm": [550.0], "incidence_deg": [0.0]}
    front = printed(T=0.5, R_front=0.45, R_back=0.45, **grid)
    rear = printed(T=0.3, R_front=0.6, R_back=0.6, **grid)

    def gain(one: Sheet, other: Sheet) -> dict[str, float]:
        T1, T2 = one.response.T_front[0, 0, 0], other.response.T_front[0, 0, 0]
        return {"gain": float(T1 * T2 / (1 - one.response.R_back[0, 0, 0] * other.response.R_front[0, 0, 0]))}

    spread = []
    for error in (0.0, 0.01, 0.03):
        found = seen.ranged(gain, front=front, rear=rear, front_error=error, rear_error=error)["gain"]
        assert found.low <= found.value <= found.high
        spread.append(found.high - found.low)
    assert spread[0] == 0
    assert spread[2] > 2 * spread[1] > 0
    # By hand, 3 points on both sheets: 0.53 x 0.33/(1 - 0.42 x 0.57).
    assert found.high == pytest.approx(0.53 * 0.33 / (1 - 0.42 * 0.57))
