"""A scene: everything about one photo in one frozen value, and a generator of random ones."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field, replace

import numpy as np

from .curves import FAMILIES
from .ink import Print, random_print
from .pieces import Piece, random_pieces
from .sheet import Sheet
from .spectra import cameras
from .tag import Tag


@dataclass(frozen=True, eq=False)
class Scene:
    """One photo to be rendered. Every trouble is a field; the defaults are a kind photo.

    Attributes
    ----------
    sheet, pieces, tags, seed
        What is photographed, tags on top; ``seed`` draws everything that is not given by a field.
    printed, patch_noise, print_seed
        How the print differs from the plain one; relative noise from patch to patch; what draws
        that noise: give photos of one printed sheet the same number (-1 takes ``seed``).
    light, ambient_light
        Names for ``spectra.light``; ambient "" means the same light everywhere.
    light_factor, light_from_deg, light_height_deg
        Brightest over darkest place on the sheet; where the window stands.
    shadow_depth, shadow_edge_mm, shadow_angle_deg, shadow_offset_mm
        A soft shadow over part of the sheet; depth 0 is none.
    camera, white_error, exposure
        Measured camera; factors on red and blue before the matrix; linear light of a
        perfect diffuser at the brightest place, before the tone curve (above 1.1 paper clips).
    look, curve, curve_strength, camera_seed
        The maker's rendering: "none", "mild", "typical", "strong"; a family of ``curves``; what
        draws the character of both: give photos of one camera the same number (-1: ``seed``).
    flare
        Veiling glare as a share of the light of white paper.
    noise
        Relative noise of a pixel at white; read noise goes with it.
    blur_px, sharpen, denoise
        Lens blur (sigma), strength of sharpening, strength of chroma denoising 0..1.
    tilt_deg, tilt_towards_deg, turn_deg, distance_mm, fill, lens_k1, aim_mm
        Geometry, as in ``viewpoint.make_viewpoint``.
    curl_mm, bend_mm
        How far corners lift; how far the middle lifts.
    table
        "wood", "grey", "white" or "dark".
    strands_over, leaf_over
        How many stray strands lie across the sheet's edge parts; whether a leaf does.
    long_side_px, file_format, quality, primaries, profile, orientation, taken
        The file: "jpeg", "png", "png16", "tiff16", "dng" (raw light); "sRGB" or "Display P3";
        whether it carries an ICC profile; EXIF orientation 1, 3, 6 or 8.
    """

    sheet: Sheet
    pieces: tuple[Piece, ...] = ()
    tags: tuple[Tag, ...] = ()
    seed: int = 0
    printed: Print = field(default_factory=Print)
    patch_noise: float = 0.005
    print_seed: int = -1
    light: str = "daylight 6000"
    ambient_light: str = ""
    light_factor: float = 1.15
    light_from_deg: float = 200.0
    light_height_deg: float = 50.0
    shadow_depth: float = 0.0
    shadow_edge_mm: float = 20.0
    shadow_angle_deg: float = 0.0
    shadow_offset_mm: float = 60.0
    camera: str = "Nikon D810"
    white_error: tuple[float, float] = (1.0, 1.0)
    exposure: float = 0.9
    look: str = "none"
    curve: str = "hill"
    curve_strength: float = 1.0
    camera_seed: int = -1
    flare: float = 0.004
    noise: float = 0.006
    blur_px: float = 0.7
    sharpen: float = 0.4
    denoise: float = 0.0
    tilt_deg: float = 5.0
    tilt_towards_deg: float = 0.0
    turn_deg: float = 0.0
    distance_mm: float = 700.0
    fill: float = 0.92
    lens_k1: float = 0.0
    aim_mm: tuple[float, float] = (0.0, 0.0)
    curl_mm: float = 0.0
    bend_mm: float = 0.0
    table: str = "wood"
    strands_over: int = 0
    leaf_over: bool = False
    long_side_px: int = 2400
    file_format: str = "jpeg"
    quality: int = 92
    primaries: str = "sRGB"
    profile: bool = True
    orientation: int = 1
    taken: dt.datetime = dt.datetime(2025, 3, 14, 11, 20, 0)

    def with_(self, **changes: object) -> Scene:
        """The same scene with some fields changed."""
        return replace(self, **changes)  # type: ignore[arg-type]


def random_scene(
    rng: np.random.Generator,
    sheet: Sheet,
    light: str = "daylight",
    troubles: float = 1.0,
    look: str | None = None,
    **changes: object,
) -> Scene:
    """A random scene within the stated ranges.

    Parameters
    ----------
    rng, sheet
        Source of chance; the sheet that is photographed.
    light
        "daylight" (D50 to D75), "led" (LED-B1 to B5 and others), or a name for ``spectra.light``.
    troubles
        0 is a kind photo, 1 mixes troubles over the whole stated range.
    look
        Strength of the maker's look; by default mostly "mild" and "typical".
    changes
        Fields of `Scene` to set as given.
    """
    t = float(troubles)

    def often(chance: float) -> bool:
        return bool(rng.random() < chance * t)

    if light == "daylight":
        cct = rng.uniform(5000, 7500)
        light_name = f"daylight {cct:.0f}"
        ambient = f"daylight {np.clip(cct + rng.normal(0, 350), 4200, 9000):.0f}"
    elif light == "led":
        light_name = str(rng.choice(["LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-V1"]))
        ambient = ""
    else:
        light_name, ambient = light, ""
    if look is None:
        look = str(rng.choice(["mild", "typical", "strong", "none"], p=[0.35, 0.5, 0.05, 0.1]))
    tilt = float(rng.uniform(0, 35)) if often(0.5) else float(rng.uniform(0, 10)) * min(t, 1.0)
    white = 0.2 * t * rng.uniform(-1, 1, size=2) if often(0.5) else 0.05 * t * rng.normal(size=2)
    white = np.clip(white, -0.2, 0.2)
    exposure = float(rng.uniform(1.1, 1.35)) if often(0.06) else float(rng.uniform(0.55, 1.0))
    scene = Scene(
        sheet=sheet,
        pieces=random_pieces(rng, sheet, t, tilt),
        seed=int(rng.integers(2**31)),
        printed=random_print(rng, 0.02),
        light=light_name,
        ambient_light=ambient,
        light_factor=float(rng.uniform(1.03, 1 + 0.6 * max(t, 0.1))),
        light_from_deg=float(rng.uniform(0, 360)),
        light_height_deg=float(rng.uniform(30, 75)),
        shadow_depth=float(rng.uniform(0.15, 0.6)) if often(0.15) else 0.0,
        shadow_edge_mm=float(rng.uniform(10, 50)),
        shadow_angle_deg=float(rng.uniform(0, 360)),
        shadow_offset_mm=float(rng.uniform(50, 100)),
        camera=str(rng.choice(list(cameras()))),
        white_error=(1 + float(white[0]), 1 + float(white[1])),
        exposure=exposure,
        look=look,
        curve=str(rng.choice(FAMILIES[1:])),
        curve_strength=float(rng.uniform(0.4, 1.0)),
        flare=float(np.exp(rng.uniform(np.log(0.002), np.log(0.02 if t > 0 else 0.004)))),
        noise=float(rng.uniform(0.004, 0.02)),
        blur_px=float(rng.uniform(0.5, 1.1)),
        sharpen=float(rng.uniform(0.0, 0.8)),
        denoise=float(rng.choice([0.0, 0.5, 1.0])),
        tilt_deg=tilt,
        tilt_towards_deg=float(rng.uniform(0, 360)),
        turn_deg=float(rng.choice([0, 90, 180, 270]) + rng.normal(0, 4)),
        distance_mm=float(rng.uniform(600, 1000)),
        fill=float(rng.uniform(0.86, 0.96)),
        lens_k1=float(rng.uniform(-0.08, 0.08)) * t,
        curl_mm=float(rng.uniform(2, 12)) if often(0.25) else 0.0,
        bend_mm=float(rng.uniform(1, 8)) if often(0.15) else 0.0,
        table=str(rng.choice(["wood", "grey", "white", "dark"])),
        strands_over=int(rng.integers(1, 4)) if often(0.25) else 0,
        leaf_over=often(0.12),
        file_format=str(rng.choice(["jpeg", "png", "png16", "tiff16"], p=[0.85, 0.05, 0.05, 0.05])),
        quality=int(rng.integers(85, 96)),
        primaries=str(rng.choice(["sRGB", "Display P3"])),
        orientation=int(rng.choice([1, 3, 6, 8])),
    )
    return scene.with_(**changes)
