"""What will be seen as lines of plain text: a table of the viewers, and the changes that would help most."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.model.appearance import AdviceRecord, AppearanceRecord, ScalarRecord

ROWS = (
    ("picture, full white", "screen_luminance_cd_m2", "{:.0f} cd/m2"),
    ("average picture", "screen_content_cd_m2", "{:.0f} cd/m2"),
    ("contrast in the room", "room_contrast", "{:.1f} : 1"),
    ("with the lights off", "room_contrast_lights_off", "{:.1f} : 1"),
    ("mirror", "mirror_reflectance", "{:.1%}"),
    ("dark screen against surround", "hidden_contrast", "{:.2%}"),
    ("just seen from", "hidden_threshold", "{:.2%}"),
    ("images of the lights", "visible_images", "{:.0f}"),
    ("over an average picture", "visible_images_over_picture", "{:.0f}"),
    ("share of the picture seen", "picture_share", "{:.1%}"),
)
FIGURES = (
    ("contrast", "room_contrast", "{:.1f}"),
    ("white cd/m2", "screen_luminance_cd_m2", "{:.0f}"),
    ("images", "visible_images", "{:.0f}"),
    ("depth mm", "deepest_mm", "{:.0f}"),
    ("rectangle", "hidden_contrast", "{:.2%}"),
)
MOST = 8


def lines(record: AppearanceRecord) -> Iterator[str]:
    """The whole report but the findings."""
    yield f"{record.title}: what will be seen ({'measured spectra' if record.basis == 'spectral' else 'printed numbers of the glass'})"
    for who, viewer in record.viewers.items():
        yield f"  {who}, {viewer.incidence_deg:.0f} degrees off the normal"
        for label, name, form in ROWS:
            number: ScalarRecord | None = getattr(viewer, name)
            if number is not None:
                yield f"    {label:30}{_ranged(number, form)}"
        if viewer.echoes:
            echo = viewer.echoes[0]
            yield f"    {'first echo of the picture':30}{_ranged(echo.ratio, '{:.1%}')}, {echo.shift_mm.value:.1f} mm beside it"
    helping = [one for one in record.advice if one.helps]
    if helping:
        yield ""
        yield from _advice(record, helping)


def _ranged(number: ScalarRecord, form: str) -> str:
    value, low, high = (form.format(one) for one in (number.value, number.low, number.high))
    return value if low == high else f"{value}  ({low} to {high})"


def _advice(record: AppearanceRecord, helping: list[AdviceRecord]) -> Iterator[str]:
    """What is, and under it the best change of each kind, with what it would make of it."""
    who = helping[0].viewer
    shown = [figure for figure in FIGURES if any(getattr(one, figure[1]) is not None for one in helping)]
    yield f"Changes computed, for {who} (sizes, price and how the glass breaks are not looked at: change the job and check it)"
    told = {one: f"{one.change}: {one.to} instead of {one.now}" for one in sorted(helping, key=lambda one: -len(one.helps))[:MOST]}
    wide = max(map(len, told.values())) + 1
    yield f"  {'':{wide}}" + "".join(f"{label:>13}" for label, _, _ in shown) + "  helps"
    viewer = record.viewers[who]
    now = {"deepest_mm": _deepest(record, who)} | {
        n: v.value for _, n, _ in shown if isinstance(v := getattr(viewer, n, None), ScalarRecord)
    }
    yield f"  {'as it is':{wide}}" + "".join(f"{_cell(now.get(name), form):>13}" for _, name, form in shown)
    for one, what in told.items():
        yield (
            f"  {what:{wide}}" + "".join(f"{_cell(getattr(one, name), form):>13}" for _, name, form in shown) + f"  {', '.join(one.helps)}"
        )


def _deepest(record: AppearanceRecord, who: str) -> float | None:
    viewer = record.viewers[who]
    if not viewer.light_images or viewer.visible_images is None or viewer.visible_images.value < 1:
        return None
    return viewer.light_images[round(viewer.visible_images.value) - 1].depth_mm.value


def _cell(value: float | None, form: str) -> str:
    return "" if value is None else form.format(value)
