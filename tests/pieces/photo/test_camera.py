"""A camera found by points on the table."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.photo.board import reference_board
from pieces.photo.camera import Camera, find_camera

SIZE = (4000, 3000)
TRUE = np.array(
    [np.log(3100.0), 2010.0, 1490.0, 0.03, -0.01, 0.001, 0.0, 0.02, 0.05, -3.05, -0.1, 150.0, -250.0, 900.0]
)
FAR = np.array([(-250.0, 200.0), (-250.0, 600.0), (550.0, 600.0), (550.0, 200.0), (150.0, 400.0)])


def found(noise: float, seed: int = 0) -> Camera:
    """The camera by the corners of one board, seen with some noise."""
    corners = reference_board().inner_corners()
    seen = Camera(TRUE, np.eye(len(TRUE)), 0.0).project(corners)
    camera, kept = find_camera(corners, seen + np.random.default_rng(seed).normal(scale=noise, size=seen.shape), SIZE)
    assert kept.mean() > 0.9
    return camera


def test_there_and_back() -> None:
    """Points of the table are found again where they are seen."""
    camera = Camera(TRUE, np.eye(len(TRUE)), 0.0)
    assert camera.on_table(camera.project(FAR)) == pytest.approx(FAR, abs=1e-3)


def test_doubt_is_honest() -> None:
    """Of forty cameras found with a twentieth of a pixel of noise, few are further off than they say: 5 % would be."""
    true = Camera(TRUE, np.eye(len(TRUE)), 0.0).project(FAR)
    beyond, worst = 0, 0.0
    for seed in range(40):
        camera = found(0.05, seed)
        off = np.hypot(*(camera.on_table(true) - FAR).T)
        beyond += int((off > camera.doubt(FAR)).sum())
        worst = max(worst, float(off.max()))
    assert beyond <= 0.1 * 40 * len(FAR)
    assert 0.1 < worst < 4.0


def test_more_noise_more_doubt() -> None:
    """Ten times the noise is noticed; points on the board are surer than those far from it."""
    calm, loud = found(0.05), found(0.5)
    assert (loud.doubt(FAR) > 4 * calm.doubt(FAR)).all()
    assert calm.doubt(np.array([(120.0, 90.0)])) < 0.2 * calm.doubt(FAR).max()


def test_wrong_points_are_left_out() -> None:
    """A corner that is seen ten pixels off moves nothing."""
    corners = reference_board().inner_corners()
    seen = Camera(TRUE, np.eye(len(TRUE)), 0.0).project(corners)
    seen[7] += 10.0
    camera, kept = find_camera(corners, seen, SIZE)
    assert not kept[7] and kept.sum() == len(corners) - 1
    assert camera.rms < 0.01


def test_seen_from_the_right_side() -> None:
    """A small board through a bent lens is seen nearly alike from two places: the true one is found.

    The lens is that of the sample photos of OpenCV (Debian's opencv-doc 4.6, data/left_intrinsics.yml).
    """
    lens = [np.log(535.9), 342.3, 235.6, -0.266, -0.039, 0.0018, -0.0003, 0.238]
    x, y = np.meshgrid(np.arange(6) * 25.0, np.arange(5) * 25.0, indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel()])
    for turn in ((0.3, -3.0, 0.1), (-0.3, -2.9, 0.3), (0.2, -3.0, -0.4), (0.35, 3.0, 0.3)):
        true = Camera(np.array([*lens, *turn, 60.0, -60.0, 350.0]), np.eye(len(TRUE)), 0.0)
        seen = true.project(points) + np.random.default_rng(1).normal(scale=0.08, size=points.shape)
        assert find_camera(points, seen, (640, 480))[0].rms < 0.2
