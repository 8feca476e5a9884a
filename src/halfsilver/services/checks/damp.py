"""Damp: dew and mould at the coldest face behind the piece, fog when it comes in from the cold, wet rooms."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from halfsilver.engineering import climate
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import Known, not_run, warmth
from halfsilver.services.checks.seasons import Seasons, seasons
from halfsilver.units.factors import MM_PER_INCH

MOULD = 0.80  # relative humidity at a face above which mould may grow in weeks: ISO 13788 [memory]
COLD_DEGC = 5.0  # the coldest that it meets on its way: assumed
TUB_MM = 3 * 12 * MM_PER_INCH  # NEC 410.10(D) [memory]
WET = 0.75  # a room damper than that for weeks is taken as a wet one; common practice
PHYSICIST = "whoever answers for the wall, with a probe on it on a cold day"


def _dew(year: Seasons) -> float:
    """Highest dew point that the inside sees: of the room at its dampest, or of the shop's air that was closed in. [degC]"""
    room = climate.dew_point_degc(temperature_degc=year.room.value, humidity=year.dampest.value)
    return max(room, climate.dew_point_degc(temperature_degc=year.shop_degc, humidity=year.shop_humidity))


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
    given = (
        year.room.given("room", "T", "degC"),
        year.dampest.given("its humidity at the dampest", "h"),
        Given(name="wall", symbol="Tw", value=cold, unit="degC", origin="asked"),
    )
    where = f"in a room of {year.room.value:g} degC and {100 * year.dampest.value:.0f} %{_assumed(year)}"
    cure = "Stand it off the wall by 20 mm with air from below, warm or insulate the wall, or dry the room; no foil behind it."
    yield Check(
        working=Working(
            rule="damp.dew_point",
            title="coldest face behind it against the dew point",
            given=given,
            formula="Tw >= dew point of the room at its dampest, and of the air closed in",
            result=cold,
            limit=dew,
            side=Limit.AT_LEAST,
            unit="degC",
            source=mark.source,
            limit_source="",
            status=mark.status,
            assumptions=("the space between the sheets breathes through its joints", "its back is as cold as the wall", *year.assumed),
            confirms=PHYSICIST,
        ),
        broken=Severity.STOP,
        advice=f"Moisture settles below {warmth(design, dew)} {where}; the wall behind comes to "
        f"{warmth(design, cold)}.{f' {cure}' if cold < dew else ''}",
    )
    usual = Known(value=design.facts.job.room.humidity, origin="asked") if design.facts.job.room.humidity else year.dampest
    found = climate.surface_humidity(temperature_degc=year.room.value, humidity=usual.value, surface_degc=cold)
    ratio = mark_of(climate.surface_humidity)
    yield Check(
        working=Working(
            rule="damp.mould",
            title="humidity of the air at the wall behind",
            given=(given[0], usual.given("its humidity as a rule", "h"), given[2]),
            formula="h p(T)/p(Tw)",
            result=found,
            limit=MOULD,
            unit="",
            source=ratio.source,
            limit_source="ISO 13788 (from memory)",
            status=weakest(ratio.status, "memory"),
            assumptions=("it lasts for weeks", *year.assumed),
            confirms=PHYSICIST,
        ),
        advice=f"At the wall the air has {100 * min(found, 1.0):.0f} % in a room of {year.room.value:g} degC and "
        f"{100 * usual.value:.0f} %; above about {100 * MOULD:.0f} % for weeks mould may grow behind "
        f"it.{f' {cure}' if found > MOULD else ''}",
    )


def _assumed(year: Seasons) -> str:
    return f", assumed: {', '.join(key for key in year.assumed if key != 'room.driest')}" if set(year.assumed) - {"room.driest"} else ""


def arrival(design: Design, show: Show) -> Iterator[Check]:
    """Fog when a cold piece comes into a warm room, and inside while it is on its way."""
    year, mark = seasons(design), mark_of(climate.dew_point_degc)
    humidity = design.facts.job.room.humidity or year.dampest.value
    room = climate.dew_point_degc(temperature_degc=year.room.value, humidity=humidity)
    shop = climate.dew_point_degc(temperature_degc=year.shop_degc, humidity=year.shop_humidity)
    yield Check(
        working=Working(
            rule="damp.arrival",
            title="dew point of the room against a piece that comes in from the cold",
            given=(
                year.room.given("room", "T", "degC"),
                Given(name="its humidity", symbol="h", value=humidity, origin="asked" if design.facts.job.room.humidity else "assumed"),
                Given(name="dew point of the air closed in", symbol="Ts", value=shop, unit="degC"),
            ),
            formula="dew point <= temperature of the piece",
            result=room,
            limit=COLD_DEGC,
            unit="degC",
            source=mark.source,
            limit_source="coldest on its way: assumed",
            status="assumed",
            assumptions=(f"{COLD_DEGC:g} degC in the van",),
            confirms="whoever brings it",
        ),
        broken=Severity.NOTE,
        advice=f"Brought in at {warmth(design, COLD_DEGC)} (assumed) it {'fogs' if room > COLD_DEGC else 'stays dry'}: the room's "
        f"dew point is {warmth(design, room)}; the air closed in fogs inside below {warmth(design, shop)}. Leave it "
        "wrapped for a day, until glass and screen are as warm as the room; only then unwrap it and switch it on. Wipe no "
        "fog off a coated face: that scratches it.",
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
    near = distance <= TUB_MM
    yield Finding(
        rule="damp.by_water", source="NEC 410.10(D), 406.9(C) (from memory)", status="memory",
        severity=Severity.STOP if near else Severity.CAUTION, value=distance, limit=TUB_MM, unit="mm",
        advice=f"It is {show(distance, 'mm')} from the water's edge. Within {show(TUB_MM, 'mm')} of a tub or shower, up to 8 ft above "
        "its rim, neither an outlet nor what hangs on a cord is allowed (from memory). Whether anything electrical may be there, how it is "
        "enclosed and by what it is protected is for a licensed electrician; none of its parts is meant for splashing water.",
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (wall, arrival, wet_room, by_water)
