"""The air of shop and site over a year, and what timber takes on in it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import isnan

from halfsilver.engineering.timber import COLDEST_DEGC, MOVEMENT_RANGE_PCT, equilibrium_moisture_pct
from halfsilver.files.tables import load
from halfsilver.layout.design import Design
from halfsilver.model.workshop import Moulding
from halfsilver.services.checks.known import Known, known

ROOM_DEGC = 21.0
DRIEST, DAMPEST = 0.30, 0.60


@dataclass(frozen=True, slots=True, kw_only=True)
class Seasons:
    """Climate of site and shop.

    Parameters
    ----------
    room : Known
        Usual temperature of the room. [degC]
    driest, dampest : Known
        Relative humidity that lasts for weeks. [-]
    shop_degc, shop_humidity : float
        Air in which it is made and closed. [degC, -]
    """

    room: Known
    driest: Known
    dampest: Known
    shop_degc: float
    shop_humidity: float

    @property
    def made_pct(self) -> float:
        """Moisture of timber that has lain in the shop. [%]"""
        return _moisture_pct(self.shop_degc, self.shop_humidity)

    def site_pct(self, *, dampest: bool) -> float:
        """Moisture of timber that has hung in the room at its dampest or driest. [%]"""
        return _moisture_pct(self.room.value, (self.dampest if dampest else self.driest).value)

    @property
    def assumed(self) -> tuple[str, ...]:
        """Keys of the job that nobody filled."""
        pairs = (("room.temperature", self.room), ("room.driest", self.driest), ("room.dampest", self.dampest))
        return tuple(key for key, value in pairs if value.assumed)


def _moisture_pct(temperature_degc: float, humidity: float) -> float:
    """As at the coldest of the table where it is colder: warmth moves it little, humidity much."""
    return equilibrium_moisture_pct(temperature_degc=max(temperature_degc, COLDEST_DEGC), humidity=humidity)


def seasons(design: Design) -> Seasons:
    """The climate that a job and its workshop name, or that is assumed."""
    room, air = design.facts.job.room, design.facts.workshop.head.air
    usual = room.humidity
    return Seasons(
        room=known(room.temperature, ROOM_DEGC),
        driest=known(room.driest, min(DRIEST, usual) if usual is not None else DRIEST),
        dampest=known(room.dampest, max(DAMPEST, usual) if usual is not None else DAMPEST),
        shop_degc=air.temperature,
        shop_humidity=air.humidity,
    )


def in_range(moisture_pct: float) -> float:
    """A moisture brought into the range of the movement coefficients. [%]"""
    low, high = MOVEMENT_RANGE_PCT
    return min(max(moisture_pct, low), high)


@cache
def _tangential() -> dict[str, float]:
    """Coefficient of flat-sawn width by species, where the handbook has one. [1/%]"""
    table = load("engineering/timber_species")
    found = zip(table.words("species"), table.numbers("tangential_coefficient", unit="1/%"), strict=True)
    return {name: value for name, value in found if not isnan(value)}


def across(moulding: Moulding) -> Known | None:
    """Growth across the grain for a percent of moisture: the catalogue's, else the species' when flat-sawn; None where neither is known."""
    if moulding.across:
        return Known(value=moulding.across, origin="catalogue")
    found = _tangential().get(moulding.timber)
    return None if found is None else Known(value=found, origin="Wood Handbook Table 13-5, flat-sawn")
