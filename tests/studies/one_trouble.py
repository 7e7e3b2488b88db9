"""Each trouble alone at the end of its stated range, on dull pieces, in light from all sides.

Run from the checkout's top::

    python -m tests.studies.one_trouble            # a line a trouble: the worst z, what was said
    python -m tests.studies.one_trouble --lights 6 --look typical

Dull colours are the surest, so that an error of light, flare or curve shows in them first. A sample
outside what was stated (z = error / u95 above 1) counts as silent where no notice says why.
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

import numpy as np

from tests.main_job.at_the_ends import RAISED, TROUBLES, Outcome, Trouble, outcomes, scene_with
from tests.studies.accuracy import JUDGING


def tried(trouble: Trouble, number: int, look: str) -> list[Outcome]:
    """One photo with this trouble: light, camera and curve differ from number to number."""
    rng = np.random.default_rng([35, number])
    fields: dict[str, object] = {
        "light_from_deg": float(rng.uniform(0, 360)),
        "light_height_deg": float(rng.uniform(30, 75)),
        "camera": JUDGING[int(rng.integers(len(JUDGING)))],
        "exposure": float(rng.uniform(0.6, 0.95)),
        "tilt_towards_deg": float(rng.uniform(0, 360)),
        "shadow_angle_deg": float(rng.uniform(0, 360)),
        "look": look,
    }
    fields |= {name: value for name, value in trouble.fields.items() if name in fields}
    scene = scene_with(trouble, dull=True, seed=number, **fields)
    with tempfile.TemporaryDirectory() as folder:
        return outcomes(scene, Path(folder))[1]


def main() -> None:
    """Try all, print a line each."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--lights", type=int, default=4, help="photos for each trouble")
    parser.add_argument("--look", default="none")
    parser.add_argument("--only", default="", help="troubles whose name holds this")
    asked = parser.parse_args()
    for name, trouble in (TROUBLES | RAISED).items():
        if asked.only not in name:
            continue
        found = [one for k in range(asked.lights) for one in tried(trouble, k, asked.look)]
        outside = [one for one in found if one.error > one.u95]
        # What a perfect reader misses as well is the camera's own colours, no trouble's doing.
        silent = [one for one in outside if not one.codes & trouble.tells and one.limit < one.u95]
        worst = max(found, key=lambda one: one.error / one.u95)
        print(
            f"{name}: {len(found)} samples, {len(outside)} outside, {len(silent)} silently; "
            f"worst {worst.name}: error {worst.error:.1f} "
            f"(perfect reader {worst.limit:.1f}), u95 {worst.u95:.1f}, "
            f"said {', '.join(sorted(worst.codes)) or 'nothing'}",
            flush=True,
        )


if __name__ == "__main__":
    main()
