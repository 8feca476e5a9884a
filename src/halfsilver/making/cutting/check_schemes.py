"""Finding an order of edge-to-edge cuts that parts given panes, within stages, kerf and narrowest strip.

Everything is grown by one kerf to the right and upwards, rectangles and sheet alike; then neighbours may touch, and the last kerf of a
row falls off the sheet's edge. Without a limit on stages and strips any cut that hits no pane may be made at once, for the parts of a
guillotine layout are guillotine layouts themselves. With limits the possible cuts are searched.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from halfsilver.making.cutting.instance import FirstCut, SheetInstance
from halfsilver.making.cutting.solution import PlacedPane

Box = tuple[int, int, int, int]  # left, bottom, right, top
MOST_STATES = 20_000


def scheme_exists(instance: SheetInstance, usable: Box, panes: tuple[PlacedPane, ...]) -> bool:
    """Whether some scheme of cuts within the instance's rules leaves exactly these panes.

    The search is bounded: a layout for which it finds nothing within its budget counts as impossible.
    """
    kerf = instance.kerf
    boxes = tuple(sorted((p.x, p.y, p.x + p.w + kerf, p.y + p.h + kerf) for p in panes))
    region = (usable[0], usable[1], usable[2] + kerf, usable[3] + kerf)
    search = _Search(instance=instance)
    starts = ("v", "h")
    return any(search.parts(region, boxes, start, _first_stage(instance, start)) for start in starts)


def _first_stage(instance: SheetInstance, start: str) -> int:
    return 1 if instance.first_cut is FirstCut.ANY or instance.first_cut.value == start else 2


@dataclass(slots=True)
class _Search:
    instance: SheetInstance
    known: dict[tuple[Box, tuple[Box, ...], str, int], bool] = field(default_factory=dict)

    def parts(self, region: Box, boxes: tuple[Box, ...], direction: str, stage: int) -> bool:
        """Whether cuts that begin in ``direction`` at ``stage`` part the boxes."""
        key = (region, boxes, direction, stage)
        if key not in self.known:
            if len(self.known) >= MOST_STATES:
                return False
            self.known[key] = False
            self.known[key] = self._parts(region, boxes, direction, stage)
        return self.known[key]

    def _parts(self, region: Box, boxes: tuple[Box, ...], direction: str, stage: int) -> bool:
        if not boxes or boxes == (region,):
            return True
        limit = self.instance.stages
        if limit is not None and stage > limit:
            return not self.instance.exact and stage == limit + 1 and self._trims(region, boxes, direction)
        return any(self._cut(region, boxes, direction, stage, at) for at in self._places(region, boxes, direction)) or self._turn(
            region, boxes, direction, stage
        )

    def _turn(self, region: Box, boxes: tuple[Box, ...], direction: str, stage: int) -> bool:
        other = "h" if direction == "v" else "v"
        counted = 0 if self.instance.stages is None else 1
        return any(True for _ in self._places(region, boxes, other)) and self.parts(region, boxes, other, stage + counted)

    def _cut(self, region: Box, boxes: tuple[Box, ...], direction: str, stage: int, at: int) -> bool:
        i = 0 if direction == "v" else 1
        low, high = _with(region, i + 2, at), _with(region, i, at)
        before, after = tuple(b for b in boxes if b[i] < at), tuple(b for b in boxes if b[i] >= at)
        if not self._waste_ok(low, before, i, last=False) or not self._waste_ok(high, after, i, last=True):
            return False
        return self.parts(low, before, direction, stage) and self.parts(high, after, direction, stage)

    def _waste_ok(self, part: Box, boxes: tuple[Box, ...], i: int, *, last: bool) -> bool:
        """A part without a pane is a waste strip: wide enough, or eaten by the kerf at the far edge."""
        if boxes:
            return True
        width = part[i + 2] - part[i] - self.instance.kerf
        return (last and width <= 0) or width >= max(self.instance.min_strip, 1)

    def _places(self, region: Box, boxes: tuple[Box, ...], direction: str) -> list[int]:
        """Positions of cuts that hit no pane; only the first when neither stages nor strips are limited."""
        i = 0 if direction == "v" else 1
        strip = self.instance.min_strip + self.instance.kerf
        edges = {edge for b in boxes for edge in (b[i], b[i + 2])}
        if self.instance.min_strip:
            edges |= {b[i + 2] + strip for b in boxes} | {b[i] - strip for b in boxes}
        free = sorted(at for at in edges if region[i] < at < region[i + 2] and not any(b[i] < at < b[i + 2] for b in boxes))
        if not self.instance.min_strip:
            return free[:1] if not self.instance.kerf else free
        return free

    def _trims(self, region: Box, boxes: tuple[Box, ...], direction: str) -> bool:
        """One last cut that parts one pane from waste on one side."""
        i = 0 if direction == "v" else 1
        if len(boxes) != 1 or any(boxes[0][j] != region[j] for j in (1 - i, 3 - i)):
            return False
        before, after = boxes[0][i] - region[i], region[i + 2] - boxes[0][i + 2]
        kerf, strip = self.instance.kerf, max(self.instance.min_strip, 1)
        return (before == 0 and (after <= kerf or after - kerf >= strip)) or (after == 0 and before - kerf >= strip)


def _with(box: Box, i: int, value: int) -> Box:
    return (*box[:i], value, *box[i + 1 :])  # type: ignore[return-value]
