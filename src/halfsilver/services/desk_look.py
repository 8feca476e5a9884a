"""The look of a job on the desk: tables for a page that draws it, numbers for any eye, stills; also with other glass or another gap."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Final

from halfsilver.errors import JobError
from halfsilver.services.desk import Desk, edited
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.desk_values import leaves
from halfsilver.store.values import State

if TYPE_CHECKING:
    from halfsilver.services.pictures import StateWord

TRIED: Final[Mapping[str, str]] = {"front": "glass.front.kind", "rear": "glass.rear.kind", "gap": "gap"}
LIT: Final[Mapping[str, str]] = {
    "dim": "lights.dim", "colour": "lights.colour", "red": "lights.mix.red", "green": "lights.mix.green", "blue": "lights.mix.blue",
}  # fmt: skip
OWN: Final = "content.png"  # the picture that was put with the job
PATTERNS: Final = ("night-sky", "grid", "bars")
PATTERN_PX: Final = 1280
STILL_PX: Final = (1120, 630)
MOST_STILLS: Final = 120
LEAST_ECHO: Final = 0.01
_drawing = Lock()  # one still at a time: the machine also serves pages


@dataclass(frozen=True, slots=True, kw_only=True)
class EyeNumbers:
    """What an eye sees from where it is, lights and screen dimmed as they are.

    Parameters
    ----------
    mirror : float
        Reflectance as a mirror. [-]
    gain : float, optional
        Share of the picture's light that arrives; None without a screen. [-]
    contrast : float, optional
        White over black in the room; None where the screen is off.
    first_echo, echo_mm, echoes : float, float, int
        The first echo's luminance over the picture's, how far it stands beside it [mm], and how many are above one hundredth.
    images, deepest_mm : int, float
        Images of the lights that are plainly seen, and how deep the last one seems to lie. [mm]
    share : float, optional
        Share of the picture that is not hidden. [-]
    """

    mirror: float
    gain: float | None = None
    contrast: float | None = None
    first_echo: float | None = None
    echo_mm: float | None = None
    echoes: int | None = None
    images: int | None = None
    deepest_mm: float | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceNumbers:
    """The piece itself: depth, mass and price in words, its gap, and how many rules stop it."""

    depth: str
    mass: str
    price: str
    gap: str
    stops: int


def tried(desk: Desk, state: State, values: Mapping[str, str]) -> Reckoned:
    """A job as it would be with other glass or another gap; nothing is kept.

    Parameters
    ----------
    desk, state : Desk, State
        Where the job is, and its state.
    values : mapping of str to str
        ``front``, ``rear``, ``gap``, as written; empty is as the job has it.

    Raises
    ------
    JobError
        If a value cannot be read, or the job has no such place.
    """
    return desk.reckoned_text(edited(desk.text(state), changes(desk, state, values)), beside=state.files)


def changes(desk: Desk, state: State, values: Mapping[str, str]) -> dict[str, str]:
    """Key paths of a job, and what is to stand there instead."""
    known = leaves(desk.text(state))
    given = {path: values.get(name, "").strip()[:80] for name, path in TRIED.items()}
    return {path: value for path, value in given.items() if value and known.get(path, "") != value}


def light_changes(desk: Desk, state: State, values: Mapping[str, str]) -> dict[str, str]:
    """Key paths of a job's lights, and what is to stand there: a white and a mix of three colours replace each other.

    Parameters
    ----------
    desk, state : Desk, State
        Where the job is, and its state.
    values : mapping of str to str
        ``dim``, ``colour``, ``red``, ``green``, ``blue``, as written; what is empty stays as the job has it.
    """
    known = leaves(desk.text(state))
    given = {path: values.get(name, "").strip()[:80] for name, path in LIT.items()}
    said = {path: value for path, value in given.items() if value and known.get(path, "") != value}
    mixed = any(path.startswith("lights.mix.") and value for path, value in given.items())
    other = ["lights.colour"] if mixed else [path for path in known if path.startswith("lights.mix.")] if given["lights.colour"] else []
    return said | {path: "" for path in other if path in known}


def asset(reckoned: Reckoned) -> tuple[str, bytes]:
    """Header and tables of `halfsilver.services.look_asset.look_asset`, made once (errors as there)."""
    from halfsilver.services.look_asset import look_asset

    return reckoned.once("asset", lambda: look_asset(reckoned.design, folder=reckoned.loaded.folder))


def eye_numbers(
    reckoned: Reckoned, *, sideways_mm: float, up_mm: float, distance_mm: float, lights: float = 1.0, screen: float = 1.0
) -> EyeNumbers:
    """What an eye sees that need not be one of the job's viewers.

    Parameters
    ----------
    reckoned : Reckoned
        The job.
    sideways_mm, up_mm, distance_mm : float
        The eye, from the centre of the outside and before the front face.
    lights, screen : float
        Factors on the light of strip and screen; 0 is off.

    Raises
    ------
    JobError
        If the optics of the job cannot be used.
    """
    from halfsilver.optics.piece import Eye, numbers, orders_of
    from halfsilver.services.appearance.setting import case_of

    design = reckoned.design
    case = case_of(design, folder=reckoned.loaded.folder)
    setting, strip, shown = case.setting, case.setting.strip, case.setting.screen
    orders = orders_of(setting, case.front, case.rear)
    strip = replace(strip, luminance_cd_m2=strip.luminance_cd_m2 * lights) if strip and lights > 0 else None
    if shown:
        levels = ("white_cd_m2", "peak_cd_m2", "content_cd_m2", "black_cd_m2")
        shown = replace(shown, **{name: getattr(shown, name) * screen for name in levels})
    setting = replace(setting, strip=strip, screen=shown)
    glass = next(layer.to_mm for layer in design.layers if layer.part == "front-glass")
    eye = Eye(distance_mm=distance_mm + glass, sideways_mm=sideways_mm, up_mm=up_mm)
    found = numbers(setting, {"eye": eye}, case.front, case.rear, orders=orders)
    told = {name.removeprefix("eye/"): value for name, value in found.items()}
    return _numbers(told, share=_share(reckoned, sideways_mm, up_mm, distance_mm), on=screen > 0)


def _numbers(told: Mapping[str, float], *, share: float | None, on: bool) -> EyeNumbers:
    ratios = [told[name] for name in told if name.startswith("echo/") and name.endswith("/ratio")]
    images = told.get("visible_images_over_picture" if on and "screen_gain" in told else "visible_images")
    return EyeNumbers(
        mirror=told["mirror_reflectance"], gain=told.get("screen_gain"), contrast=told.get("room_contrast") if on else None,
        first_echo=told.get("echo/1/ratio"), echo_mm=told.get("echo/1/shift_mm"),
        echoes=sum(one >= LEAST_ECHO for one in ratios) if ratios else None,
        images=None if images is None else round(images), deepest_mm=_deepest(told, images), share=share,
    )  # fmt: skip


def _deepest(told: Mapping[str, float], images: float | None) -> float | None:
    return told.get(f"light/{round(images) - 1}/depth_mm") if images else None


def _share(reckoned: Reckoned, sideways_mm: float, up_mm: float, distance_mm: float) -> float | None:
    import numpy as np

    from halfsilver.geometry.openings import seen_through
    from halfsilver.layout.zone import aperture_of

    aperture = aperture_of(reckoned.design)
    if aperture is None:
        return None
    return float(seen_through(aperture, np.array([[sideways_mm], [up_mm], [distance_mm]])).share[0])


def piece_numbers(reckoned: Reckoned) -> PieceNumbers:
    """Depth, mass and price (errors as the design and the bill)."""
    from halfsilver.model.finding import Severity

    design, shown, bill = reckoned.design, reckoned.show, reckoned.making.bill
    price = f"{bill.price:,.0f} {bill.currency}".replace(",", "\u202f")
    return PieceNumbers(
        depth=shown(design.ledger["outside.depth"], "mm"), mass=f"{design.mass_kg:.1f} kg", price=price,
        gap=shown(design.ledger["gap"], "mm") if "gap" in design.ledger else "",
        stops=sum(one.severity is Severity.STOP for one in reckoned.findings),
    )  # fmt: skip


def put_picture(desk: Desk, record: str, data: bytes, *, based_on: int, by: str) -> State:
    """Keep a picture with a job, to be shown on it: read once and written anew, so that only a picture is kept.

    Raises
    ------
    ConflictError
        If another state stands by now.
    JobError
        If it is no picture.
    """
    from halfsilver.services.content import cleaned_png

    words = "A picture to show on it was put with it."
    return desk.attach(record, OWN, cleaned_png(data, file="file"), values={}, based_on=based_on, by=by, words=words)


# Pictures -----------------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=12)
def pattern_png(name: str, *, width_px: int, height_px: int) -> bytes:
    """A built-in picture as PNG, sRGB."""
    import numpy as np

    from halfsilver.files.png import png_bytes
    from halfsilver.optics.picture import encoded
    from halfsilver.services.pictures import CONTENT

    shown = np.rint(255 * encoded(np.clip(CONTENT[name](width_px, height_px), 0.0, 1.0))).astype(np.uint8)
    return png_bytes([shown.tobytes()], width_px=width_px, height_px=height_px, words={})


def pattern_size(reckoned: Reckoned) -> tuple[int, int]:
    """Width and height of a built-in picture in the proportions of the job's screen. [px]"""
    ledger = reckoned.design.ledger
    if "screen.picture.width" not in ledger:
        return PATTERN_PX, PATTERN_PX * 9 // 16
    wide, high = ledger["screen.picture.width"], ledger["screen.picture.height"]
    return round(PATTERN_PX * min(1.0, wide / high)), round(PATTERN_PX * min(1.0, high / wide))


def still_png(desk: Desk, reckoned: Reckoned, *, viewer: str, state: StateWord, content: str = PATTERNS[0], own: str = "") -> bytes:
    """A still, drawn once and then kept as a copy in the desk's cache.

    Parameters
    ----------
    desk : Desk
        Whose cache it is.
    reckoned : Reckoned
        The job.
    viewer, state : str
        As `halfsilver.services.pictures.picture` takes them.
    content : str
        A built-in picture.
    own : str
        SHA-256 in the store of a picture that is shown instead.

    Raises
    ------
    JobError
        If there is no such viewer, or the optics cannot be used.
    """
    from halfsilver import __version__
    from halfsilver.services.content import content_from
    from halfsilver.services.pictures import picture

    parts = (__version__, reckoned.design.digest, desk.shop().digest, viewer, state, content, own, str(STILL_PX))
    kept = desk.cache / "stills" / f"{hashlib.sha256(chr(0).join(parts).encode()).hexdigest()}.png"
    with suppress(OSError):
        return kept.read_bytes()
    shown = content_from(desk.store.blobs([own])[own], file=OWN) if own else content
    with _drawing:
        width, height = STILL_PX
        _, png = picture(
            reckoned.design, viewer=viewer, state=state, width_px=width, height_px=height, content=shown, folder=reckoned.loaded.folder
        )
    _keep(kept, png)
    return png


def _keep(kept: Path, png: bytes) -> None:
    """Keep a copy; those used longest ago go. A cache that cannot be written is none."""
    from halfsilver.files.atomic import write_beside

    with suppress(OSError, JobError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        write_beside(kept, png)
        known = sorted(kept.parent.glob("*.png"), key=lambda one: one.stat().st_mtime)
        for old in known[:-MOST_STILLS]:
            old.unlink(missing_ok=True)
