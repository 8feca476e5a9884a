"""Hanging and standing pieces: moments, test levels of UL and IEC 62368-1."""

import pytest

from halfsilver.engineering import mounting as m
from halfsilver.engineering import standing as st
from halfsilver.errors import RangeError


def test_pull_out():
    # moments [derived]: 30 kg, 75 mm, 500 mm: 294.2 x 75/500 = 44.13 N
    kw = {"mass_kg": 30, "centre_from_wall_mm": 75, "fixing_to_contact_mm": 500}
    assert m.pull_out_n(**kw) == pytest.approx(44.13, abs=0.005)
    assert m.pull_out_n(**kw, fixings=2) == pytest.approx(44.13 / 2, abs=0.005)
    assert m.pull_out_n(**(kw | {"centre_from_wall_mm": 150})) == pytest.approx(88.26, abs=0.005)
    assert m.pull_out_n(**(kw | {"fixing_to_contact_mm": 250})) == pytest.approx(88.26, abs=0.005)


def test_pull_of_a_person_adds_its_moment():
    # 222 N (50 lbf) at the height of the fixing adds itself; common practice
    found = m.pull_out_n(mass_kg=30, centre_from_wall_mm=75, fixing_to_contact_mm=500, person_pull_n=m.PERSON_PULL_N, person_at_mm=500)
    assert found == pytest.approx(44.13 + 50 * 4.44822, abs=0.5)


def test_proof_load():
    # four times the weight, at least 4.5 kg [seen]: 20 kg -> 784.5 N
    assert m.proof_load_n(mass_kg=20) == pytest.approx(784.5, abs=0.05)
    assert m.proof_load_n(mass_kg=1.0) == pytest.approx(44.13, abs=0.005)
    assert m.proof_load_n(mass_kg=1.2) == pytest.approx(4.8 * 9.80665)


def test_equipment_proof_load():
    # IEC 62368-1 8.7 [memory]: three times the weight or 880 N, whichever is less
    assert m.equipment_proof_load_n(mass_kg=20) == pytest.approx(588.4, abs=0.05)
    assert m.equipment_proof_load_n(mass_kg=30) == 880


def test_ten_degree_tilt():
    # IEC 62368-1 8.6 [seen]: d = 0.17633 h; 0.9 m -> 158.7 mm
    assert st.tip_base_mm(centre_height_mm=900) == pytest.approx(158.69, abs=0.005)
    assert st.tip_base_mm(centre_height_mm=1000) == pytest.approx(176.33, abs=0.005)


def test_push_levels():
    # IEC 62368-1 8.6 [seen]: 13 % at most 250 N; 50 % down at most 100 N
    assert st.push_level_n(mass_kg=60) == pytest.approx(76.5, abs=0.05)
    assert st.push_level_n(mass_kg=196) == pytest.approx(0.13 * 196 * 9.80665)
    assert st.push_level_n(mass_kg=197) == 250
    assert st.down_level_n(mass_kg=20) == pytest.approx(98.07, abs=0.005)
    assert st.down_level_n(mass_kg=20.5) == 100


def test_push_that_tips():
    # 60 kg, 0.2 m, at 1.5 m: 588.4 x 0.2/1.5 = 78.5 N, 2 N above the 13 % level
    push = st.push_to_tip_n(mass_kg=60, base_mm=200, push_height_mm=1500)
    assert push == pytest.approx(78.5, abs=0.05)
    assert push - st.push_level_n(mass_kg=60) == pytest.approx(2, abs=0.05)


@pytest.mark.parametrize(("width", "least"), [(1217, 2), (1219.2, 3), (406.4, 1), (406.3, 0), (812.8, 2)])
def test_studs_at_16_inches(width, least):
    # floor(w/s), at most one more [derived]
    found = m.studs_crossed(width_mm=width)
    assert (found.least, found.most) == (least, least + 1)


def test_studs_at_24_inches():
    assert m.studs_crossed(width_mm=1217, spacing_mm=609.6).least == 1


def test_centre_of_gravity():
    # sum(m x)/sum(m) [derived]
    found = m.centre_of_gravity(masses_kg=[10, 30], x_mm=[0, 100], z_mm=[400, 0])
    assert (found.mass_kg, found.x_mm, found.z_mm) == pytest.approx((40, 75, 100))
    with pytest.raises(RangeError, match="equally long"):
        m.centre_of_gravity(masses_kg=[1], x_mm=[1, 2], z_mm=[1])


def test_shear_and_number_of_fixings():
    assert m.shear_n(mass_kg=30, fixings=2) == pytest.approx(147.1, abs=0.05)
    assert m.fixings_needed(load_n=784.5, allowable_n=573.6) == 2
    assert m.fixings_needed(load_n=573.6 * 3, allowable_n=573.6) == 3
    assert m.fixings_needed(load_n=0, allowable_n=573.6) == 1
