"""An empty shade library, and one of the invented Hollow Weir Dye Room."""

from tests.library.conftest import library, workshop

__all__ = ["library", "workshop"]
