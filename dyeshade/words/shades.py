"""A shade and its uncertainty, said to people."""

from __future__ import annotations

# Steps of CIEDE2000 in words: common practice, no source.
_SEEN = (
    (1.0, "too little to see"),
    (3.0, "just visible"),
    (6.0, "plain to see"),
)
_SEEN_BEYOND = "a large difference"


def sure_to(u95: float) -> str:
    """The uncertainty in plain words, as in "about 2: just visible".

    Parameters
    ----------
    u95 : float
        CIEDE2000 within which the truth lies 95 times in 100.
    """
    about = f"{u95:.0f}" if u95 >= 1.95 else f"{u95:.1f}"
    seen = next((words for below, words in _SEEN if float(about) < below), _SEEN_BEYOND)
    return f"about {about}: {seen}"


def hex_colour(srgb: tuple[int, int, int]) -> str:
    """An sRGB colour as in "#8d7a44"."""
    return "#{:02x}{:02x}{:02x}".format(*srgb)


def lab_words(lab: tuple[float, float, float]) -> str:
    """CIELAB as in "L* 52.3, a* 10.2, b* 33.1"."""
    return "L* {:.1f}, a* {:z.1f}, b* {:z.1f}".format(*lab)
