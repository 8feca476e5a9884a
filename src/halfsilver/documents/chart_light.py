"""Charts of light: spectra of the sheets, the series of light images, contrast against the room's light."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from halfsilver.documents.chart_parts import FAINT, PALE_BAND, PLOT_MM, THIN, Chart, note, scene_of
from halfsilver.documents.words import printable
from halfsilver.drawing.chart import (
    DASHED,
    DOTTED,
    FULL,
    SMALL_MM,
    Axis,
    Plot,
    band,
    curve,
    even_axis,
    frame,
    level,
    log_axis,
    side_labels,
    title,
)
from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.lettering import wrapped
from halfsilver.drawing.scene import Anchor, Circle, Item, Line, Point, Polygon, Text
from halfsilver.drawing.style import ACCENT, DEFAULT_STYLE, GREY, INK, Pen, Role
from halfsilver.model.charts import ContrastChart, ImagePoint, ImagesChart, SpectraChart
from halfsilver.model.job import Units
from halfsilver.units.factors import MM_PER_INCH

PENS = (FULL, DASHED, DOTTED)


# ---- spectra


def spectra_chart(shown: SpectraChart) -> Chart:
    """The chart."""
    heading = f"{shown.which.capitalize()} sheet: {printable(shown.name)}"
    return Chart(name=f"spectra-{shown.which}", scene=scene_of(_spectra_items(shown, heading), heading), says=_spectra_says(shown))


def _spectra_says(shown: SpectraChart) -> str:
    T, front, back = shown.luminous
    basis = "measured" if shown.known else "grey spectra assumed for the printed numbers"
    share = [f"{100 * one:.0f} %" for one in (T, front, back)]
    return f"{share[0]} of the light goes through; {share[1]} is mirrored to the viewer, {share[2]} on the other side ({basis})."


def _spectra_items(shown: SpectraChart, heading: str) -> Iterator[Item]:
    x = Axis(label="Wavelength, nm", low=380.0, high=780.0, ticks=tuple((float(nm), str(nm)) for nm in range(400, 800, 50)))
    y = Axis(label="Share of the light, %", low=0.0, high=1.0, ticks=tuple((k / 5, str(20 * k)) for k in range(6)))
    plot = Plot(x=x, y=y, width_mm=PLOT_MM[0], height_mm=PLOT_MM[1])
    yield title(plot, wrapped(heading, room_mm=160.0, size_mm=2.8, font=DEFAULT_STYLE.font, weight=Weight.BOLD))
    if shown.error > 0:
        low = [max(one - shown.error, 0.0) for one in shown.straight[0]]
        yield band(plot, shown.wavelength_nm, low, [min(one + shown.error, 1.0) for one in shown.straight[0]], PALE_BAND)
    yield from frame(plot)
    labels = []
    for values, oblique, light, pen, what in zip(
        shown.straight,
        shown.oblique,
        shown.luminous,
        PENS,
        ("through", "mirrored to the viewer", "mirrored\nfrom behind"),
        strict=True,
    ):
        thin = Pen(width_mm=0.22, colour=pen.colour, dash_mm=pen.dash_mm)
        yield from (one for one in (curve(plot, shown.wavelength_nm, oblique, thin), curve(plot, shown.wavelength_nm, values, pen)) if one)
        labels.append((values[-1], f"{what}\n{100 * light:.1f} % for the eye", pen))
    yield from side_labels(plot, labels, clear_mm=2.4)
    basis = "" if shown.known else "Grey spectra assumed for the printed numbers. "
    said = (
        f"{basis}Heavy lines straight on, thin lines at {shown.oblique_deg:g} degrees. "
        f"The band is the limit of error, \u00b1{100 * shown.error:g}\u00a0%, of what goes through."
    )
    yield note(plot, said)


# ---- light images


def images_chart(shown: ImagesChart, units: Units) -> Chart:
    """The chart."""
    heading = f"The lights, image by image, for {printable(shown.viewer)}"
    return Chart(name="light-images", scene=scene_of(_image_items(shown, units, heading), heading), says=_images_say(shown, units))


def _images_say(shown: ImagesChart, units: Units) -> str:
    if not shown.visible:
        return "No image of the lights stands out from what the glass mirrors of the room."
    last, before = shown.points[min(shown.visible, len(shown.points)) - 1], "screen" if shown.screen else "glass"
    return (
        f"The lights repeat into the depth, each image dimmer than the one before. {shown.visible} of them stand out plainly from the dark "
        f"{before}; the last seems to lie {_deep(last.depth_mm, units)} behind the glass."
    )


def _deep(depth_mm: float, units: Units) -> str:
    if units is Units.INCH:
        inches = depth_mm / MM_PER_INCH
        return f"{inches / 12:.1f} ft" if inches >= 24 else f"{inches:.0f} in"
    return f"{depth_mm / 1000:.2f} m" if depth_mm >= 1000 else f"{depth_mm:.0f} mm"


def _image_items(shown: ImagesChart, units: Units, heading: str) -> Iterator[Item]:
    factor, unit = (1 / MM_PER_INCH, "in") if units is Units.INCH else (1.0, "mm")
    lows = [one.low_cd_m2 for one in shown.points if one.low_cd_m2 > 0]
    floor = max(min([shown.threshold_cd_m2 / 3, *lows]), shown.threshold_cd_m2 / 100, 1e-3)
    x = even_axis(f"Apparent depth behind the front sheet, {unit}", 0.0, shown.points[-1].depth_mm * 1.02, factor=factor)
    plot = Plot(
        x=x,
        y=log_axis("Luminance, cd/m\u00b2", floor, 1.6 * max(one.high_cd_m2 for one in shown.points)),
        width_mm=PLOT_MM[0],
        height_mm=PLOT_MM[1],
    )
    yield title(plot, heading)
    if shown.threshold_cd_m2 > plot.y.low:
        (left, bottom), (right, top) = plot.at(x.low, plot.y.low), plot.at(x.high, shown.threshold_cd_m2)
        yield Polygon(points=((left, bottom), (right, bottom), (right, top), (left, top)), role=None, fill=PALE_BAND)
    yield from frame(plot)
    labels = [(shown.threshold_cd_m2, f"plainly seen from\n{_light(shown.threshold_cd_m2)} on", DASHED)]
    yield level(plot, shown.threshold_cd_m2, DASHED)
    if plot.y.low <= shown.background_cd_m2 <= plot.y.high:
        yield level(plot, shown.background_cd_m2, FAINT)
        what = "room mirrored, dark screen" if shown.screen else "the room mirrored"
        labels.append((shown.background_cd_m2, f"what they stand before:\n{what},\n{_light(shown.background_cd_m2)}", FAINT))
    crowded = _crowded(plot, shown.points)
    for point in shown.points:
        yield from _image(plot, point, crowded=crowded)
    yield from side_labels(plot, labels, clear_mm=3.0)
    yield note(
        plot,
        "Numbers count the mirrors met; the discs have the colour of the light. Bars are the limits of error of the glass. "
        "Above the dashed line an image stands out plainly (four times the contrast that half of all lookers see).",
    )


def _light(value: float) -> str:
    return f"{value:.3g} cd/m\u00b2"


def _crowded(plot: Plot, points: Sequence[ImagePoint]) -> bool:
    """Whether the images stand too close for a number each; then every fifth has one."""
    return plot.width_mm / max(len(points), 1) < 3.6


def _image(plot: Plot, point: ImagePoint, *, crowded: bool) -> Iterator[Item]:
    def place(value: float) -> Point:
        return plot.at(point.depth_mm, min(max(value, plot.y.low), plot.y.high))

    if point.luminance_cd_m2 < plot.y.low:
        return
    yield Line(start=place(point.low_cd_m2), end=place(point.high_cd_m2), pen=THIN)
    yield Circle(centre=place(point.luminance_cd_m2), radius_mm=1.15, role=Role.THIN, fill=point.colour)
    if crowded and point.m % 5:
        return
    (x, low), (_, middle), (_, high) = (place(one) for one in (point.low_cd_m2, point.luminance_cd_m2, point.high_cd_m2))
    # An even image stands beside and below a brighter one, whose bar takes the room above it.
    below = crowded and point.m % 2 == 0 and point.m > 0
    y = min(low, middle - 1.15) - 2.1 if below else max(high, middle + 1.15) + 0.9
    yield Text(
        at=(max(x, plot.at(plot.x.low, plot.y.low)[0] + 1.4), y), text=str(point.m), anchor=Anchor.BASE_CENTRE, size_mm=1.6, colour=GREY
    )


# ---- contrast


def contrast_chart(shown: ContrastChart) -> Chart:
    """The chart."""
    heading = f"The picture's contrast in the room's light, for {printable(shown.viewer)}"
    return Chart(name="contrast", scene=scene_of(_contrast_items(shown, heading), heading), says=_contrast_says(shown))


def _contrast_says(shown: ContrastChart) -> str:
    met = [name for name, ratio in shown.classes if shown.job_ratio >= ratio]
    said = f"enough for {met[-1]}" if met else f"less than {shown.classes[0][0]} asks"
    return (
        f"In the room as it is ({shown.job_lx:.0f} lx on the glass) white is {shown.job_ratio:.0f} times as bright as black: "
        f"{said}. The darker the room, the deeper the black."
    )


def _contrast_items(shown: ContrastChart, heading: str) -> Iterator[Item]:
    lux = shown.illuminance_lx
    x = Axis(label="Light on the glass, lx (what the glass mirrors goes with it)", low=lux[0], high=lux[-1], log=True,
             ticks=tuple((float(v), str(v)) for v in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)))  # fmt: skip
    top = max(max(shown.high), *(ratio for _, ratio in shown.classes))
    plot = Plot(x=x, y=log_axis("Contrast, white over black", 1.0, min(top, 1e4)), width_mm=PLOT_MM[0], height_mm=PLOT_MM[1])
    yield title(plot, heading)
    yield band(plot, lux, shown.low, shown.high, PALE_BAND)
    yield from frame(plot)
    yield from (level(plot, ratio, FAINT) for _, ratio in shown.classes)
    lines: list[tuple[Sequence[float], Pen, str]] = [(shown.lit, FULL, "with the lights" if shown.unlit else "the picture")]
    if shown.unlit:
        lines.append((shown.unlit, DASHED, "lights off"))
    for values, pen, _ in lines:
        drawn = curve(plot, lux, values, pen)
        yield from (drawn,) if drawn else ()
    yield from side_labels(plot, [(ratio, f"{name}, {ratio:g} : 1", None) for name, ratio in shown.classes], gap_mm=2.0)
    yield from _job_point(plot, shown)
    yield from _key(plot, [(pen, text) for _, pen, text in lines])
    yield note(plot, "Classes after ANSI/INFOCOMM 3M-2011 (AVIXA V201.01). The band holds the limits of error of the glass.")


def _job_point(plot: Plot, shown: ContrastChart) -> Iterator[Item]:
    at = plot.at(min(max(shown.job_lx, plot.x.low), plot.x.high), min(max(shown.job_ratio, plot.y.low), plot.y.high))
    yield Circle(centre=at, radius_mm=1.7, role=Role.OUTLINE, fill="#ffffff")
    yield Circle(centre=at, radius_mm=0.8, role=Role.THIN, fill=INK)
    right = at[0] < plot.left_mm + 0.72 * plot.width_mm
    yield Text(
        at=(at[0] + (2.8 if right else -2.8), at[1] + 2.4), text=f"this room: {shown.job_lx:.0f} lx, {shown.job_ratio:.1f} : 1",
        anchor=Anchor.BASE_LEFT if right else Anchor.BASE_RIGHT, size_mm=SMALL_MM, weight=Weight.BOLD, colour=ACCENT,
    )  # fmt: skip


def _key(plot: Plot, entries: Sequence[tuple[Pen, str]]) -> Iterator[Item]:
    """What the lines are, in the lower left corner, where contrast never is."""
    for k, (pen, text) in enumerate(reversed(entries)):
        y = plot.bottom_mm + 4.0 + 4.0 * k
        yield Line(start=(plot.left_mm + 3.0, y), end=(plot.left_mm + 11.0, y), pen=pen)
        yield Text(at=(plot.left_mm + 12.5, y), text=text, anchor=Anchor.MIDDLE_LEFT, size_mm=SMALL_MM)
