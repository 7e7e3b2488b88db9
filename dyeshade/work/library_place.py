"""Where the shade library lies unless another place is named."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

VARIABLE = "DYESHADE_LIBRARY"
"""Environment variable that names another place."""

FOLDER = "dyeshade library"


def library_folder() -> Path:
    """The folder of a person's shade library, whether it is there yet or not.

    Returns
    -------
    Path
        What `VARIABLE` names; else `FOLDER` among the person's documents, or at home where there is
        no such place.
    """
    named = os.environ.get(VARIABLE, "").strip()
    if named:
        return Path(named).expanduser()
    documents = documents_folder()
    return (documents if documents.is_dir() else Path.home()) / FOLDER


def documents_folder() -> Path:
    """Where a person's documents lie.

    References
    ----------
    freedesktop.org, "xdg-user-dirs": ``user-dirs.dirs`` names the folder in the person's language.
    """
    home = Path.home()
    if sys.platform.startswith("linux"):
        settings = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config") / "user-dirs.dirs"
        try:
            text = settings.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            text = ""
        found = re.search(r'^XDG_DOCUMENTS_DIR="(.+)"', text, re.MULTILINE)
        if found:
            return Path(found[1].replace("$HOME", str(home)))
    return home / "Documents"
