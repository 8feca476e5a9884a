"""Light levels in closed form: strips, lit surfaces, contrast in a lit room, two mirrors facing.

Scalars only and without NumPy. Luminance in cd/m2, illuminance in lx, fractions 0 to 1.
"""

from __future__ import annotations

from math import log, pi

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula


@formula(
    name="photometry.strip_luminance", source="Lambertian strip, one face", status="derived", unit="cd/m2", validity="even, matt diffuser"
)
def strip_luminance_cd_m2(*, flux_lm_m: float, width_mm: float) -> float:
    """Luminance of a strip that gives off ``flux_lm_m`` through a matt face: phi'/(pi w). [cd/m2]

    Examples
    --------
    >>> round(strip_luminance_cd_m2(flux_lm_m=1000, width_mm=10))
    31831
    """
    return _above_zero("luminous flux", flux_lm_m, least=0) / (pi * _above_zero("strip width", width_mm) / 1000)


@formula(
    name="photometry.strip_illuminance", source="long Lambertian strip facing a parallel plane", status="derived", unit="lx",
    validity="strip long against the distance and narrow, plane parallel to it",
)  # fmt: skip
def strip_illuminance_lx(*, flux_lm_m: float, distance_mm: float) -> float:
    """Illuminance under the centre line of a long strip: phi'/(2 d). [lx]

    Examples
    --------
    >>> round(strip_illuminance_lx(flux_lm_m=500, distance_mm=500), 6)
    500.0
    """
    return _above_zero("luminous flux", flux_lm_m, least=0) / (2 * _above_zero("distance", distance_mm) / 1000)


@formula(name="photometry.reflected_luminance", source="Lambertian reflector", status="derived", unit="cd/m2", validity="matt, evenly lit")
def reflected_luminance_cd_m2(*, reflectance: float, illuminance_lx: float) -> float:
    """Luminance of a lit matt surface: rho E/pi. [cd/m2]

    Examples
    --------
    >>> round(reflected_luminance_cd_m2(reflectance=0.5, illuminance_lx=300), 1)
    47.7
    """
    return _fraction("reflectance", reflectance) * _above_zero("illuminance", illuminance_lx, least=0) / pi


@formula(
    name="photometry.ambient_contrast", source="ambient contrast, the form of ISO 9241-305 and the IDMS", status="memory", unit="1",
    validity="contrast in the dark above 1",
)  # fmt: skip
def ambient_contrast(*, white_cd_m2: float, dark_contrast: float, added_cd_m2: float) -> float:
    """Contrast of a picture with light added over it: (Lw + Lr)/(Lw/CR + Lr). [-]

    Examples
    --------
    >>> round(ambient_contrast(white_cd_m2=350, dark_contrast=1000, added_cd_m2=3.81972), 4)
    84.8546
    """
    black = _above_zero("white luminance", white_cd_m2) / _above_zero("contrast", dark_contrast)
    added = _above_zero("added luminance", added_cd_m2, least=0)
    return (white_cd_m2 + added) / (black + added)


@formula(
    name="photometry.part_mirror_contrast", source="ambient contrast behind a part mirror, one pass each way", status="derived", unit="1",
    validity="single pass, unpolarised, values at the viewer's angle",
)  # fmt: skip
def part_mirror_contrast(*, transmittance: float, white_cd_m2: float, dark_contrast: float, added_cd_m2: float) -> float:
    """Contrast of a picture seen through a part mirror, with ``added_cd_m2`` over it: (T Lw + X)/(T Lw/CR + X). [-]

    Examples
    --------
    >>> round(part_mirror_contrast(transmittance=0.3, white_cd_m2=350, dark_contrast=1000, added_cd_m2=24.3437748), 4)
    5.2904
    """
    seen = _fraction("transmittance", transmittance) * white_cd_m2
    return ambient_contrast(white_cd_m2=seen, dark_contrast=dark_contrast, added_cd_m2=added_cd_m2)


@formula(
    name="photometry.part_mirror_veil", source="what a part mirror lays over the picture behind it", status="derived", unit="cd/m2",
    validity="single pass each way",
)  # fmt: skip
def part_mirror_veil_cd_m2(*, transmittance: float, reflectance: float, face_cd_m2: float, room_cd_m2: float) -> float:
    """Luminance over the picture: T^2 Lr from the screen's lit face and R Lroom mirrored. [cd/m2]

    Examples
    --------
    >>> round(part_mirror_veil_cd_m2(transmittance=0.3, reflectance=0.6, face_cd_m2=3.81972, room_cd_m2=40), 4)
    24.3438
    """
    passed = _fraction("transmittance", transmittance) ** 2 * _above_zero("face luminance", face_cd_m2, least=0)
    return passed + _fraction("reflectance", reflectance) * _above_zero("room luminance", room_cd_m2, least=0)


@formula(
    name="photometry.veil_for_contrast", source="ambient contrast behind a part mirror, solved for the added light", status="derived",
    unit="cd/m2", validity="wanted contrast above 1 and below the contrast in the dark",
)  # fmt: skip
def veil_for_contrast_cd_m2(*, transmittance: float, white_cd_m2: float, dark_contrast: float, contrast: float) -> float:
    """Most luminance that may lie over the picture for a wanted contrast: (T Lw - c T Lw/CR)/(c - 1). [cd/m2]

    Examples
    --------
    >>> round(veil_for_contrast_cd_m2(transmittance=0.3, white_cd_m2=350, dark_contrast=1000, contrast=15), 4)
    7.3875
    """
    if not 1 < contrast <= dark_contrast:
        raise RangeError(f"The wanted contrast is {contrast}; it must be above 1 and not above the screen's {dark_contrast}.")
    seen = _fraction("transmittance", transmittance) * white_cd_m2
    return seen * (1 - contrast / dark_contrast) / (contrast - 1)


@formula(
    name="photometry.screen_gain", source="two sheets in a row, all bounces", status="derived", unit="1",
    validity="one wavelength, angle and polarisation; R1, R2 are the reflectances that face each other",
)  # fmt: skip
def two_mirror_gain(*, T1: float, T2: float, R1: float, R2: float) -> float:
    """Share of a screen's light that passes two facing sheets: T1 T2/(1 - R1 R2). [-]

    Examples
    --------
    >>> round(two_mirror_gain(T1=0.5, T2=0.5, R1=0.5, R2=0.5), 6)
    0.333333
    """
    for value in (T1, T2, R1, R2):
        _fraction("transmittance or reflectance", value)
    if R1 * R2 == 1:
        raise RangeError("Two perfect mirrors: nothing passes and the sum over bounces has no end.")
    return T1 * T2 / (1 - R1 * R2)


@formula(
    name="photometry.echo_luminance", source="two mirrors facing, whole round trips", status="derived", unit="cd/m2",
    validity="one wavelength, angle and polarisation",
)  # fmt: skip
def echo_luminance_cd_m2(*, source_cd_m2: float, T1: float, R1: float, R2: float, round_trips: int) -> float:
    """Luminance of a light seen after so many whole round trips between two mirrors: T1 L (R1 R2)^k. [cd/m2]

    Examples
    --------
    >>> [round(echo_luminance_cd_m2(source_cd_m2=1, T1=0.3, R1=0.6, R2=0.9, round_trips=k), 4) for k in range(3)]
    [0.3, 0.162, 0.0875]
    """
    if round_trips < 0:
        raise RangeError(f"A number of round trips is {round_trips}; it must be 0 or more.")
    loop = _fraction("reflectance", R1) * _fraction("reflectance", R2)
    return _above_zero("source luminance", source_cd_m2, least=0) * _fraction("transmittance", T1) * loop**round_trips


@formula(
    name="photometry.round_trips_to", source="two mirrors facing, whole round trips", status="derived", unit="1",
    validity="R1 R2 between 0 and 1",
)  # fmt: skip
def round_trips_to(*, share: float, R1: float, R2: float) -> float:
    """Round trips after which a light has fallen to ``share`` of its first image: ln(share)/ln(R1 R2). [-]

    Examples
    --------
    >>> round(round_trips_to(share=0.01, R1=0.6, R2=0.9), 1)
    7.5
    """
    loop = _fraction("reflectance", R1) * _fraction("reflectance", R2)
    if not (0 < loop < 1 and 0 < share <= 1):
        raise RangeError("The share must be in 0 to 1, and the reflectances neither both 1 nor one of them 0.")
    return log(share) / log(loop)


@formula(
    name="photometry.point_illuminance", source="inverse square and cosine law", status="derived", unit="lx",
    validity="distance at least five times the source's size",
)  # fmt: skip
def point_illuminance_lx(*, intensity_cd: float, distance_mm: float, cosine: float = 1.0) -> float:
    """Illuminance from a small source: I cos a/r^2. [lx]

    Examples
    --------
    >>> point_illuminance_lx(intensity_cd=100, distance_mm=2000)
    25.0
    """
    return intensity_cd * _fraction("cosine", cosine) / (_above_zero("distance", distance_mm) / 1000) ** 2


@formula(
    name="photometry.merging_distance", source="one arc minute, 20/20 acuity", status="memory", unit="mm",
    validity="high contrast points on a dark ground",
)  # fmt: skip
def merging_distance_mm(*, pitch_mm: float) -> float:
    """Distance beyond which single diodes run into a line: 3438 pitches. [mm]

    Examples
    --------
    >>> round(merging_distance_mm(pitch_mm=1.0))
    3438
    """
    return 3438.0 * _above_zero("pitch", pitch_mm)


@formula(
    name="photometry.backdrop_luminance", source="image over backdrop of an angled pane", status="practice", unit="cd/m2",
    validity="7 to 1 or better is common practice",
)  # fmt: skip
def backdrop_luminance_cd_m2(*, reflectance: float, screen_cd_m2: float, transmittance: float, ratio: float = 7.0) -> float:
    """Brightest backdrop that an angled pane's image still covers by ``ratio``: R Lscreen/(ratio T). [cd/m2]

    Examples
    --------
    >>> round(backdrop_luminance_cd_m2(reflectance=0.1, screen_cd_m2=700, transmittance=0.5), 6)
    20.0
    """
    behind = _above_zero("ratio", ratio) * _above_zero("transmittance", _fraction("transmittance", transmittance))
    return _fraction("reflectance", reflectance) * screen_cd_m2 / behind


def _fraction(name: str, value: float) -> float:
    if not 0 <= value <= 1:
        raise RangeError(f"A {name} is {value}; it must be between 0 and 1.")
    return value


def _above_zero(name: str, value: float, *, least: float | None = None) -> float:
    if not (value > 0 if least is None else value >= least):
        raise RangeError(f"A {name} is {value}; it must be {'above 0' if least is None else f'{least} or more'}.")
    return value
