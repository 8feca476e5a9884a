"""A job that was read, and what follows from it; each part is reckoned when it is first asked for, and kept for a while."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from threading import Lock
from typing import TYPE_CHECKING, Any, Final, TypeVar

from halfsilver.errors import RenderError

if TYPE_CHECKING:
    from halfsilver.drawing.scene import Scene
    from halfsilver.drawing.view import View
    from halfsilver.engineering.working import Working
    from halfsilver.layout.design import Design
    from halfsilver.ledger.shown import Show
    from halfsilver.model.appearance import AppearanceRecord
    from halfsilver.model.finding import Finding
    from halfsilver.services.findings import Examined
    from halfsilver.services.load import Loaded
    from halfsilver.services.making import Making

T = TypeVar("T")
ON_SCREEN: Final = (0.0, 0.0, 270.0, 200.0)  # of paper: a sheet that is shown a third of a metre wide


@dataclass(frozen=True)
class Reckoned:
    """A job that was read, with what follows from it.

    Every part raises what its service raises: `JobError` or `NoDesignError` for the design, and so on.

    Parameters
    ----------
    loaded : Loaded
        The job and its workshop.
    """

    loaded: Loaded
    _known: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)
    _turns: dict[str, Lock] = field(default_factory=dict, compare=False, repr=False)

    def once(self, name: str, make: Callable[[], T]) -> T:
        """What ``make`` gives under a name, made when it is first asked for: two who ask at once wait for one answer."""
        with self._turns.setdefault(name, Lock()):
            if name not in self._known:
                self._known[name] = make()
            found: T = self._known[name]
            return found

    @property
    def show(self) -> Show:
        """Writes values in the job's units."""
        return self.loaded.show

    @cached_property
    def design(self) -> Design:
        """Sizes, parts and layers."""
        from halfsilver.services.load import resolve

        return resolve(self.loaded)

    @cached_property
    def examined(self) -> Examined:
        """What the rules say, without what will be seen, and the workings behind it."""
        from halfsilver.services.findings import examined

        return examined(self.design, self.show)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules say, without what will be seen."""
        return self.examined.findings

    @property
    def workings(self) -> Mapping[Finding, tuple[Working, ...]]:
        """The workings of those findings that were worked out."""
        return self.examined.workings

    @cached_property
    def making(self) -> Making:
        """Cut plan, build steps and bill."""
        from halfsilver.services.making import making_of

        return making_of(self.design, folder=self.loaded.folder)

    @property
    def appearance(self) -> AppearanceRecord:
        """What will be seen, in numbers."""
        from halfsilver.services.appearance.predict import predicted

        return self.once("appearance", lambda: predicted(self.loaded, self.design))

    @cached_property
    def all_findings(self) -> tuple[Finding, ...]:
        """What the rules say, with what will be seen."""
        from halfsilver.services.appearance.findings import appearance_findings, with_appearance

        return with_appearance(self.findings, appearance_findings(self.design, self.appearance, self.show))

    @cached_property
    def scenes(self) -> Mapping[str, Scene]:
        """Every drawing by name."""
        from halfsilver.documents.drawings import scenes
        from halfsilver.documents.sizes import Sizes

        return scenes(Sizes(self.design, self.show))

    def view(self, name: str) -> View:
        """One drawing at the scale at which its lettering can be read on a screen; where that is too small, as on its sheet.

        Raises
        ------
        KeyError
            If the job has no such drawing.
        """
        from halfsilver.documents.drawings import DRAWN_SCALES, free_box, scene
        from halfsilver.documents.sizes import Sizes
        from halfsilver.drawing.fit import fitted

        drawn = scene(Sizes(self.design, self.show), name)
        try:
            return fitted(drawn, box=ON_SCREEN, scales=DRAWN_SCALES)
        except RenderError:
            return fitted(drawn, box=free_box(self.loaded.job), scales=DRAWN_SCALES)

    def svg(self, name: str) -> str:
        """One drawing as SVG (errors as `view`)."""
        from halfsilver.drawing.svg import view_svg

        return self.once(f"drawing {name}", lambda: view_svg(self.view(name), margin_mm=3.0))


class Shelf:
    """Keeps the last few reckoned jobs by the digest of what went into them.

    Parameters
    ----------
    most : int
        How many are kept; the one that was asked for longest ago goes first.
    """

    def __init__(self, most: int = 48) -> None:
        self._most = most
        self._kept: OrderedDict[str, Reckoned] = OrderedDict()
        self._lock = Lock()

    def get(self, key: str, make: Callable[[], Reckoned]) -> Reckoned:
        """The kept one, or what ``make`` gives; nothing is kept where it raises."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        made = make()
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return made

    def __len__(self) -> int:
        return len(self._kept)
