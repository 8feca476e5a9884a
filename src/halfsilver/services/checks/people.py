"""People before the piece: size of the picture, glare and flicker of the lights, walking into it, cleaning and serving it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import floor, pi, radians, tan

from halfsilver.engineering import glare as eyes
from halfsilver.engineering import viewing
from halfsilver.engineering.access import mirror_bottom_limit_mm
from halfsilver.engineering.glazing import HIGH_EDGE_MM, LOW_EDGE_MM
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Construction, MountingKind, Viewer, Visit
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import AUTHORITY, PRACTICE, floor_to_edge_mm, frames, not_run, rough
from halfsilver.services.checks.ruled import ruled

GAZE_DEG = 15.0  # upward, comfortable at most; seen
WALL_REFLECTANCE = 0.5  # of a light wall; common practice
SLACK_MM = 600.0
HARD_TO_BEAR = 28.0  # top of the scale of glare ratings
LADDER_MM = 2000.0  # cleaned from the floor up to here; common practice
FLASHES_HZ = 3  # WCAG 2.3.1: no more than three flashes a second


def picture(design: Design, show: Show) -> Iterator[Check]:
    """How large the picture is for the farthest viewer, and how far the nearest looks up."""
    job, ledger = design.facts.job, design.ledger
    if job.screen is None or not job.viewers:
        return
    far = max(job.viewers, key=lambda viewer: viewer.distance)
    wide, high = ledger["screen.picture.width"], ledger["screen.picture.height"]
    element = viewing.least_element(farthest_mm=far.distance, picture_height_mm=high)
    angle = viewing.viewing_angle_deg(width_mm=wide, distance_mm=far.distance)
    heights = {use: viewing.farthest_by_heights_mm(picture_height_mm=high, use=use) for use in ("reading", "passive")}
    mark = mark_of(viewing.least_element)
    yield Check(
        working=Working(
            rule="view.size",
            title="picture against the farthest viewer",
            given=(
                Given(name="farthest viewer", symbol="FV", value=far.distance, unit="mm", origin="asked"),
                Given(name="height of the picture", symbol="IH", value=high, unit="mm", origin="ledger"),
            ),
            formula="FV <= 8 IH; smallest element FV/(200 IH)",
            result=far.distance,
            limit=heights["passive"],
            unit="mm",
            source=mark.source,
            limit_source=mark_of(viewing.farthest_by_heights_mm).source,
            status=mark.status,
            assumptions=("passive viewing; reading needs more",),
            confirms="whoever makes the pictures",
        ),
        advice=f"To {far.id}, {rough(design, show, far.distance)} away, the picture fills {angle:.0f} degrees; letters and marks "
        "have to be "
        f"{show(element * high, 'mm')} high at least ({100 * element:.1f} % of it). It is large enough to read to "
        f"{rough(design, show, heights['reading'])}, "
        f"to look at to {rough(design, show, heights['passive'])}.",
        entries=("screen.picture.height", f"viewer.{far.id}.distance"),
    )  # fmt: skip
    yield from _gaze(design, show, job.viewers, high)


def _gaze(design: Design, show: Show, viewers: tuple[Viewer, ...], high: float) -> Iterator[Check]:
    centre = design.facts.job.mounting.centre_height
    if centre is None:
        return
    ledger = design.ledger
    top = centre - ledger["outside.height"] / 2 + ledger["screen.offset.bottom"] + ledger["screen.border.bottom"] + high
    eyes_at = {viewer.id: centre if viewer.eye_height is None else viewer.eye_height for viewer in viewers}
    away = {viewer.id: viewer.distance for viewer in viewers}
    angles = {one: viewing.upward_gaze_deg(top_mm=top, eye_mm=eyes_at[one], distance_mm=away[one]) for one in away}
    worst = max(angles, key=lambda name: angles[name])
    rise = top - eyes_at[worst]
    if angles[worst] <= GAZE_DEG:
        return
    mark = mark_of(viewing.upward_gaze_deg)
    yield Check(
        working=Working(
            rule="view.gaze",
            title="upward gaze to the top of the picture",
            given=(
                Given(name="top of the picture", symbol="t", value=top, unit="mm", origin="ledger"),
                Given(name="eyes of the viewer", symbol="e", value=eyes_at[worst], unit="mm", origin="asked"),
                Given(name="distance", symbol="d", value=away[worst], unit="mm", origin="asked"),
            ),
            formula="atan((t - e)/d) <= 15 deg",
            result=angles[worst],
            limit=GAZE_DEG,
            unit="deg",
            source=mark.source,
            limit_source="15 degrees upward: comfortable at most",
            status=mark.status,
            assumptions=("the head is not turned up",),
            confirms="whoever places it",
        ),
        broken=Severity.NOTE,
        advice=f"{worst} looks up {angles[worst]:.0f} degrees to the top of the picture; more than {GAZE_DEG:.0f} tires the neck. "
        f"Hang it {rough(design, show, rise - away[worst] * tan(radians(GAZE_DEG)))} lower, or let them stand "
        f"{rough(design, show, rise / tan(radians(GAZE_DEG)))} away.",
        entries=(f"viewer.{worst}.distance",),
    )  # fmt: skip


def glare(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The strip itself, seen through the front pane, at the eyes of the viewer whom it dazzles most."""
    job, ledger = design.facts.job, design.ledger
    if job.lights is None or "strip.length" not in ledger or not job.viewers:
        return
    mark = mark_of(eyes.glare_rating)
    if job.room.wall_light is None:
        yield not_run("view.glare", what="glare of the lights", key="room.wall_light", source=mark.source)
        return
    light, background = design.facts.light, WALL_REFLECTANCE * job.room.wall_light / pi
    bright = light.flux * job.lights.dim / (pi * light.width * 1e-3) * design.facts.front_glass.T
    if bright <= 0 or background <= 0:
        return
    angles = {viewer.id: _angles_sr(design, viewer) for viewer in job.viewers}
    found = {
        one: eyes.glare_rating(luminances_cd_m2=[bright] * len(seen), solid_angles_sr=seen, background_cd_m2=background)
        for one, seen in angles.items()
    }
    worst, most = max(found, key=lambda name: found[name]), ruled(design, "glare")
    share = eyes.dim_for_glare(rating=found[worst], limit=most.value) * job.lights.dim
    over = found[worst] > most.value
    cure = f"; dim it to {floor(100 * share)} %, diffuse it, or set it where only its repeats are seen" if over else ""
    yield Check(
        working=Working(
            rule="view.glare",
            title=f"glare of the strip at the eyes of {worst}",
            given=(
                Given(name="luminance of the strip through the front pane", symbol="L", value=bright, unit="cd/m2", origin="catalogue"),
                Given(name="luminance of the wall round it", symbol="Lb", value=background, unit="cd/m2", origin="asked"),
                Given(name="solid angle of the runs that are seen", symbol="w", value=sum(angles[worst]), unit="sr", origin="ledger"),
            ),
            formula="8 log10(0.25/Lb L^2 w)",
            result=found[worst],
            limit=most.value,
            unit="1",
            source=mark.source,
            limit_source=most.source("EN 12464-1, halls and lounges"),
            status=weakest(mark.status, most.status),
            assumptions=(
                "the eye looks straight at it", f"walls reflect {100 * WALL_REFLECTANCE:.0f} %",
                "repeats and the screen's own light are not counted",
            ),
            confirms="whoever stands before a sample",
        ),
        broken=Severity.CAUTION if found[worst] > HARD_TO_BEAR else Severity.NOTE,
        advice=f"Lit at {100 * job.lights.dim:.0f} %, the strip has {bright:.0f} cd/m2 through the front pane and comes to a glare "
        "rating of "
        f"{found[worst]:.0f} for {worst}; {most.value:.0f} is usual where people stay, {HARD_TO_BEAR:.0f} is hard to "
        f"bear{cure}. A dark wall makes it worse.",
        entries=("strip.length",),
    )  # fmt: skip


def _angles_sr(design: Design, viewer: Viewer) -> list[float]:
    """Solid angles of the runs of the strip whose lit side is seen, each as one band that faces the middle of the opening. [sr]"""
    job, ledger, width = design.facts.job, design.ledger, design.facts.light.width
    wide, high = ledger["front.rebate.width"], ledger["front.rebate.height"]
    centre = job.mounting.centre_height
    up = 0.0 if viewer.eye_height is None or centre is None else viewer.eye_height - centre
    aside = viewer.sideways
    runs = ((high, wide / 2, up, aside), (high, wide / 2, up, -aside), (wide, high / 2, aside, up), (wide, high / 2, aside, -up))
    angles = []
    for length, at, along, across in runs:
        facing = at + across  # how far the eye is on the lit side of this run
        if facing <= 0:
            continue
        squared = facing**2 + along**2 + viewer.distance**2
        angles.append(length * width * facing / squared**1.5)
    return angles


def flicker(design: Design, show: Show) -> Iterator[Check | Finding]:
    """A dimmer that switches the light on and off: for people, for cameras, and for flashing programmes."""
    job = design.facts.job
    if job.lights is None or "strip.length" not in design.ledger or (job.lights.dim >= 1 and job.lights.pulses is None):
        return
    mark, pulses, low, camera = mark_of(eyes.flicker_limit), job.lights.pulses, ruled(design, "flicker"), ruled(design, "camera")
    if pulses is None:
        yield not_run(
            "view.flicker", what="flicker of the dimmed lights", key="lights.pulses", source=mark.source,
            meanwhile=f"Ask for {low.value:.0f} Hz or more, {camera.value:.0f} Hz where people film; no programme may "
            "flash more than "
            f"{FLASHES_HZ} times a second.",
        )  # fmt: skip
        return
    if pulses == 0:
        return
    film = "cameras see no bands either" if pulses >= camera.value else f"cameras may show bands below about {camera.value:.0f} Hz"
    yield Check(
        working=Working(
            rule="view.flicker",
            title="frequency of the dimmer",
            given=(
                Given(name="modulation", symbol="M", value=1.0, origin="a dimmer that switches"),
                Given(name="frequency", symbol="f", value=float(pulses), unit="Hz", origin="asked"),
                low.given("from which it counts as low risk", "fl", "Hz"),
            ),
            formula="M <= f/fl",
            result=float(pulses),
            limit=low.value,
            side=Limit.AT_LEAST,
            unit="Hz",
            source=low.source(mark.source),
            limit_source=low.source(mark.source),
            status=low.status,
            assumptions=("the light goes to nothing between two pulses",),
            confirms="maker of the dimmer",
        ),
        advice=f"The dimmer switches {pulses} times a second; {low.value:.0f} count as low risk for people{low.doubt}, "
        f"and {film}{camera.doubt}. "
        f"No programme may flash more than {FLASHES_HZ} times a second.",
    )


def walk_into(design: Design, show: Show) -> Iterator[Check | Finding]:
    """A part mirror that begins low looks like a way through; a mirror to be used by a person has its lower edge low enough."""
    edge, ledger, place = floor_to_edge_mm(design), design.ledger, design.facts.job.place
    if edge is None:
        return
    low = edge + (ledger["outside.height"] - ledger["front.sight.height"]) / 2
    top = low + ledger["front.sight.height"]
    if low < LOW_EDGE_MM and top > HIGH_EDGE_MM:
        yield Check(
            working=Working(
                rule="place.walk_into",
                title="lower edge of the glass above the floor",
                given=(
                    Given(name="its lower edge", symbol="b", value=low, unit="mm", origin="ledger and job"),
                    Given(name="top of the glass", symbol="t", value=top, unit="mm", origin="ledger and job"),
                ),
                formula="b >= 18 in where t > 36 in",
                put_in=f"{low:.4g} mm >= {LOW_EDGE_MM:.4g} mm, for {top:.4g} mm > {HIGH_EDGE_MM:.4g} mm",
                result=low,
                limit=LOW_EDGE_MM,
                side=Limit.AT_LEAST,
                unit="mm",
                source=PRACTICE,
                limit_source="as the window rule of IBC 2406.4.3",
                status="practice",
                assumptions=("people come up to it",),
                confirms=AUTHORITY,
            ),
            advice=f"The glass begins {show(low, 'mm')} above the floor: people, children and dogs take a part mirror for a way "
            "through. Mark it "
            "at 3 and at 5 ft, put a rail, a bench or a plinth before it, or raise it to 18 in.",
        )  # fmt: skip
    edge_at = ruled(design, "mirror_edge")
    limit = edge_at.value
    if design.facts.job.construction is Construction.HIDDEN_SCREEN and place.visitors is Visit.PUBLIC and low > limit:
        mark = mark_of(mirror_bottom_limit_mm)
        yield Check(
            working=Working(
                rule="access.mirror",
                title="lower edge of a mirror that people are to use",
                given=(
                    Given(name="its lower edge", symbol="b", value=low, unit="mm", origin="ledger and job"),
                    edge_at.given("highest that is allowed", "bm", "mm"),
                ),
                formula="b <= bm",
                result=low,
                limit=limit,
                unit="mm",
                source=mark.source,
                limit_source=edge_at.source(mark.source),
                status=edge_at.status,
                assumptions=("people are to use it as a mirror, not over a basin",),
                confirms=AUTHORITY,
            ),
            broken=Severity.NOTE,
            advice=f"The mirror begins {show(low, 'mm')} above the floor; one that the public is to use begins at "
            f"{show(limit, 'mm')} at most{edge_at.doubt}, {show(mirror_bottom_limit_mm(over_basin=True), 'mm')} over a basin.",
        )  # fmt: skip


def service(design: Design, show: Show) -> Iterator[Finding]:
    """Cleaning, what comes out in which order, and where the cables go."""
    job, edge = design.facts.job, floor_to_edge_mm(design)
    top = None if edge is None else edge + design.ledger["outside.height"]
    high = (
        f"Above {rough(design, show, LADDER_MM)} it is cleaned from a ladder or platform. " if top is not None and top > LADDER_MM else ""
    )
    sealed = (
        "The front pane behind pinned battens under a glued joint cannot be replaced: offer a screwed joint. "
        if "rear" in frames(design)
        else ""
    )
    out = (
        "taken out of its recess"
        if job.mounting.kind is MountingKind.RECESSED
        else "taken down"
        if job.mounting.kind is MountingKind.HUNG
        else "turned round"
    )
    cables = design.facts.screen.screen.cables if job.screen is not None else None
    way = (
        f"Cables leave the screen on the {cables.side.value} (the viewer's): leave a way to the outlet there, with slack and a drip loop. "
        if cables
        else ""
    )
    if job.screen is not None and cables is None:
        yield not_run("place.cables", what="the way of the cables", key="screen.cables.side", source=PRACTICE)
    yield Finding(
        rule="place.service",
        source=PRACTICE,
        status="practice",
        severity=Severity.NOTE,
        unit="1",
        advice=f"{high}Clean the outside with a damp soft cloth, nothing sprayed on; the coated faces stay shut. To reach lights, "
        "supply or screen "
        f"it is {out}: leave the cables {rough(design, show, SLACK_MM)} of slack for that, and plugs that part. {way}{sealed}".rstrip(),
    )  # fmt: skip


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (picture, glare, flicker, walk_into, service)
