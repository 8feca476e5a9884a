"""Which colours a screen is taken to have: those of its EDID block, or those of sRGB."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import RangeError
from halfsilver.layout.design import Design
from halfsilver.model.job import Screen
from halfsilver.optics.spectra import SRGB_WHITE, screen_primaries, shares, stated_screen


def screen_colours(screen: Screen, assumed: list[str]) -> tuple[NDArray[np.float64], tuple[float, ...]]:
    """Spectra of red, green and blue at 1 cd/m2, and their shares in white; says what had to be assumed."""
    stated = screen.block.colours if screen.block is not None else None
    if stated is not None:
        try:
            found = stated_screen(stated)
        except RangeError as error:
            assumed.append(f"screen primaries and white of sRGB: the colours of its EDID are out of reach ({error})")
        else:
            assumed.append("spectra of diodes or lasers mixed to the screen's colours, which are those of its EDID")
            return found
    else:
        why = "" if screen.block is None else ", as its EDID gives no colours"
        assumed.append(f"screen primaries and white of sRGB{why}")
    primaries = screen_primaries()
    return primaries, tuple(shares(SRGB_WHITE, primaries).tolist())


def gamma_of(design: Design) -> float | None:
    """Exponent from signal to light that the screen states; None where there is no screen or it says nothing. [-]"""
    if design.facts.job.screen is None:
        return None
    block = design.facts.screen.screen.block
    return block.gamma if block is not None else None
