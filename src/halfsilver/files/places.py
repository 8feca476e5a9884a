"""Where a person's own data lies, by the custom of each system."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def data_folder() -> Path:
    """The folder of this program's data; it need not be there yet."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return base / "halfsilver"


def cache_folder() -> Path:
    """The folder of copies that may be removed at any time."""
    return data_folder() / "cache"
