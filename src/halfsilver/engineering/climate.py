"""Damp air: dew point and the humidity at a colder surface. Condensation inside a closed cavity stays where nobody can wipe it."""

from __future__ import annotations

from math import exp, log

from halfsilver.engineering.bounds import within
from halfsilver.model.formula import formula

# Magnus form over water, WMO-No. 8 (2018), annex 4.B: hPa, -, degC. From memory; agrees with the ASHRAE equations.
MAGNUS_HPA, MAGNUS_B, MAGNUS_C_DEGC = 6.112, 17.62, 243.12
VAPOUR_J_KGK = 461.5  # gas constant of water vapour: 8314.46/18.015
ZERO_DEGC_K = 273.15


@formula(
    name="climate.saturation_pressure",
    source="Magnus form, WMO-No. 8 annex 4.B",
    status="memory",
    unit="hPa",
    validity="-45 to 60 degC, over water",
)
def saturation_hpa(*, temperature_degc: float) -> float:
    """Vapour pressure of saturated air.

    Parameters
    ----------
    temperature_degc : float
        Temperature. [degC]

    Returns
    -------
    float
        Pressure. [hPa]

    References
    ----------
    WMO-No. 8, annex 4.B: 6.112 exp(17.62 t/(243.12 + t)). From memory; within 0.4 % of the ASHRAE equations, 0 to 60 degC.
    """
    within("temperature_degc", temperature_degc, -45, 60, "the Magnus form")
    return MAGNUS_HPA * exp(MAGNUS_B * temperature_degc / (MAGNUS_C_DEGC + temperature_degc))


@formula(
    name="climate.dew_point", source="Magnus form, WMO-No. 8 annex 4.B", status="memory", unit="degC", validity="-45 to 60 degC, over water"
)
def dew_point_degc(*, temperature_degc: float, humidity: float) -> float:
    """Temperature at which moisture of the air settles.

    Parameters
    ----------
    temperature_degc : float
        Temperature. [degC]
    humidity : float
        Relative humidity, above 0, to 1. [-]

    Returns
    -------
    float
        Dew point. [degC]

    References
    ----------
    WMO-No. 8, annex 4.B, solved for t. From memory; agrees with `CoolProp` within 0.05 K.

    Examples
    --------
    >>> round(dew_point_degc(temperature_degc=25, humidity=0.5), 1)
    13.9
    """
    within("temperature_degc", temperature_degc, -45, 60, "the Magnus form")
    within("humidity", humidity, 0.001, 1, "relative humidity")
    y = log(humidity) + MAGNUS_B * temperature_degc / (MAGNUS_C_DEGC + temperature_degc)
    return MAGNUS_C_DEGC * y / (MAGNUS_B - y)


@formula(name="climate.vapour_density", source="gas law of water vapour", status="derived", unit="g/m3")
def vapour_density_g_m3(*, temperature_degc: float, humidity: float) -> float:
    """Water in a cubic metre of air.

    Parameters
    ----------
    temperature_degc : float
        Temperature. [degC]
    humidity : float
        Relative humidity, 0 to 1. [-]

    Returns
    -------
    float
        p/(Rw T), with 461.5 J/kgK for water vapour. [g/m3]

    References
    ----------
    Derived from `climate.saturation_pressure` and the gas law; saturated air at 20 degC holds 17.3 g/m3 (steam tables).

    Examples
    --------
    >>> round(vapour_density_g_m3(temperature_degc=20, humidity=1))
    17
    """
    within("humidity", humidity, 0, 1, "relative humidity")
    return humidity * saturation_hpa(temperature_degc=temperature_degc) * 1e5 / (VAPOUR_J_KGK * (temperature_degc + ZERO_DEGC_K))


@formula(name="climate.surface_humidity", source="ratio of vapour pressures", status="derived")
def surface_humidity(*, temperature_degc: float, humidity: float, surface_degc: float) -> float:
    """Relative humidity of room air where it meets a surface; above 1 it settles there, above about 0.8 for long mould may grow.

    Parameters
    ----------
    temperature_degc : float
        Air. [degC]
    humidity : float
        Relative humidity of the air, 0 to 1. [-]
    surface_degc : float
        Surface. [degC]

    Returns
    -------
    float
        Relative humidity at the surface. [-]

    References
    ----------
    Derived from `climate.saturation_pressure`.
    """
    within("humidity", humidity, 0, 1, "relative humidity")
    return humidity * saturation_hpa(temperature_degc=temperature_degc) / saturation_hpa(temperature_degc=surface_degc)


@formula(name="climate.drier_humidity", source="ratio of vapour pressures", status="derived")
def drier_humidity(*, temperature_degc: float, dew_degc: float) -> float:
    """Humidity at which air has a given dew point: closed in at no more, it does not fog down to there.

    Parameters
    ----------
    temperature_degc : float
        Air. [degC]
    dew_degc : float
        Dew point that is wanted, at most the air's temperature. [degC]

    Returns
    -------
    float
        Relative humidity. [-]

    References
    ----------
    Derived from `climate.saturation_pressure`: the inverse of `climate.dew_point`.
    """
    within("dew_degc", dew_degc, -45, temperature_degc, "air of that temperature")
    return saturation_hpa(temperature_degc=dew_degc) / saturation_hpa(temperature_degc=temperature_degc)
