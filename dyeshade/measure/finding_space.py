"""Raw light seen in colours near sRGB's, for telling cloth from paper.

A camera's own channels overlap, so that colours look dull in them and paper between the strands of
a dark skein is easily taken for cloth. What finds cloth knows photos as cameras render them; raw
light is carried there and its means are carried back, which costs nothing, since both are linear.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.cloth import Cloth
from dyeshade.photo.encoding import Encoding
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]


@dataclass(frozen=True, eq=False)
class FindingSpace:
    """The way to the space in which cloth is looked for, and back.

    Attributes
    ----------
    turn : ndarray, shape (3, 3), or None
        The photo's channels, white divided out, to linear sRGB. None where they are near it.
    """

    turn: Array | None

    def there(self, reflectance: Picture) -> Picture:
        """A picture of reflectance, shape (h, w, 3), in the space where cloth is looked for."""
        if self.turn is None:
            return reflectance
        turned = cv2.transform(np.ascontiguousarray(reflectance), self.turn.astype(np.float32))
        return np.asarray(turned, dtype=np.float32)

    def back(self, mean: Array) -> Array:
        """A mean, shape (3,), in the photo's own channels again."""
        return mean if self.turn is None else np.asarray(np.linalg.solve(self.turn, mean))

    def cloth_back(self, cloth: Cloth) -> Cloth:
        """The cloth with its mean and covariance in the photo's own channels again."""
        if self.turn is None:
            return cloth
        inverse = np.linalg.inv(self.turn)
        covariance = inverse @ cloth.standard_error @ inverse.T
        return replace(cloth, mean=inverse @ cloth.mean, standard_error=covariance)


def finding_space(encoding: Encoding) -> FindingSpace:
    """Where cloth is looked for in a photo of this encoding."""
    if encoding.rendered:
        return FindingSpace(None)
    return FindingSpace(np.asarray(np.linalg.solve(SRGB.to_xyz, encoding.to_xyz), dtype=float))
