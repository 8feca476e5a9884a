"""Checks composed of several rules, each written out as a `Working`: hanging, heat."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, hypot

from halfsilver.engineering import fasteners, heat, mounting
from halfsilver.engineering.casework import CaseBalance
from halfsilver.engineering.working import Given, Working, mark_of, weakest
from halfsilver.model.formula import Status
from halfsilver.units.factors import MM_PER_INCH

ENGINEER = "licensed structural engineer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """What screws sit in, in words: its name, what the screws are called, where its gravity is from, what is assumed of it."""

    name: str
    screws: str
    origin: str
    assumed: str


STUD = Timber(
    name="stud", screws="top fixings", origin="NDS 2018 Table 12.3.3A", assumed="every screw sits in the middle of a stud, in side grain"
)


def hanging_workings(
    *,
    mass_kg: float,
    centre_from_wall_mm: float,
    fixing_to_contact_mm: float,
    fixings: int,
    screw_number: int,
    thread_mm: float,
    stud_gravity: float,
    lateral_load_n: float,
    person_pull_n: float = mounting.PERSON_PULL_N,
    person_origin: str = "common practice",
    uneven: float = 1.0,
    timber: Timber = STUD,
) -> tuple[Working, ...]:
    """Pull on the top screws, pull and weight together, and the proof load of the support.

    Parameters
    ----------
    mass_kg, centre_from_wall_mm, fixing_to_contact_mm : float
        Piece and its lever, see `mounting.pull_out_n`. [kg, mm, mm]
    fixings : int
        Screws at the top, all in studs.
    screw_number : int
        Wood screw number.
    thread_mm : float
        Thread in the stud, plasterboard not counted. [mm]
    stud_gravity : float
        NDS assigned gravity of the stud; 0.42 for spruce-pine-fir. [-]
    lateral_load_n : float
        Allowable shear of one screw, from the NDS tables. [N]
    person_pull_n : float
        Pull of a person at the height of the fixing. [N]
    person_origin : str
        Where that is from.
    uneven : float
        Load on the screw that takes most over the mean, see `mounting.load_share`. [-]
    timber : Timber
        What the screws sit in, in words.

    Returns
    -------
    tuple of Working
        Pull at rest, pull with a person, combined load, proof load.
    """
    screw = fasteners.screw_diameter_mm(number=screw_number)
    per_mm = fasteners.screw_withdrawal_n_per_mm(specific_gravity=stud_gravity, diameter_mm=screw)
    permanent = fasteners.withdrawal_n(per_mm_n=per_mm, thread_mm=thread_mm, duration="permanent")
    brief = fasteners.withdrawal_n(per_mm_n=per_mm, thread_mm=thread_mm, duration="ten minutes")
    lever = {"mass_kg": mass_kg, "centre_from_wall_mm": centre_from_wall_mm, "fixing_to_contact_mm": fixing_to_contact_mm}
    pull = uneven * mounting.pull_out_n(**lever, fixings=fixings)
    pull_with_person = uneven * mounting.pull_out_n(
        **lever, fixings=fixings, person_pull_n=person_pull_n, person_at_mm=fixing_to_contact_mm
    )
    shear = uneven * mounting.shear_n(mass_kg=mass_kg, fixings=fixings)
    given = (
        Given(name="weight", symbol="W", value=mounting.weight_n(mass_kg=mass_kg), unit="N"),
        Given(name="centre of gravity from the wall", symbol="e", value=centre_from_wall_mm, unit="mm"),
        Given(name="fixing to lower contact", symbol="h", value=fixing_to_contact_mm, unit="mm"),
        Given(name=timber.screws, symbol="n", value=fixings),
        Given(name="hardest loaded over the mean", symbol="u", value=uneven),
    )
    screw_given = (
        Given(name=f"gravity of the {timber.name}", symbol="G", value=stud_gravity, origin=timber.origin),
        Given(name="screw diameter", symbol="D", value=screw / MM_PER_INCH, unit="in", origin="ASME B18.6.1"),
        Given(name="thread", symbol="p", value=thread_mm, unit="mm"),
    )
    assumed: tuple[str, ...] = (
        timber.assumed,
        "plasterboard carries nothing",
        "screws share the load as equal springs",
    )
    least = fasteners.least_penetration_mm(diameter_mm=screw)
    if thread_mm < least:
        assumed = (*assumed, f"thread is below the least penetration of {least:.1f} mm, at which a screw counts")
    withdrawal = mark_of(fasteners.screw_withdrawal_n_per_mm)
    rest = mark_of(mounting.pull_out_n)
    status = weakest(rest.status, withdrawal.status)

    def pull_working(rule: str, title: str, given: tuple[Given, ...], formula: str, result: float, limit: float, known: Status) -> Working:
        return Working(
            rule=rule,
            title=title,
            given=(*given, *screw_given),
            formula=formula,
            result=result,
            limit=limit,
            unit="N",
            source=rest.source,
            limit_source=withdrawal.source,
            status=known,
            assumptions=assumed,
            confirms=ENGINEER,
        )

    person = Given(name="pull of a person", symbol="P", value=person_pull_n, unit="N", origin=person_origin)
    return (
        pull_working(
            "mount.pull_out", "pull on each top screw, at rest", given, "u W e/(h n) <= 0.9 x 2850 G^2 D p", pull, permanent, status
        ),
        pull_working(
            "mount.pull_out_person",
            "pull on each top screw with a person hanging on",
            (*given, person),
            "u (W e + P h)/(h n) <= 1.6 x 2850 G^2 D p",
            pull_with_person,
            brief,
            weakest(status, "practice"),
        ),
        _combined(pull=pull, shear=shear, permanent=permanent, lateral_load_n=lateral_load_n, assumed=assumed),
        proof_working(mass_kg=mass_kg),
    )


def proof_working(*, mass_kg: float) -> Working:
    """The load with which a finished support is proved.

    Parameters
    ----------
    mass_kg : float
        Mass of what hangs on it. [kg]
    """
    mark = mark_of(mounting.proof_load_n)
    return Working(
        rule="mount.proof_load",
        title="load the whole support is proved with",
        given=(Given(name="weight", symbol="W", value=mounting.weight_n(mass_kg=mass_kg), unit="N"),),
        formula="4 W, at least the weight of 4.5 kg; held 1 min",
        result=mounting.proof_load_n(mass_kg=mass_kg),
        unit="N",
        source=mark.source,
        status=mark.status,
        confirms=ENGINEER,
        assumptions=("a test of the finished support, not of one screw",),
    )


def _combined(*, pull: float, shear: float, permanent: float, lateral_load_n: float, assumed: tuple[str, ...]) -> Working:
    angle = degrees(atan2(pull, shear))
    allowed = fasteners.combined_load_n(withdrawal_load_n=permanent, lateral_load_n=lateral_load_n, angle_deg=angle)
    mark = mark_of(fasteners.combined_load_n)
    return Working(
        rule="mount.combined_load",
        title="pull and weight together on each top screw",
        given=(
            Given(name="pull", symbol="T", value=pull, unit="N"),
            Given(name="shear", symbol="S", value=shear, unit="N"),
            Given(name="allowable pull", symbol="W'p", value=permanent, unit="N"),
            Given(name="allowable shear", symbol="Z'", value=lateral_load_n, unit="N"),
            Given(name="angle from the timber's surface", symbol="a", value=angle, unit="deg"),
        ),
        formula="sqrt(T^2 + S^2) <= W'p Z'/(W'p cos^2 a + Z' sin^2 a)",
        result=hypot(pull, shear),
        limit=allowed,
        unit="N",
        source=mark.source,
        limit_source=mark.source,
        status=mark.status,
        assumptions=assumed,
        confirms=ENGINEER,
    )


def heat_workings(
    *,
    balance: CaseBalance,
    power_w: float,
    room_degc: float,
    highest_surrounding_degc: float,
    touched: str,
    touch_limit_degc: float | None = None,
) -> tuple[Working, ...]:
    """Air at the screen, and the warmest face that people touch.

    Parameters
    ----------
    balance : CaseBalance
        From `casework.case_balance` at the warmest room.
    power_w, room_degc : float
        What it was computed with. [W, degC]
    highest_surrounding_degc : float
        The screen's own limit for the air round it. [degC]
    touched : str
        Material of the faces, as in `heat.touch_limit_degc`.
    touch_limit_degc : float, optional
        Another limit for it. [degC]

    Returns
    -------
    tuple of Working
    """
    given = (
        Given(name="heat", symbol="P", value=power_w, unit="W", origin="catalogue"),
        Given(name="room", symbol="To", value=room_degc, unit="degC", origin="asked"),
        Given(name="air through vents", symbol="Q", value=balance.vent_m3_s, unit="m3/s"),
        Given(name="rise, at which both sides are equal", symbol="dT", value=balance.rise_k, unit="K"),
    )
    assumed = ("air in the case is mixed", "steady state", "a wall against the building gives off nothing")
    touch = mark_of(heat.touch_limit_degc)
    air = Working(
        rule="heat.air",
        title="air round the screen",
        given=given,
        formula="To + dT, P = sum(walls) + rho cp Q dT",
        result=balance.air_degc,
        limit=highest_surrounding_degc,
        unit="degC",
        source="steady balance of walls and stack flow (ASHRAE Fundamentals)",
        limit_source="data sheet of the screen",
        status="derived",
        assumptions=assumed,
        confirms="maker of the screen; a probe in the finished case",
        put_in=f"{room_degc:.4g} degC + {balance.rise_k:.3g} K; {power_w:.4g} W = {sum(balance.wall_w):.4g} W + {balance.vent_w:.4g} W",
    )
    if not balance.surface_degc:
        return (air,)
    # The printed limits are read with the room at 25 degC and are not scaled to a warmer one.
    warmest = max(balance.surface_degc) - room_degc + 25.0
    return (
        air,
        Working(
            rule="heat.touch",
            title=f"warmest {touched} face, room at 25 degC",
            given=(
                Given(name="warmest face", symbol="Tf", value=max(balance.surface_degc), unit="degC"),
                Given(name="room", symbol="To", value=room_degc, unit="degC", origin="asked"),
            ),
            formula="Tf - To + 25 degC",
            result=warmest,
            limit=heat.touch_limit_degc(material=touched) if touch_limit_degc is None else touch_limit_degc,
            unit="degC",
            source=air.source,
            limit_source=touch.source,
            status=touch.status,
            assumptions=(*assumed, "touched for up to 10 s"),
            confirms="test laboratory",
        ),
    )
