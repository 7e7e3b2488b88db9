"""Which way of measuring made a number."""

from __future__ import annotations

METHOD_VERSION = 4
"""Counts ways of measuring, and is kept with each reading.

Raise it by one with any change that gives other numbers for the same photo (light, tone curve,
camera, cloth, uncertainty, what is averaged): readings that a photo gave before then stay beside
those that it gives now. Leave it for changes of words, speed, or what is refused.
"""
