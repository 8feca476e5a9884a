"""The shipped font holds every sign that drawings and documents print."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parents[2] / "src/halfsilver/data/fonts"
PRINTED = "0123456789½¼¾⅛⅜⅝⅞⁄′″°±×−–—≤≥≈←↑→↓↖↗↘↙µΩΔλθφ²³₂·…€ØŒß□■✓⚠\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"
SAID_MISSING = "⌀☐☑∠⊥"


@pytest.fixture(params=["Regular", "Bold"])
def font(request: pytest.FixtureRequest) -> TTFont:
    return TTFont(FONTS / f"Inter-{request.param}.ttf")


def test_signs_that_are_printed_are_there(font: TTFont) -> None:
    assert [sign for sign in PRINTED if ord(sign) not in font.getBestCmap()] == []


def test_the_readme_is_right_about_what_is_missing(font: TTFont) -> None:
    assert [sign for sign in SAID_MISSING if ord(sign) in font.getBestCmap()] == []
    assert all(sign in (FONTS / "README.md").read_text(encoding="utf-8") for sign in SAID_MISSING)


def test_tabular_figures_and_fractions_are_there_and_no_text_is_rewritten(font: TTFont) -> None:
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
    assert {"tnum", "frac", "numr", "dnom"} <= features
    assert features.isdisjoint({"calt", "liga", "dlig"})


def test_family_licence_and_embedding(font: TTFont) -> None:
    assert font["name"].getDebugName(1) == "Inter"
    assert font["OS/2"].fsType == 0  # installable embedding: no restriction (OpenType specification, OS/2 table)
    assert "SIL Open Font License" in font["name"].getDebugName(13)
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "OFL.txt").read_text(encoding="utf-8")
