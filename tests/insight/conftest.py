"""The library of the Hollow Weir Dye Room, invented like all that is in it."""

from tests.library.conftest import library, workshop

__all__ = ["library", "workshop"]
