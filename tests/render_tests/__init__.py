"""Tests of the renderer itself."""
