"""Finds the files that come with the program, wherever it was installed from."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def resource_path(name: str) -> Path:
    """Path of a file under ``resources/``.

    Parameters
    ----------
    name : str
        Path below ``resources/``, with forward slashes.

    Returns
    -------
    Path

    Raises
    ------
    FileNotFoundError
        Where the file is in neither place: the installation is broken.
    """
    # A checkout comes first: the copy that an editable install leaves beside the code goes stale.
    checkout = _PACKAGE.parent / "resources"
    beside = (_PACKAGE.parent / "pyproject.toml").is_file()
    for root in ([checkout] if beside else []) + [_PACKAGE / "_resources"]:
        if (root / name).exists():
            return root / name
    raise FileNotFoundError(f"resource {name!r} is missing from this installation")


def example_photos() -> list[Path]:
    """The example photos, where this installation has them: none is no fault."""
    for folder in (_PACKAGE.parent / "example_images", _PACKAGE / "_resources/example_images"):
        found = sorted(folder.glob("*.jpg"))
        if found:
            return found
    return []
