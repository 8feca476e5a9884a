"""The invented workshop against published numbers: an invented shop still obeys physics, handbooks and codes."""

from __future__ import annotations

import re

import pytest

from halfsilver.files.workshop import read_workshop
from halfsilver.geometry.profile import Profile
from halfsilver.model.workshop import GlassMake, HardwareUse, Workshop


@pytest.fixture(scope="module")
def workshop() -> Workshop:
    return read_workshop()


# Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), Table 5-3: specific gravity at 12 % moisture. Ash, oaks, maple, walnut
# and poplar were looked up; basswood and white pine are from memory.
WOOD_HANDBOOK_G12 = {
    "ash, white": 0.60,
    "basswood, American": 0.37,
    "maple, sugar (hard)": 0.63,
    "oak, red (commercial group)": 0.63,  # printed for northern red oak
    "oak, white (commercial group)": 0.68,  # printed for white oak
    "pine, eastern white": 0.35,
    "walnut, black": 0.55,
    "yellow-poplar": 0.42,
}


def test_densities_of_the_mouldings_are_the_wood_handbooks(workshop: Workshop) -> None:
    """Density = 1000 G (1 + M/100), its Equation 4-14; the catalogue prints whole kg/m3."""
    for moulding in workshop.mouldings.values():
        specific_gravity = WOOD_HANDBOOK_G12[moulding.timber]
        assert moulding.density == pytest.approx(1000 * specific_gravity * (1 + 12 / 100), abs=0.5), moulding.id


# Body, lip and rebate in mm, written down by hand before the outlines were drawn.
MEANT = {
    "gallery-57": (57.15, 7.94, 25.4), "slim-19": (19.05, 6.35, 25.4), "slope-44": (44.45, 9.53, 25.4), "undercut-51": (50.8, 9.53, 28.58),
    "shallow-32": (31.75, 6.35, 9.53), "soft-76": (76.2, 9.53, 25.4), "leaf-51": (50.8, 7.94, 25.4), "plain-40": (40.0, 8.0, 37.0),
}  # fmt: skip


def test_each_profile_is_what_was_meant(workshop: Workshop) -> None:
    """No publication: the drawing is held against what was written down first."""
    assert set(MEANT) == set(workshop.mouldings)
    for name, (body, lip, rebate) in MEANT.items():
        profile = Profile(workshop.mouldings[name].profile)
        assert profile.body_mm == pytest.approx(body, abs=0.005), name
        assert profile.lip_mm == pytest.approx(lip, abs=0.006), name
        assert profile.rebate_depth_mm == pytest.approx(rebate, abs=0.006), name


def test_the_flat_gallery_moulding_has_a_body_of_two_and_a_quarter_inches(workshop: Workshop) -> None:
    """The inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert Profile(workshop.mouldings["gallery-57"].profile).body_mm == 2.25 * 25.4


def test_planing_off_what_is_said_leaves_a_face_to_glue(workshop: Workshop) -> None:
    """Derived: after `plane_least` the front of the section is one straight line over most of the body."""
    for moulding in workshop.mouldings.values():
        if moulding.may_plane:
            planed = Profile(moulding.profile).planed(moulding.plane_least)
            flat = [x for x, z in planed.section if abs(z - moulding.plane_least) < 1e-6]
            assert max(flat) - min(flat) >= 0.75 * planed.body_mm, moulding.id
            assert planed.lip_thickness_mm >= workshop.habits.lip_least, moulding.id


def test_float_glass_has_the_standards_density_and_index(workshop: Workshop) -> None:
    """EN 572-1: 2500 kg/m3; mean refractive index 1.50 nominal, 1.52 for soda-lime float in practice."""
    for kind in workshop.glass.values():
        if kind.make in (GlassMake.FLOAT, GlassMake.TOUGHENED):
            assert kind.density == 2500.0
            assert kind.index == pytest.approx(1.52, abs=0.02)


def test_laminated_glass_weighs_glass_and_interlayer(workshop: Workshop) -> None:
    """EN 572-1 glass at 2500 kg/m3 and an interlayer at about 1070 kg/m3 (common practice), 0.76 mm between 3 and 3 mm."""
    kind = workshop.glass["split-t50-lam-6"]
    assert kind.thickness == pytest.approx(3 + 0.76 + 3)
    assert kind.density == pytest.approx((6 * 2500 + 0.76 * 1070) / 6.76, abs=5)


def test_clear_glass_reflects_what_fresnel_says(workshop: Workshop) -> None:
    """Two bare faces, incoherent: 2 r/(1 + r) with r = ((n - 1)/(n + 1))^2; the catalogue prints whole percent."""
    for kind in workshop.glass.values():
        if kind.duty.value == "clear":
            face = ((kind.index - 1) / (kind.index + 1)) ** 2
            if "against reflection" in kind.name:
                assert kind.R_plain < 0.01 < kind.T - 0.97, kind.id  # below 1 %: common practice
                continue
            # Tinted glass hides part of the rear face's share.
            least = 2 * face / (1 + face) if kind.T > 0.8 else face
            assert kind.R_plain == kind.R_coated, kind.id
            assert least - 0.005 <= kind.R_plain <= 2 * face / (1 + face) + 0.005, kind.id
            assert (1 - face) / (1 + face) + 0.005 >= kind.T, kind.id


def test_wood_screws_have_their_gauges_diameter(workshop: Workshop) -> None:
    """NDS 2018 Appendix L: No. 6 0.138 in, No. 8 0.164 in, No. 10 0.190 in."""
    gauges = {6: 0.138, 8: 0.164, 10: 0.190}
    screws = [thing for thing in workshop.hardware.values() if thing.use is HardwareUse.SCREW]
    assert len(screws) == 6
    for screw in screws:
        (gauge,) = re.findall(r"No\. ([0-9]+)", screw.name)
        assert screw.diameter == pytest.approx(gauges[int(gauge)] * 25.4), screw.id


def test_supplies_called_limited_are_within_class_2(workshop: Workshop) -> None:
    """NEC Chapter 9 Table 11(B): up to 20 V at most 5 A (from memory); over 20 to 60 V at most 100 VA. One supply is not, and says so."""
    for supply in workshop.supplies.values():
        limit_w = 5.0 * supply.voltage if supply.voltage <= 20 else 100.0
        assert (supply.power <= limit_w) == ("limited power" in supply.name), supply.id


def test_the_tape_is_of_class_two(workshop: Workshop) -> None:
    """OIML R 35-1, class II: 0.3 mm + 0.2 mm for each metre (from memory)."""
    assert (workshop.limits.tape.constant, workshop.limits.tape.per_metre) == (0.3, 0.2)


def test_panes_bought_to_size_keep_the_standards_tolerance(workshop: Workshop) -> None:
    """ASTM C1036, cut sizes to 6 mm: +-1.6 mm, which is 1/16 in (from memory)."""
    assert workshop.limits.glass_bought == pytest.approx(25.4 / 16)


def test_diodes_stand_as_close_as_their_number_a_metre_says(workshop: Workshop) -> None:
    """Derived: 60 a metre are 16.667 mm apart; a segment holds a whole number of diodes."""
    for light in workshop.lights.values():
        diodes = light.segment / light.pitch
        assert diodes == pytest.approx(round(diodes), abs=0.01), light.id
        if count := re.findall(r"([0-9]+) diodes a metre", light.name):
            assert light.pitch == pytest.approx(1000 / int(count[0]), abs=0.001), light.id


def test_strips_above_ten_watts_a_metre_come_in_metal(workshop: Workshop) -> None:
    """Common practice: above about 10 W/m a strip is mounted on metal."""
    for light in workshop.lights.values():
        assert ("metal channel" in light.name) == (light.power > 10), light.id
