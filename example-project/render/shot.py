"""What one photograph is: a scene, a camera, a date."""

from dataclasses import dataclass, field
from typing import Callable

WIDE, TALL, CLOSE = (1600, 1200), (1200, 1600), (1400, 1050)


@dataclass
class Shot:
    """One picture. `scene` builds it and returns its named points in world coordinates."""

    piece: str
    name: str
    taken: str                     # local time, "2026-03-02 10:15:00"
    scene: Callable
    at: tuple                      # camera position, metres
    look: tuple                    # point in the middle of the picture
    focal: float = 45.0            # millimetres, 36 mm wide sensor
    fstop: float = 5.6
    focus: tuple | None = None     # the sharp point; `look` if absent
    size: tuple = CLOSE
    roll: float = 0.0              # degrees; a hand-held camera is never quite level
    light: dict = field(default_factory=dict)
    exposure: float = 0.05         # stops
    faithful: bool = False         # plain sRGB instead of a film-like curve, for measuring colour
    orientation: int = 1           # EXIF; the pixels are stored turned to match
    marks: tuple = ()              # names of points to write into landmarks.json
    areas: tuple = ()              # names of rectangles (four points each) to write there
    outlines: bool = False         # whether the outlines of the parts on it are written there

    @property
    def path(self):
        return f"{self.piece}/{self.name}"
