"""What lights do to eyes and cameras: discomfort glare of bright strips, and flicker of a dimmer that switches."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, log10

from halfsilver.engineering.bounds import exceeds, not_negative, positive
from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

GLARE_LIMIT = 22.0  # EN 12464-1, halls, lounges and other places to stay in [memory]
LOW_RISK_PER_HZ = 0.0008  # IEEE 1789-2015: modulation 0.08 f percent [memory]
LOW_RISK_HZ = 1250.0  # from here on even full modulation counts as low risk [memory]
CAMERA_HZ = 3000.0  # IEEE 1789-2015: no observable effect at full modulation [memory]


@formula(
    name="viewing.glare", source="CIE 117-1995, unified glare rating", status="seen",
    validity="sources of 0.0003 to 0.1 sr near the line of sight",
)  # fmt: skip
def glare_rating(*, luminances_cd_m2: Sequence[float], solid_angles_sr: Sequence[float], background_cd_m2: float) -> float:
    """Unified glare rating of bright sources with the eye turned towards them.

    Parameters
    ----------
    luminances_cd_m2, solid_angles_sr : sequence of float
        Luminance towards the eye and solid angle of each source. [cd/m2, sr]
    background_cd_m2 : float
        Mean luminance of what the eye sees beside them. [cd/m2]

    Returns
    -------
    float
        8 log10(0.25/Lb sum(L^2 w)); 10 is not noticed, 19 is the limit of an office, 28 hardly bearable. [-]

    Raises
    ------
    RangeError
        If the two sequences differ in length.

    References
    ----------
    CIE 117-1995, with the position index 1: straight at it, the worst. Formula seen in public handbooks.

    Examples
    --------
    >>> round(glare_rating(luminances_cd_m2=[1000], solid_angles_sr=[0.004], background_cd_m2=10), 9)
    16.0
    """
    if len(luminances_cd_m2) != len(solid_angles_sr):
        raise RangeError("luminances_cd_m2 and solid_angles_sr must be equally long")
    positive(background_cd_m2=background_cd_m2)
    seen = fsum(L * L * w for L, w in zip(luminances_cd_m2, solid_angles_sr, strict=True))
    positive(glare=seen)
    return 8 * log10(0.25 / background_cd_m2 * seen)


@formula(name="viewing.dim_for_glare", source="inverse of viewing.glare", status="derived")
def dim_for_glare(*, rating: float, limit: float = GLARE_LIMIT) -> float:
    """Share of its present light at which a source keeps a rating.

    Parameters
    ----------
    rating, limit : float
        Rating now and wanted. [-]

    Returns
    -------
    float
        10^((limit - rating)/16), at most 1. [-]

    References
    ----------
    Derived: the rating goes with the square of the luminance.
    """
    share: float = 10 ** ((limit - rating) / 16)
    return min(1.0, share)


@formula(name="viewing.flicker_limit", source="IEEE 1789-2015, low-risk practice", status="memory", validity="90 Hz and more")
def flicker_limit(*, frequency_hz: float) -> float:
    """Modulation of a light that counts as low risk for people.

    Parameters
    ----------
    frequency_hz : float
        Of the switching. [Hz]

    Returns
    -------
    float
        0.0008 f, at most 1; nothing below 90 Hz. A dimmer that switches modulates by 1. [-]

    References
    ----------
    IEEE 1789-2015: 0.08 f percent. From memory.
    """
    not_negative(frequency_hz=frequency_hz)
    return 0.0 if exceeds(90.0, frequency_hz) else min(1.0, LOW_RISK_PER_HZ * frequency_hz)
