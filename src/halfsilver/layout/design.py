"""The design: the resolved job, frozen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from halfsilver.layout.facts import Facts
from halfsilver.ledger.ledger import Ledger
from halfsilver.model.design import Layer, Part, Suitability


@dataclass(frozen=True)
class Design:
    """A resolved job.

    Parameters
    ----------
    facts : Facts
        The job, the workshop and the decisions it was made from.
    ledger : Ledger
        Every dimension.
    parts : tuple of Part
        Every body.
    layers : tuple of Layer
        The stack, front to back.
    suits : tuple of Suitability
        Which mouldings of the catalogue would do, and why the others not.
    """

    facts: Facts
    ledger: Ledger
    parts: tuple[Part, ...]
    layers: tuple[Layer, ...]
    suits: tuple[Suitability, ...] = ()

    @property
    def mass_kg(self) -> float:
        """Total mass. [kg]"""
        return sum(part.mass_kg * part.quantity for part in self.parts)

    @property
    def centre_mm(self) -> tuple[float, float, float]:
        """Centre of mass: x right, y up from the centre of the outside, z towards the viewer from the front face. [mm]"""
        total = self.mass_kg
        x, y, z = (sum(part.mass_kg * part.quantity * part.at_mm[axis] for part in self.parts) / total for axis in range(3))
        return x, y, z

    @cached_property
    def digest(self) -> str:
        """Digest of sizes, parts and layers; reasons do not count."""
        told = {
            "ledger": {name: round(value, 6) for name, value in sorted(self.ledger.values.items())},
            "parts": [(part.id, part.material, [round(size, 6) for size in part.size_mm], part.quantity) for part in self.parts],
            "layers": [(layer.part, round(layer.from_mm, 6), round(layer.to_mm, 6)) for layer in self.layers],
        }
        import hashlib
        import json

        return hashlib.sha256(json.dumps(told, sort_keys=True, separators=(",", ":")).encode()).hexdigest()
