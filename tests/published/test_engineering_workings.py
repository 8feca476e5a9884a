"""Composite checks: their parts are the published figures tested elsewhere; here their meeting with limits."""

import pytest

from halfsilver.engineering import workings as w
from halfsilver.engineering.casework import Wall, case_balance
from halfsilver.engineering.standing import standing_workings
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest


def working(result, limit, side=Limit.AT_MOST):
    return Working(
        rule="a.b",
        title="t",
        given=(),
        formula="x",
        result=result,
        limit=limit,
        side=side,
        unit="N",
        source="s",
        status="seen",
        confirms="c",
    )


@pytest.mark.parametrize(
    ("result", "limit", "side", "holds", "use"),
    [
        (10, 10, Limit.AT_MOST, True, 1), (10.01, 10, Limit.AT_MOST, False, 1.001), (5, None, Limit.AT_MOST, None, None),
        (10, 10, Limit.AT_LEAST, True, 1), (9.9, 10, Limit.AT_LEAST, False, 10 / 9.9), (0, 10, Limit.AT_LEAST, False, float("inf")),
    ],
)  # fmt: skip
def test_a_working_knows_its_side(result, limit, side, holds, use):
    found = working(result, limit, side)
    assert found.holds is holds
    assert found.use == pytest.approx(use)


def test_numbers_are_written_out():
    found = Working(
        rule="a.b", title="t", formula="W e", result=1, unit="N", source="s", status="seen", confirms="c",
        given=(Given(name="weight", symbol="W", value=294.2, unit="N"), Given(name="fixings", symbol="n", value=2, origin="asked")),
    )  # fmt: skip
    assert found.numbers() == "W = 294.2 N (derived), n = 2 (asked)"


def test_weakest_status():
    assert weakest("seen", "memory", "derived") == "memory"
    with pytest.raises(TypeError, match="not a listed formula"):
        mark_of(len)


HANG = {
    "mass_kg": 30, "centre_from_wall_mm": 75, "fixing_to_contact_mm": 500, "fixings": 2, "screw_number": 10, "thread_mm": 38.1,
    "stud_gravity": 0.42, "lateral_load_n": 400,
}  # fmt: skip


def test_hanging():
    # moments: 44.13 N over two screws; NDS Eq 12.2-2: No. 10 in 0.42, 1.5 in: 573.6 N permanent, 1.6/0.9 of it for ten minutes
    rest, person, combined, proof = w.hanging_workings(**HANG)
    assert (rest.result, rest.limit) == pytest.approx((44.13 / 2, 573.6), abs=0.05)
    assert (person.result, person.limit) == pytest.approx((44.13 / 2 + 111, 573.6 * 1.6 / 0.9), abs=0.1)
    assert person.status == "practice"
    assert combined.result == pytest.approx((22.065**2 + 147.1**2) ** 0.5, abs=0.05)
    assert 400 < combined.limit < 573.6
    assert (proof.result, proof.limit) == (pytest.approx(1176.8, abs=0.05), None)
    assert all("engineer" in x.confirms for x in (rest, person, combined, proof))


def test_too_short_a_thread_is_said():
    # NDS: a wood screw counts from 6 D, 28.96 mm for No. 10
    assert not any("least penetration" in a for a in w.hanging_workings(**HANG)[0].assumptions)
    assert any("29.0 mm" in a for a in w.hanging_workings(**(HANG | {"thread_mm": 28.9}))[0].assumptions)


def test_standing():
    # IEC 62368-1 8.6: 0.9 m -> 158.7 mm; 60 kg, 0.2 m at 1.5 m: 78.5 N against 76.5 N
    tilt, push, down = standing_workings(mass_kg=60, base_mm=200, centre_height_mm=900)
    assert (tilt.limit, push.result, push.limit) == pytest.approx((158.7, 78.5, 76.5), abs=0.06)
    assert (down.result, down.holds) == (0, True)
    assert tilt.holds
    assert push.holds
    assert not standing_workings(mass_kg=60, base_mm=150, centre_height_mm=900)[0].holds


def test_heat():
    wall = Wall(area_mm2=0.84e6, length_mm=700, thickness_mm=6, conductivity_w_mk=1.0)
    balance = case_balance(power_w=60, room_degc=30, walls=[wall])
    air, touch = w.heat_workings(balance=balance, power_w=60, room_degc=30, highest_surrounding_degc=40, touched="glass")
    assert air.result == balance.air_degc
    assert (air.limit, touch.limit) == (40, 71)
    # read with the room at 25 degC, IEC 62368-1 Table 38
    assert touch.result == pytest.approx(balance.surface_degc[0] - 5)
