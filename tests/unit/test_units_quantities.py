"""Every other kind of quantity: read, refused, bounded, written."""

from __future__ import annotations

import re
from dataclasses import FrozenInstanceError
from datetime import date
from decimal import Decimal

import pytest

from halfsilver.errors import QuantityError
from halfsilver.model.quantities import Quantity
from halfsilver.units.money import Money, read_money, write_money
from halfsilver.units.quantities import READERS, WRITERS, read_quantity, write_quantity
from halfsilver.units.values import read_date


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("angle", "30 deg", 30), ("angle", "30°", 30), ("angle", "-5.5 degrees", -5.5),
        ("mass", "21 kg", 21), ("mass", "500 g", 0.5), ("mass", "46 lb 8 oz", 46.5 * 0.45359237), ("mass", "46.5 lbs", 46.5 * 0.45359237),
        ("power", "110 W", 110), ("power", "1.2 kW", 1200),
        ("luminance", "900 cd/m2", 900), ("luminance", "900 cd/m²", 900), ("luminance", "900 cd / m²", 900), ("luminance",
        "900 nits", 900),
        ("illuminance", "150 lx", 150), ("illuminance", "150 lux", 150), ("illuminance", "10 fc", 10 / 0.09290304),
        ("temperature", "40 degC", 40), ("temperature", "40 °C", 40), ("temperature", "104 degF", 40), ("temperature", "23 C", 23),
        ("temperature", "-40 °F", -40), ("temperature", "40 deg C", 40), ("temperature", "300 K", 26.85), ("temperature", "40℃", 40),
        ("colour-temperature", "3000 K", 3000), ("colour-temperature", "3000K", 3000),
        ("percent", "2 %", 0.02), ("percent", "2%", 0.02), ("percent", "0.5 percent", 0.005),
        ("share", "0.02", 0.02), ("share", "2 %", 0.02), ("share", "1", 1),
        ("area", "2 m2", 2), ("area", "2 m²", 2), ("area", "10 sq ft", 0.9290304), ("area", "10 sq. ft.", 0.9290304), ("area",
        "1 in2", 0.00064516),
        ("flow", "6 l/s", 6), ("flow", "90 l/min", 1.5), ("flow", "60 cfm", 28.316846592),
        ("density", "2500 kg/m3", 2500), ("density", "2.5 g/cm³", 2500),
        ("voltage", "24 V", 24), ("current", "350 mA", 0.35), ("linear-power", "14.4 W/m", 14.4), ("linear-power", "3.048 W/ft", 10),
        ("pitch", "60 /m", 60), ("pitch", "60/m", 60), ("pitch", "60 per m", 60), ("pitch", "3.048 /ft", 10),
        ("duration", "30 min", 1800), ("duration", "1 h 30 min", 5400), ("duration", "1 h 30 s", 3630), ("duration", "1.5 h", 5400),
        ("duration", "2 days", 172_800),
        ("number", "-0.5", -0.5), ("number", ".5", 0.5), ("count", "3", 3), ("aspect", "16:9", (16, 9)), ("aspect", "21 : 9", (21, 9)),
        ("fraction", "1/32", 32), ("fraction", "½", 2), ("pattern", "400 x 200 mm", (400, 200)), ("pattern",
        "8 in × 8 in", (203.2, 203.2)),
        ("pattern", "3 1/2 x 4 in", (88.9, 101.6)), ("date", "2026-03-04", "2026-03-04"), ("amount", "12.50", "12.50"), ("currency",
        "usd", "USD"),
        ("money", "12.50 USD", Money(Decimal("12.50"), "USD")), ("money", "-3 eur", Money(Decimal(-3), "EUR")), ("length", "1 in", 25.4),
    ],
)  # fmt: skip
def test_reading(kind: str, text: str, value: object) -> None:
    read = read_quantity(kind, text)
    assert read == (pytest.approx(value, rel=1e-14) if isinstance(value, int | float | tuple) else value)
    assert READERS[kind](text) == read


@pytest.mark.parametrize(
    ("kind", "text", "code", "words"),
    [
        ("angle", "30", "bare-number", "An angle carries its unit.  Write 30 deg."),
        ("angle", "1 rad", "unknown-unit", "An angle is written in deg."),
        ("mass", "21", "bare-number", "Write 21 kg or 21 lb."),
        ("mass", "46 lb 17 oz", "part-too-large", "Beside lb there are fewer than 16 oz.  Write 47 lb 1 oz."),
        ("mass", "46 lb 8", "bare-number", "Write 46 lb 8 oz."),
        ("mass", "46 1/2 lb", "fraction-needs-inch", "Write 46.5 lb."),
        ("luminance", "5 lx", "unknown-unit", "A luminance is written in cd/m2 or fL."),
        ("temperature", "40", "bare-number", "Write 40 degC or 40 degF."),
        ("percent", "0.02", "bare-number", "A share of 0.02 is 2 %."),
        ("share", "1/2", "bare-number", "Write 0.5 %."),
        ("duration", "1 min 90 s", "part-too-large", "Write 2 min 30 s."),
        ("number", "5 mm", "number-has-unit", "This number has no unit.  Write 5."),
        ("number", "1_000", "thousands-separator", "Write 1000."),
        ("number", "1,5", "decimal-comma", "Write 1.5."),
        ("number", "1/2", "fraction-needs-inch", "Write 0.5."),
        ("number", "1e3", "exponent", "Write 1000."),
        ("number", "nan", "not-a-number", "A number is a finite number."),
        ("count", "1.5", "not-whole", "A count is a whole number, 0 or more."),
        ("count", "2.0", "not-whole", "Write 2, for example."),
        ("count", "-1", "not-whole", "Write 0, for example."),
        ("aspect", "2.35:1", "not-an-aspect", "Write it like 16:9."),
        ("aspect", "0:9", "not-an-aspect", "two whole numbers"),
        ("fraction", "1/33", "not-a-finest-fraction", "1/2, 1/4, 1/8, 1/16, 1/32 or 1/64"),
        ("fraction", "32", "not-a-finest-fraction", "Write it like 1/32."),
        ("pattern", "400", "not-a-pattern", "Write it like 400 x 400 mm."),
        ("pattern", "8 x 8", "bare-number", "A length carries its unit."),
        ("date", "04.03.2026", "not-a-date", "Write it like 2026-03-04."),
        ("date", "2026-02-30", "not-a-date", "of the calendar"),
        ("date", "2026-3-4", "not-a-date", "ISO 8601"),
        ("money", "12.50", "currency-missing", "Write 12.50 USD, for example."),
        ("money", "$12", "unreadable", "Write it like 12.50 USD."),
        ("money", "12 US", "not-a-currency", "three letters of ISO 4217"),
        ("money", "1,250.00 USD", "thousands-separator", "Write 1250.00 USD."),
        ("money", "nan USD", "not-a-number", "Money is a finite number."),
        ("amount", "-3", "unreadable", "not negative"),
        ("amount", "12.50 USD", "unreadable", "plain decimal"),
    ],
)  # fmt: skip
def test_refusals(kind: str, text: str, code: str, words: str) -> None:
    with pytest.raises(QuantityError, match=re.escape(words)) as caught:
        read_quantity(kind, text)
    assert caught.value.code == code


@pytest.mark.parametrize(
    ("kind", "text", "least", "most", "words"),
    [
        ("length", "900 in", 0, 20_000, "From 0 in to 787 25/64 in.  Write 787 25/64 in or less."),
        ("length", "70 ft", 0, 20_000, "From 0 ft to 65.61 ft."),
        ("length", "30 m", 0, 20_000, "From 0 m to 20 m."),
        ("length", "0 mm", 0.01, 20_000, "Write 0.01 mm or more."),
        ("length", "0 in", 0.01, 20_000, "Write 1/64 in or more."),
        ("length", "-1/4 in", 0, None, "0 in or more."),
        ("length", "-60 in", -1000, 1000, "From -39 23/64 in to 39 23/64 in."),
        ("temperature", "300 degF", -40, 120, "From -40 degF to 248 degF."),
        ("percent", "120 %", 0, 1, "From 0 % to 100 %."),
        ("share", "2", 0, 1, "From 0 to 1."),
        ("count", "0", 1, 500, "From 1 to 500.  Write 1 or more."),
        ("money", "5 USD", None, 4, "4 or less."),
    ],
)  # fmt: skip
def test_bounds_are_told_in_the_unit_that_was_written(kind: str, text: str, least: float | None, most: float | None, words: str) -> None:
    with pytest.raises(QuantityError, match=re.escape(words)) as caught:
        read_quantity(kind, text, least=least, most=most)
    assert caught.value.code == "out-of-range"
    if (advice := re.match("Write (.*) or ", caught.value.advice)) and kind != "money":
        read_quantity(kind, advice[1], least=least, most=most)


def test_bounds_are_inclusive_in_every_unit() -> None:
    assert read_quantity("temperature", "248 degF", least=-40.0, most=120.0) == 120.0
    assert read_quantity("length", "1 in", least=25.4, most=25.4) == 25.4
    assert read_quantity("percent", "100 %", least=0.0, most=1.0) == 1.0


@pytest.mark.parametrize(
    ("kind", "value", "text"),
    [
        ("mass", 21.0, "21 kg"), ("luminance", 0.05, "0.05 cd/m2"), ("temperature", 40.0, "40 degC"), ("percent", 0.02, "2 %"),
        ("angle", 30.0, "30 deg"),
        ("colour-temperature", 3000.0, "3000 K"), ("linear-power", 14.4, "14.4 W/m"), ("pitch", 60.0, "60 /m"),
        ("duration", 5400.0, "1 h 30 min"),
        ("duration", 0.0, "0 s"), ("duration", 59.7, "1 min"), ("aspect", (16, 9), "16:9"), ("fraction", 32, "1/32"), ("count", 3, "3"),
        ("pattern", (400.0, 200.0), "400 x 200 mm"), ("money", Money(Decimal("2.345"), "USD"), "2.35 USD"),
        ("length", 1466.85, "1466.85 mm"),
        ("number", 0.1 + 0.2, "0.3"),
    ],
)  # fmt: skip
def test_writing(kind: str, value: object, text: str) -> None:
    assert write_quantity(kind, value) == text


def test_writing_in_another_unit() -> None:
    # 21 / 0.45359237 = 46.297; 40 x 9/5 + 32 = 104; by hand.
    assert write_quantity("mass", 21.0, unit="lb", places=1) == "46.3 lb"
    assert write_quantity("temperature", 40.0, unit="degF") == "104 degF"
    assert write_quantity("illuminance", 150.0, places=0) == "150 lx"


def test_every_kind_has_a_reader_and_a_writer() -> None:
    assert set(READERS) == set(WRITERS)
    named = set(re.findall(r"[a-z-]+", (Quantity.__doc__ or "").split("is one of:")[1]))
    assert set(READERS) <= named


def test_money_is_decimal_and_stays_so() -> None:
    money = read_money("0.10 USD")
    assert money + money.times(2) == Money(Decimal("0.30"), "USD")
    assert write_money(Money(Decimal("-0.005"), "USD")) == "-0.01 USD"
    assert write_money(Money(Decimal("1E+3"), "USD")) == "1000.00 USD"
    with pytest.raises(ValueError, match="do not add up"):
        _ = money + Money(Decimal(1), "EUR")
    with pytest.raises(ValueError, match="three capital letters"):
        Money(Decimal("NaN"), "USD")
    with pytest.raises(ValueError, match="three capital letters"):
        Money(Decimal(1), "usd")
    with pytest.raises(FrozenInstanceError):
        money.currency = "EUR"  # type: ignore[misc]


def test_a_date_is_a_date() -> None:
    assert read_date("2028-02-29") == date(2028, 2, 29)


def test_an_unknown_kind_is_a_slip_of_the_program() -> None:
    with pytest.raises(KeyError):
        read_quantity("colour", "red")
