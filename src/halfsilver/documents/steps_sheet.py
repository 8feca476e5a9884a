"""Build steps as cards with boxes, and their schedule as a plain bar chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.relief import plain_name
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence, shortened
from halfsilver.model.making import Checkpoint, Scheduled, Step

TICKS_MIN = (15, 30, 60, 120, 240, 480, 720, 1440, 2880, 5760)
MOST_TICKS = 12
TITLE_MM, TITLE_CAPITAL_MM = 54.0, 2.05


def time_text(minutes: float) -> str:
    """Minutes in words; from two days on to the hour.

    Examples
    --------
    >>> time_text(25), time_text(135), time_text(1440), time_text(3000)
    ('25 min', '2 h 15 min', '24 h', '2 days 2 h')
    """
    hours, rest = divmod(round(minutes), 60)
    if hours >= 48:
        days, hours = divmod(round(minutes / 60), 24)
        return f"{days} days" + (f" {hours} h" if hours else "")
    told = [f"{hours} h"] if hours else []
    return " ".join(told + ([f"{rest} min"] if rest or not told else []))


def step_rows(sizes: Sizes, steps: Sequence[Step]) -> list[Row]:
    """A card per step, in the given order."""
    numbers = {step.id: k for k, step in enumerate(steps, start=1)}
    names = {part.id: printable(part.name.partition(", mitred")[0]) for part in sizes.design.parts}
    return [_card(sizes, step, numbers, names) for step in steps]


def _card(sizes: Sizes, step: Step, numbers: dict[str, int], names: dict[str, str]) -> Row:
    return {
        "number": str(numbers[step.id]),
        "title": printable(step.title),
        "text": printable(step.text),
        "facts": list(_facts(step, names)),
        "work": time_text(step.work_min),
        "wait": time_text(step.wait_min) if step.wait_min else "",
        "after": ", ".join(map(str, sorted(numbers[name] for name in step.after if name in numbers))),
        "checkpoints": [_checkpoint(sizes, point) for point in step.checkpoints],
        "cautions": [printable(caution) for caution in step.cautions],
    }


def _facts(step: Step, names: dict[str, str]) -> Iterator[dict[str, str]]:
    told = (
        ("Parts", sentence("; ".join(names.get(part, printable(part)) for part in step.parts))),
        ("Tool", printable(step.tool)),
        ("Setting", printable(step.setting)),
        ("Drawing", drawing_title(step.drawing)),
        ("Mark", "; ".join(printable(mark) for mark in step.marks)),
        ("Fasteners", printable(step.fasteners)),
    )
    return ({"label": label, "value": value} for label, value in told if value)


def drawing_title(stem: str) -> str:
    """Title of the sheet on which a drawing stands.

    Examples
    --------
    >>> drawing_title("section-left"), drawing_title("front-stick-long"), drawing_title("")
    ('Section through the left', 'Sticks', '')
    """
    plain = {
        "front": "Front view",
        "back": "Back view",
        "front-glass": "Front glass, from the front",
        "rear-glass": "Rear glass, from the front",
    }
    if not stem or stem in plain:
        return plain.get(stem, "")
    kinds = {"section-": f"Section through the {stem.removeprefix('section-')}", "batten-": "Battens"}
    if stem.startswith("relief-"):
        return f"Relief pocket: {plain_name(stem.removeprefix('relief-'))}"
    if "-stick-" in stem:
        return "Sticks"
    return next((title for start, title in kinds.items() if stem.startswith(start)), sentence(printable(stem).replace("-", " ")))


def _checkpoint(sizes: Sizes, point: Checkpoint) -> Row:
    ledger = sizes.design.ledger
    places = point.at or ("",)
    read = {place: ledger.reading_at(point.entry, place) if point.entry in ledger else None for place in places}
    return {
        "entry": printable(point.entry),
        "label": sentence(printable(point.label)),
        "expected": sizes.show(point.expected_mm, "mm"),
        "tolerance": sizes.limit(point.tolerance_mm) if point.tolerance_mm else "exact",
        "boxes": [{"place": place, "value": "" if value is None else sizes.show(value, "mm")} for place, value in read.items()],
    }


def chart(steps: Sequence[Step], schedule: Sequence[Scheduled]) -> Row:
    """The schedule: bars as shares of the whole time.

    Parameters
    ----------
    steps : sequence of Step
        In the order of their numbers.
    schedule : sequence of Scheduled
        When each can begin, end and is ready. [min]
    """
    when = {item.step: item for item in schedule}
    whole = max((item.ready_min for item in schedule), default=0.0)
    if not whole:
        return {"rows": [], "ticks": [], "sentence": ""}
    tick = next((t for t in TICKS_MIN if whole / t <= MOST_TICKS), TICKS_MIN[-1] * ceil(whole / TICKS_MIN[-1] / MOST_TICKS))
    ticks = [{"at": 100 * k * tick / whole, "text": time_text(k * tick)} for k in range(int(whole // tick) + 1)]
    rows = [_bar(k, step, when[step.id], whole) for k, step in enumerate(steps, start=1) if step.id in when]
    work, wait = sum(step.work_min for step in steps), sum(step.wait_min for step in steps)
    told = f"Earliest finish: {time_text(whole)} after the start; {time_text(work)} of work in all"
    return {
        "rows": rows,
        "ticks": ticks,
        "sentence": f"{told}, {time_text(wait)} of waiting, some of it while other steps go on." if wait else f"{told}.",
    }


def _bar(number: int, step: Step, item: Scheduled, whole: float) -> Row:
    return {
        "number": str(number),
        "title": shortened(step.title, room_mm=TITLE_MM, size_mm=TITLE_CAPITAL_MM),
        "start": 100 * item.start_min / whole,
        "work": 100 * (item.end_min - item.start_min) / whole,
        "wait": 100 * (item.ready_min - item.end_min) / whole,
    }
