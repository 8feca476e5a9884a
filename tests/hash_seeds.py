"""Runs a piece of code in fresh interpreters with different hash seeds."""

from __future__ import annotations

import os
import subprocess
import sys


def outputs(code: str, *, seeds: tuple[str, ...] = ("1", "77")) -> list[str]:
    """What the code writes to standard output under each seed."""
    path = os.pathsep.join(p for p in sys.path if p)
    command = [sys.executable, "-c", code]
    environments = [{**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": seed} for seed in seeds]
    return [subprocess.run(command, check=True, capture_output=True, text=True, env=environment).stdout for environment in environments]
