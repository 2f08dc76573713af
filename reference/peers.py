#!/usr/bin/env python3
"""Two pipelines of general libraries beside the program, on the same photos: `peers.py TIME [MEGAPIXELS]...`.

TIME is the photo reader's example `time`, which also makes the photos. Each pipeline does all measures from the photo's bytes: light, the board
laid straight, evened out, line filters at four scales, hysteresis, middle lines, length, meeting places, widths by distance and by light taken, area,
direction, pieces of ground, round dark spots. The pipelines are given the board's corners and thresholds; the program finds both. Imports are not timed. Prints rows of a table.
"""

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

WIDTH, HEIGHT = 140.0, 100.0
SIGMAS = (1.0, 1.5, 2.5, 4.0)
# a pair for dark cracks on any brushwork; with a lower one (0.025, 0.05) both find twice as much that is no crack and take longer
LOW, HIGH = 0.035, 0.075
SPOT = 0.65
# the slow one is run once
RUNS = {"OpenCV": 3, "scikit-image": 1}


def library(name):
    """Decode, light, straighten, ground, ridge, hysteresis, pieces, distance: where the two pipelines differ."""
    import numpy as np
    from scipy import ndimage

    if name == "scikit-image":
        from skimage import color, filters, io, measure, transform

        def straight(grey, corners, size):
            to = [(-0.5, -0.5), (size[0] - 0.5, -0.5), (size[0] - 0.5, size[1] - 0.5), (-0.5, size[1] - 0.5)]
            map_ = transform.ProjectiveTransform.from_estimate(np.array(to), np.array(corners))
            return transform.warp(grey, map_, output_shape=size[::-1], order=1)

        return {
            "decode": lambda path: io.imread(path),
            "light": lambda rgb: linear(rgb) @ np.array([0.2126, 0.7152, 0.0722], np.float32),
            "straight": straight,
            "ground": lambda flat, scale: filters.gaussian(flat, 2 * scale, truncate=2),
            "ridge": lambda flat: filters.sato(flat, sigmas=SIGMAS, black_ridges=True),
            "above": lambda response: filters.apply_hysteresis_threshold(response, LOW, HIGH),
            "pieces": lambda mask, corners: measure.label(mask, connectivity=2 if corners else 1),
            "distance": ndimage.distance_transform_edt,
        }
    import cv2

    table = (linear(np.arange(256, dtype=np.uint8)) * 1.0).astype(np.float32)

    def straight(grey, corners, size):
        to = np.array([(-0.5, -0.5), (size[0] - 0.5, -0.5), (size[0] - 0.5, size[1] - 0.5), (-0.5, size[1] - 0.5)], np.float32)
        return cv2.warpPerspective(grey, cv2.getPerspectiveTransform(np.array(corners, np.float32), to), size, flags=cv2.INTER_LINEAR)

    def ridge(flat):
        most = np.zeros_like(flat)
        for sigma in SIGMAS:
            reach = int(4 * sigma + 0.5)
            x = np.arange(-reach, reach + 1, dtype=np.float32)
            bell = np.exp(-(x**2) / (2 * sigma**2))
            bell /= bell.sum()
            first, second = -x / sigma**2 * bell, (x**2 / sigma**4 - 1 / sigma**2) * bell
            second -= second.mean()
            part = lambda across, down: cv2.sepFilter2D(flat, cv2.CV_32F, across, down, borderType=cv2.BORDER_REFLECT)
            xx, xy, yy = part(second, bell), part(first, first), part(bell, second)
            np.maximum(most, sigma**2 * ((xx + yy) / 2 + cv2.magnitude((xx - yy) / 2, xy)), out=most)
        return most

    def pieces(mask, corners):
        return cv2.connectedComponents(mask.astype(np.uint8), connectivity=8 if corners else 4)[1]

    def above(response):
        weak = pieces(response > LOW, True)
        keep = np.zeros(weak.max() + 1, bool)
        keep[weak[response > HIGH]] = True
        keep[0] = False
        return keep[weak]

    def ground(flat, scale):
        small = cv2.resize(flat, None, fx=1 / 8, fy=1 / 8, interpolation=cv2.INTER_AREA)
        return cv2.resize(cv2.GaussianBlur(small, (0, 0), 2 * scale / 8), flat.shape[::-1], interpolation=cv2.INTER_LINEAR)

    return {
        "decode": lambda path: cv2.cvtColor(cv2.imread(path), cv2.COLOR_BGR2RGB),
        "light": lambda rgb: cv2.transform(cv2.LUT(rgb, table), np.array([[0.2126, 0.7152, 0.0722]], np.float32)),
        "straight": straight,
        "ground": ground,
        "ridge": ridge,
        "above": above,
        "pieces": pieces,
        "distance": lambda mask: cv2.distanceTransform(mask.astype(np.uint8), cv2.DIST_L2, 5),
    }


def linear(bytes_):
    import numpy as np

    v = np.asarray(bytes_, np.float32) / 255
    return np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4).astype(np.float32)


def measured(name, path, corners):
    """All measures of one photo by one pipeline, with the seconds that each step took."""
    import numpy as np
    from scipy import ndimage
    from skimage.morphology import skeletonize

    step = library(name)
    took, start = {}, time.perf_counter()

    def lap(what):
        nonlocal start
        now = time.perf_counter()
        took[what], start = now - start, now

    rgb = step["decode"](path)
    lap("decode")
    grey = step["light"](rgb)
    lap("light")
    scale = np.floor(2 * max(np.hypot(*np.subtract(corners[1], corners[0])) / WIDTH, np.hypot(*np.subtract(corners[3], corners[0])) / HEIGHT)) / 2
    size = round(WIDTH * scale), round(HEIGHT * scale)
    flat = step["straight"](grey, corners, size).astype(np.float32)
    lap("straight")
    flat /= step["ground"](flat, scale)
    lap("ground")
    response = step["ridge"](flat)
    lap("ridge")
    mask = step["above"](response)
    edge = round(scale)
    inside = np.zeros_like(mask)
    inside[edge:-edge, edge:-edge] = True
    mask &= inside
    lap("hysteresis")
    lines = skeletonize(mask)
    lap("thin")
    number = step["pieces"](lines, True)
    long = np.bincount(number.ravel()) >= 3 * scale
    long[0] = False
    lines = long[number]
    lap("least length")
    straight = (lines[:, 1:] & lines[:, :-1]).sum() + (lines[1:] & lines[:-1]).sum()
    slanted = (lines[1:, 1:] & lines[:-1, :-1]).sum() + (lines[1:, :-1] & lines[:-1, 1:]).sum()
    mm2 = inside.sum() / scale**2
    length = 0.948 * (straight + np.sqrt(2) * slanted) / scale / mm2
    around = ndimage.convolve(lines.astype(np.uint8), np.array([[1, 1, 1], [1, 0, 1], [1, 1, 1]], np.uint8), mode="constant")
    meeting = step["pieces"](lines & (around >= 3), True).max()
    lap("length, meeting places")
    at = np.argwhere(lines)
    by_distance = (2 * step["distance"](mask)[lines] - 1) / scale
    lap("width by distance")
    # across each place of the middle lines: the direction from the curvatures at one scale, light taken in steps of half a pixel
    soft = ndimage.gaussian_filter(flat, 1.5)
    y, x = np.clip(at.T, 1, np.array(flat.shape)[:, None] - 2)
    xx, yy = soft[y, x + 1] - 2 * soft[y, x] + soft[y, x - 1], soft[y + 1, x] - 2 * soft[y, x] + soft[y - 1, x]
    xy = (soft[y + 1, x + 1] - soft[y + 1, x - 1] - soft[y - 1, x + 1] + soft[y - 1, x - 1]) / 4
    angle = np.arctan2(2 * xy, xx - yy) / 2
    reach = np.arange(-6, 6.25, 0.5)
    profile = ndimage.map_coordinates(flat, [y[:, None] + np.sin(angle)[:, None] * reach, x[:, None] + np.cos(angle)[:, None] * reach], order=1, mode="nearest")
    base = np.median(np.concatenate([profile[:, :5], profile[:, -5:]], 1), 1)
    depth = np.percentile(base - profile[:, len(reach) // 2], 95) if len(at) else 1.0
    width = (base[:, None] - profile).sum(1) * 0.5 / depth / scale
    lap("width by light")
    strength = abs(np.mean(np.exp(2j * angle))) if len(at) else 0.0
    islands = np.bincount(step["pieces"](inside & ~ndimage.binary_dilation(mask), False).ravel())[1:]
    pieces = int((islands >= scale**2).sum())
    lap("direction, pieces")
    spots = np.bincount(step["pieces"]((flat < SPOT) & inside & ~ndimage.binary_dilation(mask, iterations=2), True).ravel())[1:]
    lap("spots")
    widths = [float(np.percentile(width, p)) if len(at) else 0.0 for p in (50, 95, 100)]
    return {
        "took": took,
        "length": float(length),
        "area": float(length * np.mean(width)) if len(at) else 0.0,
        "widths": widths,
        "widths by distance": [float(np.percentile(by_distance, p)) if len(at) else 0.0 for p in (50, 95, 100)],
        "meeting": int(meeting),
        "strength": float(strength),
        "pieces": pieces,
        "spots": int((spots > 5).sum()),
    }


def told(command):
    """What a program printed, and the most memory that it took, in MB."""
    with tempfile.TemporaryFile() as out:
        child = subprocess.Popen(command, stdout=out)
        _, status, usage = os.wait4(child.pid, 0)
        out.seek(0)
        if status != 0:
            sys.exit(f"{command[0]} ended with {status}")
        return out.read().decode(), usage.ru_maxrss / 1000


def compare(reader, sizes):
    print("| photo | pipeline | fastest of its runs, s | runs | most memory, MB | cracks found, mm/mm2 | times as long as this program |")
    print("|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            path = str(Path(folder) / f"{size}.jpg")
            corners = told([reader, "make", size, path])[0].strip()
            ours, theirs = [], {name: [] for name in RUNS}
            # in turn, so that what else the machine does falls on all of them
            for turn in range(max(RUNS.values())):
                for name, runs in RUNS.items():
                    if turn < runs:
                        text, memory = told([sys.executable, __file__, "one", name, path, corners])
                        found = json.loads(text)
                        theirs[name].append((sum(found["took"].values()), memory, found["length"]))
                    text, memory = told([reader, path, str(WIDTH), str(HEIGHT), "2"])
                    ours += [(float(row[0]), memory, float(row[-2])) for row in map(str.split, text.splitlines())]
            fastest = min(ours)[0]
            for name, rows in {"this program": ours, **theirs}.items():
                seconds, _, length = min(rows)
                memory = max(row[1] for row in rows)
                print(f"| {size} MP | {name} | {seconds:.2f} | {len(rows)} | {memory:.0f} | {length:.5f} | {seconds / fastest:.1f} |", flush=True)
        path = str(Path(folder) / f"{sizes[-1]}.jpg")
        many = told([reader, path, str(WIDTH), str(HEIGHT), "20"])[1]
        print(f"| {sizes[-1]} MP, 20 times in one process | this program | | 20 | {many:.0f} | | |")


if __name__ == "__main__":
    if sys.argv[1:2] == ["one"]:
        corners = [tuple(map(float, point.split(","))) for point in sys.argv[4].split()]
        print(json.dumps(measured(sys.argv[2], sys.argv[3], corners)))
    elif len(sys.argv) > 1:
        compare(sys.argv[1], sys.argv[2:] or ["12", "24"])
    else:
        sys.exit(__doc__)
