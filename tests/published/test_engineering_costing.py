"""Definitions of pricing, with worked figures."""

from decimal import Decimal

import pytest

from halfsilver.costing import rules as r
from halfsilver.errors import RangeError

D = Decimal


def test_markup_and_margin():
    # definitions: cost 100, 50 % markup: 150, margin 33.33 %; 40 % margin: 166.67, markup 66.67 %
    assert r.price_from_markup(cost=D(100), markup=D("0.5")) == 150
    assert r.margin_from_markup(markup=D("0.5")).quantize(D("0.0001")) == D("0.3333")
    assert r.round_money(r.price_from_margin(cost=D(100), margin=D("0.4"))) == D("166.67")
    assert r.markup_from_margin(margin=D("0.4")).quantize(D("0.0001")) == D("0.6667")
    assert r.margin(cost=D(100), price=D(150)).quantize(D("0.0001")) == D("0.3333")


def test_a_margin_used_as_a_markup_falls_short():
    # 40 % markup on 100 is 140, 26.67 short of a 40 % margin
    short = r.price_from_margin(cost=D(100), margin=D("0.4")) - r.price_from_markup(cost=D(100), markup=D("0.4"))
    assert r.round_money(short) == D("26.67")


def test_margin_edges():
    # margin of 100 % or more is an error; 0 % returns the cost
    assert r.price_from_margin(cost=D(100), margin=D(0)) == 100
    assert r.price_from_margin(cost=D(1), margin=D("0.999")) == 1000
    for bad in (D(1), D("-0.01")):
        with pytest.raises(RangeError, match="margin"):
            r.price_from_margin(cost=D(100), margin=bad)
    with pytest.raises(RangeError, match="price"):
        r.margin(cost=D(100), price=D(0))


def test_labour():
    # 25 $/h, 42 %, 75 %: 47.33 $/h; 0.298/0.702 = 42 % (BLS, memory)
    assert r.round_money(r.labour_rate(wage=D(25), burden=D("0.42"), utilisation=D("0.75"))) == D("47.33")
    assert r.burden_from_benefits(benefits=D("0.298")).quantize(D("0.01")) == D("0.42")
    assert r.labour_rate(wage=D(25), burden=D(0), utilisation=D(1)) == 25
    for bad in (D(0), D("1.01")):
        with pytest.raises(RangeError, match="utilisation"):
            r.labour_rate(wage=D(25), burden=D(0), utilisation=bad)


def test_waste():
    # 6.8 m with 15 %: 8.00 of what is bought, 7.82 of what is used
    assert r.quantity_to_buy(need=6.8, waste=0.15, waste_of="bought") == pytest.approx(8.00)
    assert r.quantity_to_buy(need=6.8, waste=0.15, waste_of="used") == pytest.approx(7.82)
    with pytest.raises(RangeError, match="bought or used"):
        r.quantity_to_buy(need=1, waste=0.1, waste_of="sold")
    with pytest.raises(RangeError, match="waste"):
        r.quantity_to_buy(need=1, waste=1.0, waste_of="used")


def test_whole_units():
    assert [r.whole_units(quantity=q, unit=50) for q in (0, 1, 50, 50.1)] == [0, 1, 1, 2]


def test_round_once():
    # three lines of 33.335 sum to 100.005: 100.01 rounded once, 100.02 rounded each
    lines = [D("33.335")] * 3
    assert r.total(lines) == D("100.01")
    assert sum(r.round_money(line) for line in lines) == D("100.02")
    assert r.total([]) == D("0.00")
    assert r.round_money(D("2.5"), places=0) == 3
