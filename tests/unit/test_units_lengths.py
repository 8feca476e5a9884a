"""Lengths: what is read, what is refused and in which words, how they are written."""

from __future__ import annotations

import pytest

from halfsilver.errors import QuantityError, RangeError
from halfsilver.units.lengths import (
    from_units_8000,
    is_exact,
    read_length_mm,
    to_units_8000,
    write_length,
    write_length_full,
)

INCH = 25.4  # yard and pound agreement of 1959, exact


@pytest.mark.parametrize(
    "text",
    [
        "57 3/4 in", '57 3/4"', '57-3/4"', "57 3/4 inches", "4' 9 3/4\"", "4 ft 9 3/4 in", "57.75 in", "57¾″", "57 3⁄4 in", "57³⁄₄ in",
        '57-¾"', "57–3/4 in", "4'-9 3/4\"", "4’ 9 3/4”", "4′ 9¾″", "4 feet 9 3/4 inches", "4ft 9.75in", "57 3/4''", "  57  3/4  in ",
        "57\u00a03/4\u2009in", "57 3/4 in.", "57 3/4 IN", "57 48/64 in", "+57 3/4 in", "4 ft. 9 3/4 in.", "57.7500000000000000 in",
        "1466.85 mm", "146.685 cm", "1.46685 m", "4.8125 ft",
    ],
)  # fmt: skip
def test_one_length_in_every_spelling(text: str) -> None:
    # 57.75 x 25.4 = 1466.85, by hand.
    assert read_length_mm(text) == 1466.85


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5' 3 1/2\"", 63.5), ("63-1/2 in", 63.5), ('63.5"', 63.5), ("4'", 48), ("0' 6\"", 6), ("4' 0\"", 48), ("3/4 in", 0.75),
        (".5 in", 0.5),
        ("-1/8 in", -0.125), ("− 1/8 in", -0.125), ("-4' 6\"", -54), ("1/64 in", 1 / 64), ("0 in", 0), ("4ft3in", 51), ("½ in", 0.5),
        ("12⅜ in", 12.375), ("0/4 in", 0),
    ],
)  # fmt: skip
def test_inches(text: str, inches: float) -> None:
    assert read_length_mm(text) == pytest.approx(inches * INCH, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("53.25", "bare-number", "A length carries its unit.  Write 53.25 in or 53.25 mm."),
        ("-53.25", "bare-number", "Write -53.25 in or -53.25 mm."),
        ("57 3/4", "bare-number", "Write 57 3/4 in."),
        ("4' 9 3/4", "bare-number", "Write 4' 9 3/4 in."),
        ("5 1/8 mm", "fraction-needs-inch", "Fractions are read for inches only.  Write 5.125 mm."),
        ("-1/2 cm", "fraction-needs-inch", "Write -0.5 cm."),
        ("4 1/2 ft", "fraction-needs-inch", "Write 4.5 ft."),
        ("5⅓ mm", "fraction-needs-inch", "Write 5.333 mm."),
        ("57 yd", "unknown-unit", 'A length is written in mm, cm, m, in or ft.  Write one of them instead of "yd".'),
        ("57 inchs", "unknown-unit", 'Write inches instead of "inchs".'),
        ("5 m2", "unknown-unit", 'instead of "m2"'),
        ("5² mm", "unknown-unit", "A length is written in"),
        ("57 3/128 in", "fraction-too-fine",
        "The finest fraction of an inch is 1/64.  Write 57 1/32 in, the nearest 1/64, or 57.0234 in."),
        ("1/3 in", "fraction-denominator",
        "halves, quarters, 8ths, 16ths, 32nds or 64ths.  Write 21/64 in, the nearest 1/64, or 0.3333 in."),
        ("⅙ in", "fraction-denominator", "Write 11/64 in"),
        ("3/0 in", "fraction-denominator", "lower number is not 0"),
        ("5/4 in", "fraction-improper", "Write 1 1/4 in."),
        ("57 5/4 in", "fraction-improper", "Write 58 1/4 in."),
        ("57.5 1/4 in", "decimal-and-fraction", "decimals or a fraction, not both"),
        ("nan mm", "not-a-number", "A length is a finite number."),
        (".inf", "not-a-number", "A length is a finite number."),
        ("-inf in", "not-a-number", "A length is a finite number."),
        ("1e3 mm", "exponent", "without an exponent.  Write 1000 mm."),
        ("2.5e-3 m", "exponent", "Write 0.0025 m."),
        ("1e999 mm", "exponent", "written out"),
        ("", "empty", "A length is due here.  Write it like 57 3/4 in."),
        (" \u00a0", "empty", "A length is due here."),
        ("4' 13\"", "part-too-large", "Beside ft there are fewer than 12 in.  Write 5 ft 1 in."),
        ("4' 12\"", "part-too-large", "Write 5 ft."),
        ("-4' 13 3/4\"", "part-too-large", "Write -5 ft 1 3/4 in."),
        ("4.5 ft 3 in", "part-not-whole", "Only the in at the end may have a part.  Write 4 ft 9 in."),
        ("57,75 in", "decimal-comma", "Decimals are written with a point.  Write 57.75 in."),
        ("1,467 mm", "thousands-separator", "Write 1467 mm, or 1.467 mm if the comma is a decimal comma."),
        ("1 467 mm", "thousands-separator", "Write 1467 mm."),
        ("1_467 mm", "thousands-separator", "Write 1467 mm."),
        ("1,467.5 mm", "thousands-separator", "Write 1467.5 mm."),
        ("1 m 20 cm", "mixed-units", "A length has one unit, or ft and in in this order.  Write 1.2 m."),
        ("9 in 4 ft", "mixed-units", "Write 4 ft 9 in."),
        ("57 - 3/4 in", "unreadable", "Write it like 57.75 or 57 3/4."),
        ("--5 in", "unreadable", "A length is a number and its unit."),
        ("in", "unreadable", "A length is a number and its unit.  Write it like 57 3/4 in."),
        ("about 57 in", "unreadable", "A length is a number and its unit."),
        ("5 in -3 in", "unreadable", "A length is a number and its unit."),
        ("٣ in", "unreadable", "A length is a number and its unit."),
        ("1.2.3 in", "unreadable", "A number is decimal, or whole and fraction."),
    ],
)  # fmt: skip
def test_refusals_say_what_to_write(text: str, code: str, words: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_length_mm(text)
    assert caught.value.code == code
    assert words in str(caught.value)
    assert caught.value.read == text or not text.strip()


def test_an_overlong_text_is_shortened_in_its_message() -> None:
    with pytest.raises(QuantityError, match="A length has at most 80 characters") as caught:
        read_length_mm("9" * 10_000 + " mm")
    assert caught.value.code == "too-long"
    assert caught.value.read == "9" * 39 + "…"


@pytest.mark.parametrize(
    "text",
    ["5 1/8 mm", "57 3/128 in", "1/3 in", "57 5/4 in", "1e3 mm", "4' 13 3/4\"", "4.5 ft 3 in", "57,75 in", "1,467 mm", "1 m 20 cm", "5"],
)  # fmt: skip
def test_following_the_advice_works(text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_length_mm(text)
    wanted = caught.value.advice.removeprefix("Write ").removesuffix(".")
    for alternative in (
        wanted.replace(", the nearest 1/64", "").replace(" if the comma is a decimal comma", "").replace(", or", " or").split(" or ")
    ):
        read_length_mm(alternative)


# Nearest 1/n is floor(x n + 1/2)/n, then reduced. Derived by hand.
@pytest.mark.parametrize(
    ("inches", "fraction", "shown"),
    [
        (47.94, 16, "47 15/16 in"), (23.70, 16, "23 11/16 in"), (33.359, 16, "33 3/8 in"), (12.97, 32, "12 31/32 in"),
        (11.98, 16, "12 in"),
        (1211.5 / INCH, 16, "47 11/16 in"), (1211.5 / INCH, 32, "47 11/16 in"), (53.25, 32, "53 1/4 in"), (0.75, 32, "3/4 in"),
        (-0.125, 32, "-1/8 in"), (0, 32, "0 in"), (-0.001, 32, "0 in"), (23.999, 32, "24 in"), (-11.98, 16, "-12 in"), (0.5, 1, "1 in"),
        (-0.5, 1, "-1 in"), (1 / 64, 32, "1/32 in"), (-1 / 64, 32, "-1/32 in"),
    ],
)  # fmt: skip
def test_inches_round_first_and_split_afterwards(inches: float, fraction: int, shown: str) -> None:
    assert write_length(inches * INCH, units="in", fraction=fraction) == shown


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        (57.75, "4 ft 9 3/4 in"), (48, "4 ft"), (9.75, "9 3/4 in"), (0, "0 in"), (-57.75, "-4 ft 9 3/4 in"), (11.999, "1 ft"),
        (59.999, "5 ft"),
        (48.25, "4 ft 1/4 in"),
    ],
)  # fmt: skip
def test_feet(inches: float, shown: str) -> None:
    assert write_length(inches * INCH, units="in", feet=True) == shown


@pytest.mark.parametrize(
    ("value_mm", "shown"), [(1467.0, "1467 mm"), (1466.85, "1466.9 mm"), (1466.94, "1466.9 mm"), (-0.04, "0 mm"), (-3.175, "-3.2 mm"),
    (0.05, "0.1 mm")]
)  # fmt: skip
def test_millimetres(value_mm: float, shown: str) -> None:
    assert write_length(value_mm, units="mm") == shown


def test_a_file_that_is_read_again_keeps_the_length() -> None:
    assert write_length_full(57.75 * INCH, units="in") == "57 3/4 in"
    assert write_length_full(1467.0, units="in") == "57.755906 in"
    assert write_length_full(1466.85, units="mm") == "1466.85 mm"
    assert write_length_full(53.25 * INCH, units="mm") == "1352.55 mm"


def test_whether_the_shown_length_is_the_length() -> None:
    assert is_exact(53.25 * INCH, units="in", fraction=4)
    assert not is_exact(53.125 * INCH, units="in", fraction=4)
    assert is_exact(0.1 + 0.2, units="mm")
    assert not is_exact(1466.85, units="mm")


@pytest.mark.parametrize("fraction", [0, 3, 12, 128, -2])
def test_a_finest_fraction_that_no_tape_has(fraction: int) -> None:
    with pytest.raises(RangeError, match="1, 2, 4, 8, 16, 32 or 64"):
        write_length(10.0, units="in", fraction=fraction)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_no_length_is_infinite(value: float) -> None:
    with pytest.raises(RangeError, match="finite"):
        write_length(value, units="mm")


def test_the_cutting_grid_holds_both_systems() -> None:
    # 25.4/64 x 8000 = 3175 exactly.
    assert to_units_8000(INCH / 64) == 3175
    assert to_units_8000(2440.0) == 19_520_000
    assert from_units_8000(3175) == INCH / 64
