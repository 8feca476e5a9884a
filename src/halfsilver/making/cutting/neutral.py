"""The neutral form of tasks and plans: plain dictionaries, and back.

Formats ``cut-instance/1``, ``cut-pack/1`` and ``cut-solution/1``; reading gathers every problem.
"""

from __future__ import annotations

from halfsilver.making.cutting.neutral_reading import instance_from_dict, solution_from_dict
from halfsilver.making.cutting.neutral_writing import instance_to_dict, solution_to_dict

__all__ = ["instance_from_dict", "instance_to_dict", "solution_from_dict", "solution_to_dict"]
