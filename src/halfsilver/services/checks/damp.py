"""Damp: dew and mould at the coldest face behind the piece, fog when it comes in from the cold, wet rooms."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil, log

from halfsilver.engineering import climate, running
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.making.scope import made_parts
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Scope
from halfsilver.services.checks.casing import specific_j_kgk
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Known, known, not_run, warmth
from halfsilver.services.checks.ruled import ruled
from halfsilver.services.checks.seasons import Seasons, seasons

COLD_DEGC = 5.0  # the coldest that it meets on its way: assumed
SATURATED_K = 0.1  # so near to its dew point a room never dries a cold piece
LEAST_FILM = 0.01  # of water on glass, g/m2: less is not worth a number
STILL_W_M2K = 9.0  # convection and radiation of a face in still air, together; common practice
FOAM_W_MK = 0.04  # of packing foam; common practice
MAGNUS = f"Td = {climate.MAGNUS_C_DEGC} y/({climate.MAGNUS_B} - y), y = ln h + {climate.MAGNUS_B} T/({climate.MAGNUS_C_DEGC} + T)"
WET = 0.75  # a room damper than that for weeks is taken as a wet one; common practice
PHYSICIST = "whoever answers for the wall, with a probe on it on a cold day"


def _dew(year: Seasons) -> float:
    """Highest dew point that the inside sees: of the room at its dampest, or of the shop's air that was closed in. [degC]"""
    room = climate.dew_point_degc(temperature_degc=year.room.value, humidity=year.dampest.value)
    return max(room, climate.dew_point_degc(temperature_degc=year.shop_degc, humidity=year.shop_humidity))


def _magnus(temperature: Known, humidity: Known, dew: float) -> str:
    """The dew point with its numbers."""
    b, c = climate.MAGNUS_B, climate.MAGNUS_C_DEGC
    y = log(humidity.value) + b * temperature.value / (c + temperature.value)
    return (
        f"y = ln {humidity.value:.3g} + {b:g} x {temperature.value:.3g}/({c:g} + {temperature.value:.3g}) = {y:.4g}; "
        f"Td = {c:g} x {y:.4g}/({b:g} - {y:.4g}) = {dew:.3g} degC"
    )


def wall(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The wall behind on the coldest day against dew and against mould."""
    year, cold, mark = seasons(design), design.facts.job.room.wall, mark_of(climate.dew_point_degc)
    dew = _dew(year)
    if cold is None:
        yield not_run(
            "damp.dew_point", what="dew inside against the wall behind", key="room.wall", source=mark.source, unit="degC",
            meanwhile=f"Moisture settles in it below {warmth(design, dew)} (room at {year.room.value:g} degC and "
            f"{100 * year.dampest.value:.0f} %{_assumed(year)}): an outer wall can be colder than that on a winter's "
            "morning, an inner one is not.",
        )  # fmt: skip
        return
    closed = climate.dew_point_degc(temperature_degc=year.shop_degc, humidity=year.shop_humidity)
    given = (
        year.room.given("room", "T", "degC"),
        year.dampest.given("its humidity at the dampest", "h"),
        Given(name="wall", symbol="Tw", value=cold, unit="degC", origin="asked"),
        Given(name="dew point of the air closed in", symbol="Ts", value=closed, unit="degC"),
    )
    damp = climate.dew_point_degc(temperature_degc=year.room.value, humidity=year.dampest.value)
    where = f"in a room of {year.room.value:g} degC and {100 * year.dampest.value:.0f} %{_assumed(year)}"
    cure = "Stand it off the wall by 20 mm with air from below, warm or insulate the wall, or dry the room; no foil behind it."
    yield Check(
        working=Working(
            rule="damp.dew_point",
            title="coldest face behind it against the dew point",
            given=given,
            formula=f"Tw >= max(Td, Ts); {MAGNUS}",
            put_in=f"{_magnus(year.room, year.dampest, damp)}; {cold:.3g} degC >= max({damp:.3g} degC, {closed:.3g} degC)",
            result=cold,
            limit=dew,
            side=Limit.AT_LEAST,
            unit="degC",
            source=mark.source,
            limit_source=mark.source,
            status=mark.status,
            assumptions=("the space between the sheets breathes through its joints", "its back is as cold as the wall", *year.assumed),
            confirms=PHYSICIST,
        ),
        broken=Severity.STOP,
        advice=f"Moisture settles below {warmth(design, dew)} {where}; the wall behind comes to "
        f"{warmth(design, cold)}.{f' {cure}' if cold < dew else ''}",
    )
    usual = Known(value=design.facts.job.room.humidity, origin="asked") if design.facts.job.room.humidity else year.dampest
    mould = ruled(design, "mould_humidity")
    found = climate.surface_humidity(temperature_degc=year.room.value, humidity=usual.value, surface_degc=cold)
    ratio = mark_of(climate.surface_humidity)
    yield Check(
        working=Working(
            rule="damp.mould",
            title="humidity of the air at the wall behind",
            given=(
                given[0], usual.given("its humidity as a rule", "h"), given[2],
                Given(name="saturation", symbol="p", value=climate.saturation_hpa(temperature_degc=year.room.value), unit="hPa"),
                Given(name="saturation at the wall", symbol="pw", value=climate.saturation_hpa(temperature_degc=cold), unit="hPa"),
            ),
            formula="h p/pw",
            result=found,
            limit=mould.value,
            unit="",
            source=ratio.source,
            limit_source=mould.source("ISO 13788"),
            status=weakest(ratio.status, mould.status),
            assumptions=("it lasts for weeks", *year.assumed),
            confirms=PHYSICIST,
        ),
        advice=f"At the wall the air has {100 * min(found, 1.0):.0f} % in a room of {year.room.value:g} degC and "
        f"{100 * usual.value:.0f} %; above about {100 * mould.value:.0f} % for weeks mould may grow behind "
        f"it.{f' {cure}' if found > mould.value else ''}",
    )  # fmt: skip


def _assumed(year: Seasons) -> str:
    return f", assumed: {', '.join(key for key in year.assumed if key != 'room.driest')}" if set(year.assumed) - {"room.driest"} else ""


def arrival(design: Design, show: Show) -> Iterator[Check]:
    """Fog on a cold piece that comes into a warm room, and how long it has to wait in its wrapping."""
    year, mark, cold = seasons(design), mark_of(climate.dew_point_degc), coldest(design)
    usual = known(design.facts.job.room.humidity, year.dampest.value)
    room = climate.dew_point_degc(temperature_degc=year.room.value, humidity=usual.value)
    fogs = room > cold.value
    waits = _wait(design, year.room, cold, room) if fogs and year.room.value - room > SATURATED_K else None
    hours = "" if waits is None else f" By the sums at least {ceil(waits.result)} h, "
    rest = f"{hours}better a day," if hours else " A day in its wrapping is usual,"
    yield Check(
        working=Working(
            rule="damp.arrival",
            title="dew point of the room against a piece that comes in from the cold",
            given=(
                year.room.given("room", "T", "degC"),
                usual.given("its humidity", "h"),
                cold.given("the piece", "Tc", "degC"),
            ),
            formula=f"Td <= Tc; {MAGNUS}",
            put_in=f"{_magnus(year.room, usual, room)}; {room:.3g} degC <= {cold.value:.3g} degC",
            result=room,
            limit=cold.value,
            unit="degC",
            source=mark.source,
            limit_source="handling.coldest" if not cold.assumed else "coldest on its way: assumed",
            status=weakest(mark.status, "assumed" if cold.assumed or usual.assumed else "seen"),
            assumptions=(*(("handling.coldest",) if cold.assumed else ()), "it is as cold as the van all through", *year.assumed),
            confirms="whoever brings it",
        ),
        broken=Severity.NOTE,
        advice=f"Brought in at {warmth(design, cold.value)}{' (assumed: handling.coldest)' if cold.assumed else ''} it "
        f"{'fogs' if fogs else 'stays dry'}: the room's dew point is {warmth(design, room)}. Leave it wrapped until glass and screen are "
        f"as warm as the room.{rest} and only then unwrap it and switch it on. Wipe no fog off a coated face: that scratches it.",
        also=() if waits is None else (waits,),
    )  # fmt: skip


def coldest(design: Design) -> Known:
    """Air that it meets on its way. [degC]"""
    return known(design.facts.job.handling.coldest, COLD_DEGC)


def _wait(design: Design, room: Known, cold: Known, dew: float) -> Working:
    """Until what is sent is warmer in its wrapping than the room's dew point."""
    sent = design.parts if design.facts.job.scope is Scope.COMPLETE else made_parts(design)
    capacity = sum(part.mass_kg * part.quantity * specific_j_kgk(part.id) for part in sent)
    cushion = known(design.facts.job.handling.cushion, design.facts.habits.crate_cushion)
    through = 1 / (cushion.value * 1e-3 / FOAM_W_MK + 1 / STILL_W_M2K)
    area = 2e-6 * design.ledger["outside.width"] * design.ledger["outside.height"]
    share = (dew - cold.value) / (room.value - cold.value)
    waited = running.warming_time_s(share=share, time_constant_s=capacity / (through * area)) if capacity else 0.0
    mark = mark_of(running.warming_time_s)
    return Working(
        rule="damp.arrival",
        title="time in its wrapping until it is warmer than the dew point",
        given=(
            Given(name="heat capacity", symbol="C", value=capacity, unit="J/K", origin="masses and specific heats"),
            Given(name="through foam and still air", symbol="U", value=through, unit="W/m2K", origin=PRACTICE),
            Given(name="both faces", symbol="A", value=area, unit="m2", origin="ledger"),
            room.given("room", "T", "degC"),
            cold.given("the piece", "Tc", "degC"),
            Given(name="dew point", symbol="Td", value=dew, unit="degC"),
        ),
        formula="C/(U A) x ln((T - Tc)/(T - Td))",
        result=waited / 3600,
        unit="h",
        source=mark.source,
        status="practice",
        assumptions=(f"{cushion.value:g} mm of foam on every side ({cushion.origin})", "all of it warms alike; its middle is later"),
        confirms="whoever brings it, with a thermometer on the glass",
    )  # fmt: skip


def carriage(design: Design, show: Show) -> Iterator[Check]:
    """Fog between the sheets on the way: the shop's air is closed in, and the van is cold."""
    if design.facts.job.scope is Scope.GLASS_ONLY:
        return
    year, mark, cold = seasons(design), mark_of(climate.dew_point_degc), coldest(design)
    shop = Known(value=year.shop_degc, origin="workshop")
    air = Known(value=year.shop_humidity, origin="workshop")
    dew = climate.dew_point_degc(temperature_degc=shop.value, humidity=air.value)
    closed = climate.vapour_density_g_m3(temperature_degc=shop.value, humidity=air.value)
    held = climate.vapour_density_g_m3(temperature_degc=min(cold.value, dew), humidity=1.0)
    gap = design.ledger.values.get("gap", 0.0)
    drier = climate.drier_humidity(temperature_degc=shop.value, dew_degc=min(cold.value, shop.value))
    settles = max(closed - held, 0.0) * gap * 1e-3
    much = f"{settles:.2f}" if settles >= LEAST_FILM else f"less than {LEAST_FILM:g}"
    film = f"Between the sheets {much} g/m2 settle, a film that goes when it warms and leaves dust where there was any. "
    said = (
        f"The air closed in fogs below {warmth(design, dew)}; the van comes to {warmth(design, cold.value)}"
        f"{' (assumed: handling.coldest)' if cold.assumed else ''}. "
    )
    cure = (
        f"{film if gap else ''}Close it in air of {100 * drier:.0f} % or less, or in a heated van."
        if cold.value < dew
        else "It stays dry inside on its way."
    )
    yield Check(
        working=Working(
            rule="damp.carriage",
            title="coldest on its way against the dew point of the air closed in",
            given=(shop.given("shop", "T", "degC"), air.given("its humidity", "h"), cold.given("on its way", "Tc", "degC")),
            formula=f"Tc >= Td; {MAGNUS}",
            put_in=f"{_magnus(shop, air, dew)}; {cold.value:.3g} degC >= {dew:.3g} degC",
            result=cold.value,
            limit=dew,
            side=Limit.AT_LEAST,
            unit="degC",
            source=mark.source,
            limit_source=mark.source,
            status=weakest(mark.status, "assumed" if cold.assumed else "seen"),
            assumptions=(
                *(("handling.coldest",) if cold.assumed else ()),
                "it is closed in the shop's air and does not breathe on its way",
            ),
            confirms="whoever closes it, with a hygrometer",
        ),
        broken=Severity.NOTE,
        advice=said + cure,
    )


def wet_room(design: Design, show: Show) -> Iterator[Finding]:
    """A bathroom or another wet place asks for more than this program reckons with."""
    dampest = design.facts.job.room.dampest
    if dampest is None or dampest <= WET:
        return
    yield Finding(
        rule="damp.wet_room", source="IEC 60529 and the local wiring rules", status="practice", severity=Severity.STOP,
        value=dampest, limit=WET, unit="1",
        advice=f"{100 * dampest:.0f} % for weeks is a wet room: whether anything electrical may hang there, how it is enclosed "
        "and how it is protected is for a licensed electrician; silver, timber and screen are not made for it.",
    )  # fmt: skip


def by_water(design: Design, show: Show) -> Iterator[Finding]:
    """Mains and lights beside a tub, a shower or a pool: whoever decides on that is an electrician."""
    job = design.facts.job
    distance = job.place.water_within
    if distance is None or (job.screen is None and job.lights is None):
        return
    within, above = ruled(design, "tub_distance"), ruled(design, "tub_height")
    near = distance <= within.value
    yield Finding(
        rule="damp.by_water", source=within.source("NEC 410.10(D), 406.9(C)"), status=weakest(within.status, above.status),
        severity=Severity.STOP if near else Severity.CAUTION, value=distance, limit=within.value, unit="mm",
        advice=f"It is {show(distance, 'mm')} from the water's edge. Within {show(within.value, 'mm')} of a tub or shower{within.doubt}, "
        f"up to {show(above.value, 'mm')} above its rim{above.doubt}, neither an outlet nor what hangs on a cord is allowed. Whether "
        "anything electrical may be there, how it is "
        "enclosed and by what it is protected is for a licensed electrician; none of its parts is meant for splashing water.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (wall, carriage, arrival, wet_room, by_water)
