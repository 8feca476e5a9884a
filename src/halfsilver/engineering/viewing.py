"""How large a picture must be, how wide it looks, and at which height eyes are."""

from __future__ import annotations

from math import atan, degrees, radians, tan
from typing import Literal

from halfsilver.engineering.bounds import entry, positive, within
from halfsilver.model.formula import formula

ACUITY = 200.0  # DISCAS, basic decisions: distance over height of the smallest element, about 17 arc minutes [seen]
PIXELS_PER_RADIAN = 3438.0  # one arc minute a pixel [memory]
# Eye height [mm]: EN 12464-1 standing and seated [seen]; ISO 7250 range, lounge chair and wheelchair [memory or practice].
EYE_HEIGHT_MM = {
    "standing": (1400.0, 1600.0, 1750.0),
    "seated": (1100.0, 1200.0, 1300.0),
    "lounge": (1000.0, 1050.0, 1100.0),
    "wheelchair": (1090.0, 1195.0, 1300.0),
}
HEIGHTS_AWAY = {"inspection": 4.0, "reading": 6.0, "passive": 8.0}  # old rule of thumb [seen]


@formula(name="viewing.least_element", source="ANSI/INFOCOMM V202.01:2016 (DISCAS), basic decisions", status="seen")
def least_element(*, farthest_mm: float, picture_height_mm: float) -> float:
    """Smallest element, as a share of the picture's height, that the farthest viewer can use.

    Parameters
    ----------
    farthest_mm : float
        Distance of the farthest viewer. [mm]
    picture_height_mm : float
        Height of the picture. [mm]

    Returns
    -------
    float
        FV/(200 IH). [-]

    References
    ----------
    DISCAS, basic decision making: 1500 mm and 10 500 mm give 3.5 %. Seen.

    Examples
    --------
    >>> round(least_element(farthest_mm=10500, picture_height_mm=1500), 4)
    0.035
    """
    positive(farthest_mm=farthest_mm, picture_height_mm=picture_height_mm)
    return farthest_mm / (picture_height_mm * ACUITY)


@formula(name="viewing.farthest_basic", source="ANSI/INFOCOMM V202.01:2016 (DISCAS), basic decisions", status="seen", unit="mm")
def farthest_basic_mm(*, picture_height_mm: float, element: float) -> float:
    """Farthest viewer for basic decisions.

    Parameters
    ----------
    picture_height_mm : float
        Height of the picture. [mm]
    element : float
        Smallest element as a share of it. [-]

    Returns
    -------
    float
        200 IH EH. [mm]

    References
    ----------
    DISCAS. Seen.
    """
    positive(picture_height_mm=picture_height_mm, element=element)
    return ACUITY * picture_height_mm * element


@formula(name="viewing.farthest_analytical", source="ANSI/INFOCOMM V202.01:2016 (DISCAS), analytical decisions", status="memory", unit="mm")
def farthest_analytical_mm(*, picture_height_mm: float, pixels_high: int) -> float:
    """Farthest viewer who can tell single pixels, one arc minute each.

    Parameters
    ----------
    picture_height_mm : float
        Height of the picture. [mm]
    pixels_high : int
        Pixels over that height.

    Returns
    -------
    float
        3438 IH/V. [mm]

    References
    ----------
    DISCAS, analytical decision making. From memory.
    """
    positive(picture_height_mm=picture_height_mm, pixels_high=pixels_high)
    return PIXELS_PER_RADIAN * picture_height_mm / pixels_high


@formula(name="viewing.farthest_by_heights", source="old rule of 4, 6 and 8 heights", status="seen", unit="mm")
def farthest_by_heights_mm(*, picture_height_mm: float, use: str) -> float:
    """Farthest viewer by the old rule of thumb.

    Parameters
    ----------
    picture_height_mm : float
        Height of the picture. [mm]
    use : {"inspection", "reading", "passive"}
        What is done with the picture.

    Returns
    -------
    float
        4, 6 or 8 heights. [mm]

    References
    ----------
    Rule of thumb. Seen.
    """
    positive(picture_height_mm=picture_height_mm)
    return entry(HEIGHTS_AWAY, use, "use") * picture_height_mm


@formula(name="viewing.distance_for_angle", source="geometry", status="derived", unit="mm")
def distance_for_angle_mm(*, width_mm: float, angle_deg: float) -> float:
    """Distance at which a picture fills a horizontal angle.

    Parameters
    ----------
    width_mm : float
        Width of the picture. [mm]
    angle_deg : float
        Full angle: 30 is the least of SMPTE EG-18-1994, 40 a home-cinema guideline. [deg]

    Returns
    -------
    float
        w/(2 tan(angle/2)). [mm]

    References
    ----------
    Derived; published: 1.626 diagonals of 16:9 for 30 degrees, 1.197 for 40. Seen.
    """
    positive(width_mm=width_mm, angle_deg=angle_deg)
    within("angle_deg", angle_deg, 0, 179, "an angle of view")
    return width_mm / (2 * tan(radians(angle_deg / 2)))


@formula(name="viewing.angle", source="geometry", status="derived", unit="deg")
def viewing_angle_deg(*, width_mm: float, distance_mm: float) -> float:
    """Horizontal angle that a picture fills.

    Parameters
    ----------
    width_mm, distance_mm : float
        Width of the picture and distance of the eye. [mm]

    Returns
    -------
    float
        2 atan(w/(2 d)). [deg]

    References
    ----------
    Derived.
    """
    positive(width_mm=width_mm, distance_mm=distance_mm)
    return 2 * degrees(atan(width_mm / (2 * distance_mm)))


@formula(name="viewing.upward_gaze", source="geometry; 15 degrees comfortable at most", status="derived", unit="deg")
def upward_gaze_deg(*, top_mm: float, eye_mm: float, distance_mm: float) -> float:
    """How far up the eye looks to the top of a picture; comfortable to about 15 degrees (seen).

    Parameters
    ----------
    top_mm, eye_mm : float
        Top of the picture and eye above the floor. [mm]
    distance_mm : float
        Horizontal distance. [mm]

    Returns
    -------
    float
        Angle, negative when it looks down. [deg]

    References
    ----------
    Derived; the limit of 15 degrees seen.
    """
    positive(distance_mm=distance_mm)
    return degrees(atan((top_mm - eye_mm) / distance_mm))


@formula(
    name="viewing.eye_height",
    source="EN 12464-1; ISO 7250; ADA advisory",
    status="memory",
    unit="mm",
    validity="standing 1.6 m and seated 1.2 m seen",
)
def eye_height_mm(*, posture: str, part: Literal["low", "middle", "high"] = "middle") -> float:
    """Height of eyes above the floor.

    Parameters
    ----------
    posture : {"standing", "seated", "lounge", "wheelchair"}
        Posture.
    part : {"low", "middle", "high"}
        Of the people there are.

    Returns
    -------
    float
        Height. [mm]

    References
    ----------
    EN 12464-1: 1.6 m standing, 1.2 m seated (seen); 1.40 to 1.75 m standing, 1.09 to 1.30 m in a wheelchair (memory); lounge chair
    1.0 to 1.1 m and the range seated at a table common practice.
    """
    return entry(EYE_HEIGHT_MM, posture, "posture")[entry({"low": 0, "middle": 1, "high": 2}, part, "part")]


@formula(name="viewing.mirror_height", source="half of the height, flat mirror", status="derived", unit="mm")
def mirror_span_mm(*, person_mm: float, eye_mm: float) -> tuple[float, float]:
    """Bottom and top edge of the smallest flat mirror in which a standing person sees themselves whole.

    Parameters
    ----------
    person_mm, eye_mm : float
        Height of crown and eyes above the floor. [mm]

    Returns
    -------
    tuple of float
        Half the eye height, and half way from eye to crown. [mm]

    References
    ----------
    Derived: 1.70 m, eyes 1.60 m: 0.80 to 1.65 m, at any distance.
    """
    positive(person_mm=person_mm, eye_mm=eye_mm)
    within("eye_mm", eye_mm, 0, person_mm, "the height of the person")
    return eye_mm / 2, (eye_mm + person_mm) / 2
