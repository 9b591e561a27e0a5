"""Films for a camera that is not there: printed labels as a hand-held phone sees them."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

WIDTH, HEIGHT, FRAMES, FRAMES_A_SECOND = 1280, 720, 5, 10
DOOR = 118                      # grey of what the label sticks on


@dataclass(frozen=True)
class Look:
    """How a label is seen: corners out of place and turned, lit, out of focus, grainy."""

    slant: float = 0.0          # largest shift of a corner, as a share of the label's width
    turned: float = 0.0         # largest turn [degrees]
    light: float = 1.0          # share of full light
    blur: float = 0.6           # of the lens [pixels]
    grain: float = 2.0          # standard deviation of a pixel [of 255]
    width: float = 0.62         # of the picture that the label takes


LOOKS = {
    "straight": Look(),
    "tilted": Look(slant=0.11, turned=28),
    "dim": Look(slant=0.04, turned=8, light=0.22, grain=4),
    "blurred": Look(slant=0.03, turned=8, blur=2.2),
    "night": Look(slant=0.04, turned=10, light=0.11, blur=1.0, grain=4),
    "far": Look(slant=0.05, turned=12, width=0.42, blur=0.8),
}


def _coefficients(to: list[tuple[float, float]], size: tuple[int, int]) -> list[float]:
    """Give the perspective that brings a picture's corners to four points (for Pillow)."""
    width, height = size
    rows, wanted = [], []
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    for (x, y), (u, v) in zip(to, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        wanted += [u, v]
    return [float(one) for one in np.linalg.solve(np.array(rows), np.array(wanted))]


def _frame(label: Image.Image, corners: np.ndarray, look: Look, chance: np.random.Generator
           ) -> np.ndarray:
    """Draw one picture of the film, grey."""
    how = _coefficients([tuple(corner) for corner in corners], label.size)
    size = (WIDTH, HEIGHT)
    drawn = label.transform(size, Image.Transform.PERSPECTIVE, how, Image.Resampling.BICUBIC)
    mask = Image.new("L", label.size, 255).transform(size, Image.Transform.PERSPECTIVE, how)
    ground = Image.new("L", size, DOOR)
    ground.paste(drawn, mask=mask)
    seen = np.asarray(ground.filter(ImageFilter.GaussianBlur(look.blur)), dtype=float)
    slope = np.linspace(1.0, 0.75, WIDTH)[None, :]              # lit from one side
    seen = seen * look.light * slope + chance.normal(0, look.grain, seen.shape)
    return np.clip(16 + seen * 219 / 255, 16, 235).astype(np.uint8)     # as video counts grey


def film(label: Image.Image, look: Look, seed: int) -> bytes:
    """Give a film of a label in an unquiet hand, as YUV4MPEG2."""
    chance, dice = np.random.default_rng(seed), random.Random(seed)
    wide = WIDTH * look.width
    tall = min(wide * label.height / label.width, HEIGHT * 0.9)
    wide = tall * label.width / label.height
    angle = np.radians(dice.uniform(-look.turned, look.turned))
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [wide / 2, tall / 2]
    corners = corners @ turn.T + chance.uniform(-look.slant, look.slant, (4, 2)) * wide
    middle = np.array([WIDTH / 2, HEIGHT / 2])
    pieces = [f"YUV4MPEG2 W{WIDTH} H{HEIGHT} F{FRAMES_A_SECOND}:1 Ip A1:1 C420jpeg\n".encode()]
    colour = bytes([128]) * (WIDTH * HEIGHT // 2)
    for _ in range(FRAMES):
        shaken = corners + middle + chance.normal(0, 5, 2)
        pieces += [b"FRAME\n", _frame(label, shaken, look, chance).tobytes(), colour]
    return b"".join(pieces)


def put_film(path: Path, label: Image.Image, look: Look, seed: int) -> None:
    """Lay a film into the camera; it is opened anew with each start of the camera."""
    path.write_bytes(film(label, look, seed))
