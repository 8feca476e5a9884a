"""Heat from surfaces: air, natural convection, radiation, conduction, touch.

Temperatures in degrees Celsius at every signature, kelvin inside. The limits a screen's maker gives for the air at its own intake come
first; a tester with a probe comes last.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from halfsilver.engineering.bounds import entry, not_negative, positive, within
from halfsilver.model.formula import formula
from halfsilver.units.constants import STEFAN_BOLTZMANN_W_M2_K4
from halfsilver.units.factors import STANDARD_GRAVITY_M_S2, ZERO_CELSIUS_K

Facing = Literal["vertical", "up", "down"]

AIR_GAS_CONSTANT = 287.05  # J/kgK, dry air [memory]
ATMOSPHERE_PA = 101_325.0
# Dry air at one atmosphere: degC, conductivity W/mK, viscosity Pa s, heat capacity J/kgK.
# From CoolProp 7 (Lemmon and others 2000, Lemmon and Jacobsen 2004).
AIR = (
    (-20.0, 0.022812, 1.6201e-5, 1005.5), (0.0, 0.024360, 1.7218e-5, 1005.7), (20.0, 0.025874, 1.8206e-5, 1006.1),
    (40.0, 0.027354, 1.9165e-5, 1006.9), (60.0, 0.028804, 2.0099e-5, 1008.0), (80.0, 0.030225, 2.1009e-5, 1009.5),
    (100.0, 0.031620, 2.1896e-5, 1011.2),
)  # fmt: skip
AIR_STEP_K = 20.0
# IEC 62368-1 Table 38, TS1, room at 25 degC: seen are 48 for wood, 77 for plastic and 70 for metal; the rest from memory.
TOUCH_DEGC = {
    "worn": {"metal": 43.0, "glass": 43.0, "plastic": 43.0, "wood": 43.0},
    "held over 1 min": {"metal": 48.0, "glass": 48.0, "plastic": 48.0, "wood": 48.0},
    "held to 1 min": {"metal": 51.0, "glass": 56.0, "plastic": 60.0, "wood": 60.0},
    "touched to 10 s": {"metal": 60.0, "glass": 71.0, "plastic": 77.0, "wood": 107.0},
    "not to be touched": {"metal": 70.0, "glass": 85.0, "plastic": 94.0, "wood": 140.0},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Dry air at one atmosphere.

    Parameters
    ----------
    density_kg_m3, conductivity_w_mk, viscosity_m2_s, diffusivity_m2_s, heat_capacity_j_kgk, prandtl : float
        Viscosity is the kinematic one.
    """

    density_kg_m3: float
    conductivity_w_mk: float
    viscosity_m2_s: float
    diffusivity_m2_s: float
    heat_capacity_j_kgk: float
    prandtl: float


def kelvin(degc: float) -> float:
    """Absolute temperature. [K]"""
    return degc + ZERO_CELSIUS_K


@formula(name="heat.air", source="table from CoolProp, density by the gas law", status="oracle", validity="-20 to 100 degC, one atmosphere")
def air_at(*, temperature_degc: float) -> Air:
    """Properties of dry air.

    Parameters
    ----------
    temperature_degc : float
        Temperature, -20 to 100. [degC]

    Returns
    -------
    Air

    References
    ----------
    Entries every 20 K from CoolProp, straight lines between; within 0.1 % of it. Oracle.
    """
    within("temperature_degc", temperature_degc, AIR[0][0], AIR[-1][0], "the table of air")
    steps = (temperature_degc - AIR[0][0]) / AIR_STEP_K
    row = min(max(int(steps), 0), len(AIR) - 2)
    low, high, share = AIR[row], AIR[row + 1], steps - row
    k, mu, cp = (a + share * (b - a) for a, b in zip(low[1:], high[1:], strict=True))
    rho = ATMOSPHERE_PA / (AIR_GAS_CONSTANT * kelvin(temperature_degc))
    return Air(
        density_kg_m3=rho,
        conductivity_w_mk=k,
        viscosity_m2_s=mu / rho,
        diffusivity_m2_s=k / (rho * cp),
        heat_capacity_j_kgk=cp,
        prandtl=mu * cp / k,
    )


@formula(name="heat.rayleigh", source="definition", status="derived")
def rayleigh(
    *,
    rise_k: float,
    length_mm: float,
    expansion_per_k: float,
    viscosity_m2_s: float,
    diffusivity_m2_s: float,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2,
) -> float:
    """Rayleigh number of a warm surface.

    Parameters
    ----------
    rise_k : float
        Surface over surroundings. [K]
    length_mm : float
        Height of a vertical plate; area over perimeter of a level one. [mm]
    expansion_per_k : float
        1/T of the film for a gas. [1/K]
    viscosity_m2_s, diffusivity_m2_s : float
        Of the film. [m2/s]
    gravity_m_s2 : float
        Acceleration of gravity. [m/s2]

    Returns
    -------
    float
        g beta dT L^3/(nu alpha). [-]

    References
    ----------
    Definition. Derived.
    """
    not_negative(rise_k=rise_k)
    positive(length_mm=length_mm, expansion_per_k=expansion_per_k, viscosity_m2_s=viscosity_m2_s, diffusivity_m2_s=diffusivity_m2_s)
    return gravity_m_s2 * expansion_per_k * rise_k * (length_mm * 1e-3) ** 3 / (viscosity_m2_s * diffusivity_m2_s)


@formula(name="heat.nusselt_vertical", source="Churchill and Chu 1975", status="seen", validity="all Rayleigh numbers to 1e12")
def nusselt_vertical(*, rayleigh_number: float, prandtl: float) -> float:
    """Mean Nusselt number of a vertical plate in still air.

    Parameters
    ----------
    rayleigh_number : float
        On the height. [-]
    prandtl : float
        Of the film. [-]

    Returns
    -------
    float
        Nusselt number. [-]

    References
    ----------
    Churchill and Chu, *Int. J. Heat Mass Transfer* 18 (1975) 1323-1329. Seen.

    Examples
    --------
    >>> round(nusselt_vertical(rayleigh_number=1.813e9, prandtl=0.69))
    147
    """
    within("rayleigh_number", rayleigh_number, 0, 1e12, "Churchill and Chu")
    positive(prandtl=prandtl)
    spread: float = (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)
    root: float = rayleigh_number ** (1 / 6)
    return (0.825 + 0.387 * root / spread) ** 2


@formula(
    name="heat.nusselt_level",
    source="McAdams; Bergman et al. Eq 9.30 to 9.32",
    status="oracle",
    validity="Rayleigh 1e4 to 1e11, below taken as at 1e4",
)
def nusselt_level(*, rayleigh_number: float, hot_side_up: bool) -> float:
    """Mean Nusselt number of a level plate in still air.

    Parameters
    ----------
    rayleigh_number : float
        On area over perimeter. [-]
    hot_side_up : bool
        Warm face up (or cold face down); else warm face down.

    Returns
    -------
    float
        Nusselt number. [-]

    References
    ----------
    Up 0.54 Ra^(1/4) to 1e7 and 0.15 Ra^(1/3) above; down 0.27 Ra^(1/4). From memory; agrees with `ht`.
    """
    within("rayleigh_number", rayleigh_number, 0, 1e11, "McAdams")
    Ra = max(rayleigh_number, 1e4)
    fourth: float = Ra**0.25
    third: float = Ra ** (1 / 3)
    if not hot_side_up:
        return 0.27 * fourth
    return 0.54 * fourth if Ra <= 1e7 else 0.15 * third


@formula(
    name="heat.convection_coefficient", source="heat.nusselt_vertical, heat.nusselt_level with heat.air", status="oracle", unit="W/m2K"
)
def convection_w_m2k(*, surface_degc: float, air_degc: float, length_mm: float, facing: Facing = "vertical") -> float:
    """Heat passed to still air per area and kelvin.

    Parameters
    ----------
    surface_degc, air_degc : float
        Temperatures; the colder may be either. [degC]
    length_mm : float
        Height of a vertical face; area over perimeter of a level one. [mm]
    facing : {"vertical", "up", "down"}
        Where the face looks.

    Returns
    -------
    float
        Coefficient. [W/m2K]

    References
    ----------
    Properties at the mean of both temperatures. Display-scale check: 0.60 m, 40 degC in 25 degC: 3.70 W/m2K (CoolProp).
    """
    film = (surface_degc + air_degc) / 2
    air = air_at(temperature_degc=film)
    Ra = rayleigh(
        rise_k=abs(surface_degc - air_degc), length_mm=length_mm, expansion_per_k=1 / kelvin(film),
        viscosity_m2_s=air.viscosity_m2_s, diffusivity_m2_s=air.diffusivity_m2_s,
    )  # fmt: skip
    if entry({"vertical": True, "up": False, "down": False}, facing, "facing"):
        Nu = nusselt_vertical(rayleigh_number=Ra, prandtl=air.prandtl)
    else:
        Nu = nusselt_level(rayleigh_number=Ra, hot_side_up=(facing == "up") == (surface_degc >= air_degc))
    return film_coefficient_w_m2k(nusselt=Nu, conductivity_w_mk=air.conductivity_w_mk, length_mm=length_mm)


@formula(name="heat.film_coefficient", source="definition", status="derived", unit="W/m2K")
def film_coefficient_w_m2k(*, nusselt: float, conductivity_w_mk: float, length_mm: float) -> float:
    """Heat passed per area and kelvin from a Nusselt number.

    Parameters
    ----------
    nusselt : float
        Nusselt number. [-]
    conductivity_w_mk : float
        Of the film. [W/mK]
    length_mm : float
        Length on which the number is formed. [mm]

    Returns
    -------
    float
        Nu k/L. [W/m2K]

    References
    ----------
    Definition. Derived.
    """
    positive(nusselt=nusselt, conductivity_w_mk=conductivity_w_mk, length_mm=length_mm)
    return nusselt * conductivity_w_mk / (length_mm * 1e-3)


@formula(name="heat.surface_heat", source="Newton's law of cooling", status="derived", unit="W")
def surface_heat_w(*, coefficient_w_m2k: float, area_mm2: float, rise_k: float) -> float:
    """Heat from a surface.

    Parameters
    ----------
    coefficient_w_m2k : float
        Convection, radiation, or both. [W/m2K]
    area_mm2 : float
        Area. [mm2]
    rise_k : float
        Surface over surroundings. [K]

    Returns
    -------
    float
        h A dT. [W]

    References
    ----------
    Derived.
    """
    not_negative(coefficient_w_m2k=coefficient_w_m2k, area_mm2=area_mm2)
    return coefficient_w_m2k * area_mm2 * 1e-6 * rise_k


@formula(name="heat.radiation", source="Stefan-Boltzmann law", status="oracle", unit="W/m2", validity="a surface in large surroundings")
def radiation_w_m2(*, emissivity: float, surface_degc: float, surroundings_degc: float) -> float:
    """Net radiation of a surface to large surroundings.

    Parameters
    ----------
    emissivity : float
        Glass 0.84 (EN 673 corrected, memory), painted timber about 0.9 (practice). [-]
    surface_degc, surroundings_degc : float
        Temperatures. [degC]

    Returns
    -------
    float
        Heat per area, negative when the surface is colder. [W/m2]

    References
    ----------
    eps sigma (T1^4 - T2^4), CODATA 2018. Oracle: agrees with `ht`.

    Examples
    --------
    >>> round(radiation_w_m2(emissivity=0.84, surface_degc=40, surroundings_degc=25), 2)
    81.65
    """
    within("emissivity", emissivity, 0, 1, "an emissivity")
    return emissivity * STEFAN_BOLTZMANN_W_M2_K4 * (kelvin(surface_degc) ** 4 - kelvin(surroundings_degc) ** 4)


@formula(name="heat.closed_rise", source="steady conduction", status="derived", unit="K")
def closed_rise_k(*, power_w: float, u_value_w_m2k: float, area_mm2: float) -> float:
    """Rise in a case without vents.

    Parameters
    ----------
    power_w : float
        Heat set free. [W]
    u_value_w_m2k : float
        Heat through its walls per area and kelvin. [W/m2K]
    area_mm2 : float
        Area of the walls that give off heat. [mm2]

    Returns
    -------
    float
        P/(U A). [K]

    References
    ----------
    Derived. U 3, 2.0 m2, 120 W: 20 K.
    """
    not_negative(power_w=power_w)
    positive(u_value_w_m2k=u_value_w_m2k, area_mm2=area_mm2)
    return power_w / (u_value_w_m2k * area_mm2 * 1e-6)


@formula(
    name="heat.touch_limit",
    source="IEC 62368-1 Table 38, TS1",
    status="memory",
    unit="degC",
    validity="room at 25 degC, not scaled; 48, 77 and 70 seen",
)
def touch_limit_degc(*, material: str, contact: str = "touched to 10 s") -> float:
    """How hot a surface that people touch may be.

    Parameters
    ----------
    material : {"metal", "glass", "plastic", "wood"}
        Surface.
    contact : {"worn", "held over 1 min", "held to 1 min", "touched to 10 s", "not to be touched"}
        How long it is touched.

    Returns
    -------
    float
        Limit with the room at 25 degC. [degC]

    References
    ----------
    IEC 62368-1 Table 38. Reading at 25 degC seen, glass 71 and most entries from memory.
    """
    return entry(entry(TOUCH_DEGC, contact, "contact"), material, "material")
