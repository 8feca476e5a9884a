"""Where a person's own data lies, by the custom of each system."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from halfsilver.errors import StoreError


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


def store_address(url: str | None = None) -> str:
    """The store's address: as given, as ``HALFSILVER_STORE`` says, or a file in the person's own data folder, which is made.

    Raises
    ------
    StoreError
        If that folder cannot be made.
    """
    found = url or os.environ.get("HALFSILVER_STORE")
    if found:
        return found
    folder = data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError(f"{folder}: cannot be made ({error.strerror}). Name another place with --store.") from None
    return f"sqlite:///{folder / 'store.sqlite'}"
