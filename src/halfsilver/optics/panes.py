"""Plain glass in closed form: one face, one pane, and what a pane does to an image.

Scalars only and without NumPy, so that layout and checks may call them. Angles are in air from the normal, in degrees.
Coated sheets: :mod:`halfsilver.optics.films`.
"""

from __future__ import annotations

from math import atan, cos, degrees, radians, sin, sqrt

from halfsilver.errors import RangeError
from halfsilver.model.formula import formula

_FRESNEL = "Fresnel's equations (handbook optics)"
_BULK = "index 1 or more, angle 0 to 90 deg, no absorption, pane thicker than the coherence length"


@formula(name="optics.fresnel_normal", source=_FRESNEL, status="derived", unit="1", validity="index 1 or more, in air")
def fresnel_normal(*, index: float) -> float:
    """Reflectance of one bare face at normal incidence: ((n - 1)/(n + 1))^2. [-]

    Examples
    --------
    >>> round(fresnel_normal(index=1.52), 5)
    0.04258
    """
    return ((_index(index) - 1) / (index + 1)) ** 2


@formula(name="optics.fresnel_s", source=_FRESNEL, status="derived", unit="1", validity="index 1 or more, 0 to 90 deg, in air")
def fresnel_s(*, index: float, incidence_deg: float) -> float:
    """Reflectance of one bare face for light polarised across the plane of incidence. [-]

    Examples
    --------
    >>> round(fresnel_s(index=1.52, incidence_deg=45), 5)
    0.09673
    """
    outside, inside = _cosines(index, incidence_deg)
    return ((outside - index * inside) / (outside + index * inside)) ** 2


@formula(name="optics.fresnel_p", source=_FRESNEL, status="derived", unit="1", validity="index 1 or more, 0 to 90 deg, in air")
def fresnel_p(*, index: float, incidence_deg: float) -> float:
    """Reflectance of one bare face for light polarised in the plane of incidence. [-]

    Examples
    --------
    >>> round(fresnel_p(index=1.52, incidence_deg=45), 5)
    0.00936
    """
    outside, inside = _cosines(index, incidence_deg)
    return ((index * outside - inside) / (index * outside + inside)) ** 2


@formula(name="optics.pane_from_face", source="incoherent sum over the bounces in a pane", status="derived", unit="1", validity=_BULK)
def pane_from_face(*, face_reflectance: float) -> float:
    """Reflectance of a clear pane from that of one face: 2 R/(1 + R). [-]

    Examples
    --------
    >>> round(pane_from_face(face_reflectance=0.04258), 6)
    0.081682
    """
    if not 0 <= face_reflectance <= 1:
        raise RangeError(f"A reflectance is {face_reflectance}; it must be between 0 and 1.")
    return 2 * face_reflectance / (1 + face_reflectance)


@formula(name="optics.pane_reflectance", source="Fresnel, with the incoherent sum over bounces", status="derived", unit="1", validity=_BULK)
def pane_reflectance(*, index: float, incidence_deg: float = 0.0) -> float:
    """Reflectance of a clear uncoated pane in unpolarised light: the mean of 2 R/(1 + R) for s and p. [-]

    Examples
    --------
    >>> round(pane_reflectance(index=1.52), 5), round(pane_reflectance(index=1.52, incidence_deg=45), 5)
    (0.08168, 0.09747)
    """
    s = pane_from_face(face_reflectance=fresnel_s(index=index, incidence_deg=incidence_deg))
    p = pane_from_face(face_reflectance=fresnel_p(index=index, incidence_deg=incidence_deg))
    return (s + p) / 2


@formula(
    name="optics.pane_transmittance", source="Fresnel, with the incoherent sum over bounces", status="derived", unit="1", validity=_BULK
)
def pane_transmittance(*, index: float, incidence_deg: float = 0.0) -> float:
    """Transmittance of a clear uncoated pane in unpolarised light: what is not reflected. [-]

    Examples
    --------
    >>> round(pane_transmittance(index=1.52), 5)
    0.91832
    """
    return 1 - pane_reflectance(index=index, incidence_deg=incidence_deg)


@formula(name="optics.brewster_angle", source="Brewster's law", status="derived", unit="deg", validity="index 1 or more, in air")
def brewster_angle_deg(*, index: float) -> float:
    """Angle of incidence at which p-polarised light is not reflected: atan n. [deg]

    Examples
    --------
    >>> round(brewster_angle_deg(index=1.52), 2)
    56.66
    """
    return degrees(atan(_index(index)))


@formula(name="optics.ghost_offset", source="second-surface ghost, across the beam", status="derived", unit="mm", validity=_BULK)
def ghost_offset_mm(*, thickness_mm: float, index: float, incidence_deg: float) -> float:
    """Distance across the beam between the images of a pane's two faces. [mm]

    2 t sin i cos i/sqrt(n^2 - sin^2 i).

    Examples
    --------
    >>> round(ghost_offset_mm(thickness_mm=6, index=1.52, incidence_deg=45), 3)
    4.459
    """
    outside, inside = _cosines(index, incidence_deg)
    return 2 * _length(thickness_mm) * sin(radians(incidence_deg)) * outside / (index * inside)


@formula(name="optics.ghost_plane_depth", source="second-surface ghost as a mirror plane", status="derived", unit="mm", validity=_BULK)
def ghost_plane_depth_mm(*, thickness_mm: float, index: float, incidence_deg: float) -> float:
    """Depth behind the front face at which a mirror in air would make the rear face's image: t cos i/sqrt(n^2 - sin^2 i). [mm]

    Examples
    --------
    >>> round(ghost_plane_depth_mm(thickness_mm=6, index=1.5, incidence_deg=0), 6)
    4.0
    """
    outside, inside = _cosines(index, incidence_deg)
    return _length(thickness_mm) * outside / (index * inside)


@formula(name="optics.image_shift", source="plane-parallel plate, paraxial", status="derived", unit="mm", validity="near normal incidence")
def image_shift_mm(*, thickness_mm: float, index: float) -> float:
    """How much nearer a pane brings what stands behind it: t (1 - 1/n). [mm]

    Examples
    --------
    >>> round(image_shift_mm(thickness_mm=6, index=1.52), 2)
    2.05
    """
    return _length(thickness_mm) * (1 - 1 / _index(index))


@formula(name="optics.ray_shift", source="plane-parallel plate, Snell's law", status="derived", unit="mm", validity="0 to 90 deg, in air")
def ray_shift_mm(*, thickness_mm: float, index: float, incidence_deg: float) -> float:
    """Sideways shift of a ray that passes a pane: t sin i (1 - cos i/(n cos r)). [mm]

    Examples
    --------
    >>> round(ray_shift_mm(thickness_mm=6, index=1.52, incidence_deg=45), 2)
    2.01
    """
    outside, inside = _cosines(index, incidence_deg)
    return _length(thickness_mm) * sin(radians(incidence_deg)) * (1 - outside / (index * inside))


@formula(
    name="optics.polarised_transmittance", source="law of Malus, for a linear polarisation split into s and p", status="derived", unit="1",
    validity="linearly polarised light",
)  # fmt: skip
def polarised_transmittance(*, T_s: float, T_p: float, to_plane_deg: float) -> float:
    """Transmittance for linearly polarised light, its axis ``to_plane_deg`` from the plane of incidence. [-]

    T = Ts sin^2 phi + Tp cos^2 phi. Serves reflectance alike.

    Examples
    --------
    >>> round(polarised_transmittance(T_s=0.6, T_p=0.8, to_plane_deg=90), 6)
    0.6
    """
    return T_s * sin(radians(to_plane_deg)) ** 2 + T_p * cos(radians(to_plane_deg)) ** 2


def _index(index: float) -> float:
    if not 1 <= index < 10:
        raise RangeError(f"A refractive index is {index}; in air it must be 1 or more (and below 10).")
    return index


def _length(thickness_mm: float) -> float:
    if not thickness_mm >= 0:
        raise RangeError(f"A thickness is {thickness_mm} mm; it must be 0 or more.")
    return thickness_mm


def _cosines(index: float, incidence_deg: float) -> tuple[float, float]:
    """Cosines outside and inside the glass."""
    if not 0 <= incidence_deg <= 90:
        raise RangeError(f"An incidence is {incidence_deg} deg; it must be between 0 and 90.")
    return cos(radians(incidence_deg)), sqrt(1 - (sin(radians(incidence_deg)) / _index(index)) ** 2)
