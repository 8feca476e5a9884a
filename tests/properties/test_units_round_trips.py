"""What is written is read back, to the smallest step that was written; no text makes a reader fail in any other way than by refusing."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from halfsilver.errors import QuantityError
from halfsilver.units.kinds import SCALES
from halfsilver.units.lengths import (
    finest_step_mm,
    from_units_8000,
    is_exact,
    read_length_mm,
    to_units_8000,
    write_length,
    write_length_full,
)
from halfsilver.units.money import Money
from halfsilver.units.quantities import READERS, WRITERS
from halfsilver.units.rounding import down_to, nearest, up_to
from halfsilver.units.scales import write_scaled

lengths = st.floats(min_value=-200_000.0, max_value=200_000.0, allow_nan=False)
fractions = st.sampled_from([2, 4, 8, 16, 32, 64])
steps = st.sampled_from([0.1, 0.5, 1.0, 25.4 / 64, 25.4 / 32, 25.4 / 16, 10.0, 1 / 8000])


@given(value_mm=lengths, fraction=fractions, feet=st.booleans())
@example(value_mm=11.98 * 25.4, fraction=16, feet=False)
@example(value_mm=-11.99 * 25.4, fraction=16, feet=True)
def test_inches_come_back_to_half_a_step(value_mm: float, fraction: int, feet: bool) -> None:
    text = write_length(value_mm, units="in", fraction=fraction, feet=feet)
    back = read_length_mm(text)
    assert abs(back - value_mm) <= finest_step_mm(units="in", fraction=fraction) * (0.5 + 2e-6)
    assert write_length(back, units="in", fraction=fraction, feet=feet) == text
    assert is_exact(back, units="in", fraction=fraction)


@given(steps=st.integers(-500_000, 500_000), fraction=fractions)
def test_every_tick_of_the_tape_is_written_reduced_and_read_exactly(steps: int, fraction: int) -> None:
    text = write_length(steps * 25.4 / fraction, units="in", fraction=fraction)
    assert Fraction(read_length_mm(text)).limit_denominator(10**7) == Fraction(steps, fraction) * Fraction(127, 5)
    if "/" in text:
        over, under = text.removesuffix(" in").split(" ")[-1].lstrip("-").split("/")
        assert int(over) < int(under) <= fraction
        assert int(over) % 2 == 1


@given(value_mm=lengths)
def test_millimetres_come_back_to_half_a_tenth(value_mm: float) -> None:
    text = write_length(value_mm, units="mm")
    assert abs(read_length_mm(text) - value_mm) <= 0.05 + 1e-6
    assert not text.startswith("-0 ")
    assert ".0 " not in text


@given(value_mm=lengths, units=st.sampled_from(["in", "mm"]), fraction=fractions)
def test_a_length_and_its_negative_show_the_same_digits(value_mm: float, units: str, fraction: int) -> None:
    shown = write_length(abs(value_mm), units=units, fraction=fraction)  # type: ignore[arg-type]
    assert write_length(-abs(value_mm), units=units, fraction=fraction) in (f"-{shown}", shown)  # type: ignore[arg-type]


@given(value_mm=lengths, units=st.sampled_from(["in", "mm"]))
def test_a_file_keeps_a_length(value_mm: float, units: str) -> None:
    assert abs(read_length_mm(write_length_full(value_mm, units=units)) - value_mm) <= 2e-5  # type: ignore[arg-type]


@given(units=st.integers(-(10**10), 10**10))
def test_the_cutting_grid_comes_back(units: int) -> None:
    assert to_units_8000(from_units_8000(units)) == units


@given(value=lengths, step=steps)
def test_rounding_brackets_its_value_and_stays_put(value: float, step: float) -> None:
    down, near, up = down_to(value, step), nearest(value, step), up_to(value, step)
    hair = 2e-6 * step + 1e-9
    assert value - step - hair <= down <= value + hair
    assert value - hair <= up <= value + step + hair
    assert abs(near - value) <= step / 2 + hair
    for rounded in (down, near, up):
        assert down_to(rounded, step) == nearest(rounded, step) == up_to(rounded, step) == rounded


@pytest.mark.parametrize(("kind", "unit"), [(kind, unit) for kind, scale in SCALES.items() for unit in scale.factors])
@given(count=st.integers(-(10**7), 10**7))
def test_every_unit_of_every_kind_comes_back(kind: str, unit: str, count: int) -> None:
    scale = SCALES[kind]
    step = float(scale.factors[unit]) * 10.0**-scale.places
    value = count * step + float(scale.offsets.get(unit, 0))
    back = float(READERS[kind](write_scaled(value, scale, unit=unit)))  # type: ignore[arg-type]
    assert back == pytest.approx(value, rel=1e-9, abs=step * 1e-3)


VALUES = {
    "duration": st.integers(0, 10**7).map(float),
    "money": st.builds(Money, st.decimals(min_value=-(10**6), max_value=10**6, places=2), st.sampled_from(["USD", "EUR"])),
    "amount": st.decimals(min_value=0, max_value=10**6, places=2).map(str),
    "currency": st.sampled_from(["USD", "EUR", "CHF"]),
    "number": st.integers(-(10**9), 10**9).map(lambda n: n / 1000),
    "count": st.integers(0, 10**6),
    "date": st.dates().map(lambda day: day.isoformat()),
    "aspect": st.tuples(st.integers(1, 999), st.integers(1, 999)),
    "fraction": fractions,
    "pattern": st.tuples(st.integers(1, 10**6), st.integers(1, 10**6)).map(lambda sides: (sides[0] / 10, sides[1] / 10)),
}


@pytest.mark.parametrize("kind", sorted(set(READERS)))
@given(data=st.data())
def test_every_writer_has_its_reader(kind: str, data: st.DataObject) -> None:
    value = data.draw(VALUES.get(kind, st.integers(0, 10**6).map(lambda n: n / 10)))
    back = READERS[kind](WRITERS[kind](value))
    assert back == (pytest.approx(value, rel=1e-9, abs=1e-9) if isinstance(value, float) else value)


spelled = st.text(alphabet="0123456789 ./-+,'\"_inftmcex%½¾²⁄³₄−″lbozKW°:\u00a0", max_size=24)


@pytest.mark.parametrize("kind", sorted(READERS))
@given(text=spelled | st.text(max_size=100))
def test_a_reader_reads_or_refuses(kind: str, text: str) -> None:
    value: object = None
    refusal: QuantityError | None = None
    try:
        value = READERS[kind](text)
    except QuantityError as raised:
        refusal = raised
    if refusal:
        assert refusal.code
        assert refusal.allowed
        assert refusal.advice
        assert len(refusal.read) <= 80
    else:
        assert not isinstance(value, float) or abs(value) < float("inf")
        assert not isinstance(value, Money) or value.amount.is_finite()
        assert not isinstance(value, Decimal)
