"""What a plot shows, as plain values in the units of its axes: for the PDF and for the screen."""

from __future__ import annotations

from dataclasses import dataclass

Rgb = tuple[int, int, int]
"""sRGB, 0..255 each."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Axis:
    """One axis.

    Attributes
    ----------
    words : str
        What is told along it, with its unit.
    low, high : float
        Where it ends.
    ticks : tuple of (float, str)
        Values that are marked, and what is written beside them.
    """

    words: str
    low: float
    high: float
    ticks: tuple[tuple[float, str], ...] = ()


@dataclass(frozen=True)
class Mark:
    """A value, shown as a swatch.

    Attributes
    ----------
    x, y : float
    words : str
        What is told when it is pointed at.
    srgb : tuple of 3 ints or None
        None for a value that has no colour.
    reading_id : int or None
        The reading that can be opened from it.
    x_ends, y_ends : tuple of 2 floats or None
        Ends of its 95 % interval.
    ring : tuple of points
        Its 95 % region, as a closed line.
    chosen : bool
        Whether it is the one that others are set beside, or one that warns: it has a frame.
    """

    x: float
    y: float
    words: str
    srgb: Rgb | None = None
    reading_id: int | None = None
    x_ends: Point | None = None
    y_ends: Point | None = None
    ring: tuple[Point, ...] = ()
    chosen: bool = False


@dataclass(frozen=True)
class Curve:
    """A line through points; dashed for the second of two, thin for an uncertainty."""

    points: tuple[Point, ...]
    dashed: bool = False
    thin: bool = False


@dataclass(frozen=True)
class Band:
    """What lies between two curves, as (x, low, high) from left to right: an uncertainty."""

    points: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True)
class Upright:
    """A line across the plot at one x, with words above it, as a treatment."""

    x: float
    words: str
    dashed: bool = True


@dataclass(frozen=True)
class Level:
    """A line along the plot at one y, as a limit, with words at its right."""

    y: float
    words: str = ""
    dashed: bool = True


@dataclass(frozen=True)
class Patch:
    """A field of one colour between two x and two y."""

    x: Point
    y: Point
    srgb: Rgb
    words: str


@dataclass(frozen=True)
class Label:
    """Words beside a point within the plot."""

    x: float
    y: float
    words: str


@dataclass(frozen=True)
class Plot:
    """One plot.

    Attributes
    ----------
    title : str
    x, y : Axis
    equal : bool
        Whether a step of x is as long as one of y, as for a* and b*.
    """

    title: str
    x: Axis
    y: Axis
    equal: bool = False
    bands: tuple[Band, ...] = ()
    patches: tuple[Patch, ...] = ()
    levels: tuple[Level, ...] = ()
    uprights: tuple[Upright, ...] = ()
    curves: tuple[Curve, ...] = ()
    marks: tuple[Mark, ...] = ()
    labels: tuple[Label, ...] = ()


@dataclass(frozen=True)
class Figure:
    """Plots that belong together, with what is said of them.

    Attributes
    ----------
    title : str
    sentences : tuple of str
        Said above the plots where the figure stands alone, as in a file.
    rows : tuple of tuples of Plot
        Plots side by side, row below row.
    heights : tuple of float
        Shares of the rows.
    """

    title: str
    sentences: tuple[str, ...]
    rows: tuple[tuple[Plot, ...], ...]
    heights: tuple[float, ...]
