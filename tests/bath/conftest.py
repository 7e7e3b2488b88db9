"""Rules that hold for all values are tried without a clock: machines are busy at times."""

from hypothesis import settings

settings.register_profile("dye_room", deadline=None)
settings.load_profile("dye_room")
