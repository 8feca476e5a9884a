"""The light of a strip: white of a colour temperature, or three colours set apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import JobError, Problem, RangeError
from halfsilver.model.job import ColourMix, Lights
from halfsilver.model.workshop import LightKind
from halfsilver.optics.spectra import SRGB_WHITE, colour_led, led_mix, white_led

STRIP_K = 3000.0  # assumed where nobody says: a warm white strip
Spectrum = NDArray[np.float64]
WHITE_DIODES, THREE_COLOURS = "a strip's spectrum of blue-pumped white diodes", "a strip's spectrum of three-colour diodes"


def strip_light(lights: Lights, kind: LightKind, assumed: list[str]) -> tuple[Spectrum, float]:
    """Spectrum of a strip at 1 cd/m2, and its share of the flux that the catalogue names; says what had to be assumed.

    Raises
    ------
    JobError
        If the strip cannot make that colour.
    """
    try:
        if lights.mix is not None:
            return _mixed(lights, lights.mix, kind, assumed)
        if lights.colour is None and kind.colour == "rgb":
            assumed += ["a strip of three colours mixed to white of sRGB (lights.mix)", THREE_COLOURS]
            return colour_led(xy=SRGB_WHITE), 1.0
        if lights.colour is None:
            assumed.append(f"strip of {STRIP_K:g} K (lights.colour)")
        assumed.append(WHITE_DIODES)
        return white_led(colour_temperature_k=lights.colour or STRIP_K), 1.0
    except RangeError as error:
        path, read, advice = (
            ("lights.colour", f"{lights.colour:g} K", "Choose 2000 to 12 000 K.")
            if lights.mix is None
            else ("lights.mix", "", "Set a colour above 0, or leave the lights out.")
        )
        raise JobError([Problem(code="colour-out-of-reach", path=path, read=read, allowed=str(error), advice=advice)]) from None


def _mixed(lights: Lights, mix: ColourMix, kind: LightKind, assumed: list[str]) -> tuple[Spectrum, float]:
    if kind.colour != "rgb":
        words, advice = (
            f"{kind.id} is {kind.colour}: its colours cannot be set apart.",
            "Choose a strip of the colour rgb, or leave mix out.",
        )
        raise JobError([Problem(code="no-colours-to-mix", path="lights.mix", allowed=words, advice=advice)])
    if lights.colour is not None:
        words = "A strip has a colour temperature or a mix of its colours, not both."
        raise JobError([Problem(code="two-answers", path="lights.mix", allowed=words, advice="Leave one of them out.")])
    assumed += ["all colours of the strip at full give the white of sRGB", THREE_COLOURS]
    return led_mix(red=mix.red, green=mix.green, blue=mix.blue)
