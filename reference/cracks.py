"""Steps of the photo reader against scikit-image, scipy, OpenCV and zxing-cpp, on the same arrays."""

import io
import struct
import subprocess
from pathlib import Path

import cv2
import drawn
import numpy as np
import zxingcpp
from PIL import Image
from scipy import ndimage
from scipy.spatial import cKDTree
from skimage import color, data, measure
from skimage.feature import blob_log
from skimage.filters import apply_hysteresis_threshold, sato, threshold_otsu
from skimage.morphology import skeletonize
from skimage.registration import phase_cross_correlation

SIGMAS = (1.0, 1.5, 2.5, 4.0)
PHOTOS = Path(__file__).parent.parent / "tests" / "images" / "open_cracks"

# scikit-image 0.26.0 on its own pictures: grey / 255, mean, largest and 99th percentile of sato over the four scales, pixels above 0.035 / 0.075,
# pixels of the skeleton, pieces by corners, pieces of the rest by sides; typed from a print of that library
SAMPLES = {
    "camera": (0.018738, 0.25904, 0.15941, 33987, 5465, 31, 76),
    "brick": (0.028425, 0.11441, 0.07958, 102243, 16738, 19, 141),
    "coins": (0.034357, 0.22450, 0.14915, 37024, 5852, 49, 70),
    "page": (0.031671, 0.32104, 0.22428, 19522, 3047, 19, 12),
}

# sato at the middle of a dark bar of depth 0.8: width in px, then the four scales; from the same print
BARS = {
    1: (0.27838, 0.21263, 0.12766, 0.07979),
    2: (0.30585, 0.30740, 0.22665, 0.15229),
    3: (0.33333, 0.40216, 0.32564, 0.22479),
    5: (0.05824, 0.26597, 0.39239, 0.33041),
    8: (0.00170, 0.05609, 0.28233, 0.38311),
}
# u phi(u/2), worked by hand
THEORY = {0.5: 0.19333, 1: 0.35207, 1.5: 0.45171, 2: 0.48394, 3: 0.38855, 4: 0.21596}


class Arrays:
    """The program's steps, one call each."""

    def __init__(self, path):
        self.path = path

    def run(self, *words, given=b""):
        ended = subprocess.run([self.path, *map(str, words)], input=given, capture_output=True, timeout=60)
        if ended.returncode != 0:
            raise ValueError(f"{words[0]}: {ended.stderr.decode(errors='replace').strip()}")
        return ended.stdout

    def ridge(self, picture, sigma):
        rows, columns = picture.shape
        out = self.run("ridge", columns, rows, sigma, given=picture.astype("<f4").tobytes())
        return np.frombuffer(out, "<f4").reshape(rows, columns).astype(float)

    def thin(self, mask):
        rows, columns = mask.shape
        return np.frombuffer(self.run("thin", columns, rows, given=mask.astype(np.uint8).tobytes()), np.uint8).reshape(rows, columns) > 0

    def groups(self, mask):
        rows, columns = mask.shape
        told = self.run("groups", columns, rows, given=mask.astype(np.uint8).tobytes()).decode().split("\n")
        return tuple(sorted(map(int, line.split())) for line in told)

    def board(self, photo, size, corners):
        """What is measured on a board: a list of rows of numbers for each name."""
        told = {}
        for name, *row in (line.split() for line in self.run("board", *size, *np.ravel(corners), given=photo).decode().splitlines()):
            told.setdefault(name, []).append(np.array(row, float))
        return told

    def lattice(self, photo, size, gap, corners):
        rows = [line.split() for line in self.run("lattice", *size, gap, *np.ravel(corners), given=photo).decode().splitlines()]
        return {name: np.array(row, float) for name, *row in rows}

    def flat(self, photo, board, off):
        """The straightened picture and its pixels a millimetre."""
        head, _, values = self.run("flat", *board, off, given=photo).partition(b"\n")
        columns, rows, scale = head.split()
        return np.frombuffer(values, "<f4").reshape(int(rows), int(columns)), float(scale)

    def lay(self, old, new, board, off):
        """The map from old to new mm, the residual, how near lines are one, and places of each fate."""
        lines = self.run("lay", *board, *board, off, given=struct.pack("<I", len(old)) + old + new).decode().splitlines()
        numbers = [float(word) for word in lines[0].split()]
        places = [(line.split()[0], np.array(line.split()[1:], float).reshape(-1, 2)) for line in lines[2:]]
        return np.array(numbers[:9]).reshape(3, 3), numbers[9], float(lines[1]), places


def moved(by, points):
    out = np.column_stack([points, np.ones(len(points))]) @ by.T
    return out[:, :2] / out[:, 2:]


def to_mm(scale):
    """From pixels of a straightened picture, whose corner lies at (-0.5, -0.5)."""
    return np.array([[1 / scale, 0, 0.5 / scale], [0, 1 / scale, 0.5 / scale], [0, 0, 1]])


def marks(picture, scale):
    """A board's marks without its light and without its edge."""
    out = np.clip(ndimage.gaussian_filter(picture, 0.8) - ndimage.gaussian_filter(picture, 6), -0.1, 0.1)
    edge = int(2 * scale)
    out[:edge] = out[-edge:] = out[:, :edge] = out[:, -edge:] = 0
    return out.astype(np.float32)


def check_growth(arrays, tally):
    """Two photos of one board laid over each other, beside OpenCV and scikit-image; lines beside scipy's tree."""
    board, off = (50, 36), 7
    old, new = arrays.run("grown", 2, 0), arrays.run("grown", 3, 0)
    by, residual, near, places = arrays.lay(old, new, board, off)
    (one, one_scale), (two, two_scale) = arrays.flat(old, board, off), arrays.flat(new, board, 0)
    rows, columns = two.shape
    # the older picture on the newer one's pixels, as wide as the board
    resized = cv2.resize(one, (columns, rows), interpolation=cv2.INTER_AREA)
    one_scale = columns / board[0]
    shift, *_ = phase_cross_correlation(marks(two, two_scale), marks(resized, one_scale), upsample_factor=20)
    grid = np.array([(x, y) for x in (5, 15, 25, 35, 45) for y in (4, 18, 32)], float)
    ours = moved(by, grid)
    off_middle = np.abs((ours - grid).mean(0) * two_scale - shift[::-1]).max()
    tally.check("two photos: the shift in the middle, by phase correlation", off_middle < 2.5, f"{off_middle:.2f} px apart")
    start = np.eye(3, dtype=np.float32)
    start[:2, 2] = -shift[::-1]
    until = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 200, 1e-7)
    # OpenCV's map leads from the newer picture's pixels to the older one's
    likeness, theirs = cv2.findTransformECC(marks(two, two_scale), marks(resized, one_scale), start, cv2.MOTION_HOMOGRAPHY, until, None, 5)
    theirs = to_mm(two_scale) @ np.linalg.inv(theirs.astype(float)) @ np.linalg.inv(to_mm(one_scale))
    apart = np.hypot(*(moved(theirs, grid) - ours).T).max() * two_scale
    far = np.hypot(*(ours - grid).T).max() * two_scale
    tally.check("two photos: the map by OpenCV's ECC", likeness > 0.5 and apart < 0.5 < 3 < far, f"{apart:.3f} px apart, moved by {far:.2f} px")
    tally.check("two photos: the residual covers what is apart", residual * two_scale + 0.5 > apart, f"{residual:.3f} mm")

    tree = cKDTree(np.vstack([points for fate, points in places if fate == "Old"]))
    length = lambda points: np.append(np.hypot(*np.diff(points, axis=0).T), 0)
    told = sum(length(points).sum() for fate, points in places if fate == "Known")
    wanted, whole = 0.0, 0.0
    for points in (points for fate, points in places if fate not in ("Old", "Gone")):
        lies = tree.query(points)[0] <= near
        wanted += length(points)[lies].sum()
        whole += length(points).sum()
    # stretches below a millimetre go with what they hang on, so the two differ a little
    tally.check("two photos: crack that lies on old crack, by scipy's tree", abs(told - wanted) < 0.04 * whole and 0.2 < told / whole < 0.8, f"{told:.1f} and {wanted:.1f} of {whole:.1f} mm")


def bar(width, depth=0.8, side=101):
    """An upright dark bar through the middle pixel, each pixel as dark as its covered share."""
    away = np.abs(np.arange(side) - side // 2)
    cover = np.clip(np.minimum(away + 0.5, width / 2) - np.maximum(away - 0.5, -width / 2), 0, 1)
    return np.tile(1 - depth * cover, (side, 1))


def found(picture):
    """Response over all scales, and the mask by a high and a low threshold."""
    response = sato(picture, sigmas=SIGMAS, black_ridges=True)
    return response, apply_hysteresis_threshold(response, 0.035, 0.075)


def second_derivatives(picture, sigma):
    """The larger curvature by scipy's sampled kernels, times the square of the scale."""
    part = lambda down, across: ndimage.gaussian_filter(picture, sigma, order=(down, across), mode="nearest", truncate=6) * sigma**2
    xx, xy, yy = part(0, 2), part(1, 1), part(2, 0)
    return np.maximum((xx + yy) / 2 + np.hypot((xx - yy) / 2, xy), 0)


def thinned(mask):
    """The rules of Zhang and Suen as printed in 1984, two halves a round until nothing goes."""
    grid = np.pad(mask, 1).astype(int)
    inner = grid[1:-1, 1:-1]
    while True:
        before = inner.sum()
        for first in (True, False):
            # north, north-east and on, clockwise
            around = [grid[1 + y : grid.shape[0] - 1 + y, 1 + x : grid.shape[1] - 1 + x] for y, x in ((-1, 0), (-1, 1), (0, 1), (1, 1), (1, 0), (1, -1), (0, -1), (-1, -1))]
            count = sum(around)
            turns = sum((around[k] == 0) & (around[(k + 1) % 8] == 1) for k in range(8))
            north, east, south, west = around[::2]
            sides = (north * east * south, east * south * west) if first else (north * east * west, north * south * west)
            inner[(inner == 1) & (count >= 2) & (count <= 6) & (turns == 1) & (sides[0] == 0) & (sides[1] == 0)] = 0
        if inner.sum() == before:
            return inner > 0


def axial(lengths, degrees):
    mean = np.sum(np.array(lengths) * np.exp(2j * np.radians(degrees))) / np.sum(lengths)
    return abs(mean), np.degrees(np.angle(mean)) / 2 % 180


def whiteness(xyz):
    x, y = xyz[..., 0] / xyz.sum(-1), xyz[..., 1] / xyz.sum(-1)
    return 100 * xyz[..., 1] + 800 * (0.3127 - x) + 1700 * (0.3290 - y), 1000 * (0.3127 - x) - 650 * (0.3290 - y)


def open_photo():
    """A photo with its cracks marked by hand, as it is stored, and the mask, which is upright."""
    with Image.open(PHOTOS / "ge230.jpg") as photo, Image.open(PHOTOS / "ge230-mask.png") as mask:
        turn = photo.getexif().get(0x0112)
        return np.asarray(photo.convert("L"), float), turn, np.asarray(mask.convert("L")) > 0


def darker(grey, mask):
    return grey[mask].mean() - grey[~mask].mean()


def check_reference(tally):
    drawn.check_reference(tally)
    for u, known in THEORY.items():
        tally.close(f"by hand: bar of {u} scales", u * np.exp(-u * u / 8) / np.sqrt(2 * np.pi), known, absolute=1e-5)
    for width, row in BARS.items():
        for sigma, known in zip(SIGMAS, row):
            middle = sato(bar(width), sigmas=[sigma], black_ridges=True)[50, 50]
            tally.close(f"printed: bar of {width} px at scale {sigma}", middle, known, absolute=2e-5)
        tally.close(f"by hand: light that a bar of {width} px takes", (1 - bar(width)[50]).sum() / 0.8, width, absolute=1e-9)
    for name, (mean, largest, high, pixels, lines, pieces, rest) in SAMPLES.items():
        response, mask = found(getattr(data, name)() / 255.0)
        for what, told, known in (("mean", response.mean(), mean), ("largest", response.max(), largest), ("99th", np.percentile(response, 99), high)):
            tally.close(f"printed: {name}, {what}", told, known, absolute=2e-5)
        counts = mask.sum(), skeletonize(mask).sum(), measure.label(mask, connectivity=2).max(), measure.label(~mask, connectivity=1).max()
        tally.check(f"printed: {name}, counts", tuple(map(int, counts)) == (pixels, lines, pieces, rest), str(counts))
    horse = ~data.horse()
    tally.check("printed: the horse and its skeleton", (int(horse.sum()), int(skeletonize(horse).sum())) == (43412, 1197))
    tally.close("printed: the horse's largest distance", ndimage.distance_transform_edt(horse).max(), 53.3385, absolute=1e-3)
    coins = data.coins()
    tally.check("printed: coins, level and pieces", (int(threshold_otsu(coins)), *(measure.label(coins > 107, connectivity=k).max() for k in (1, 2))) == (107, 154, 96))
    y, x = np.mgrid[:301, :301] - 150
    ring = np.abs(np.hypot(x, y) - 100) <= 2.5
    tally.check("printed: a ring and its skeleton", (int(ring.sum()), int(skeletonize(ring).sum())) == (3156, 564))
    y, x = np.mgrid[:101, :101] - 50
    spots = blob_log(0.8 * (np.hypot(x, y) <= 6), min_sigma=1, max_sigma=10, num_sigma=19, threshold=0.1)
    tally.check("printed: a round spot", [50, 50, 4.5] in spots.tolist(), str(spots))
    strength, direction = axial([3, 2, 1, 1], [10, 20, 30, 100])
    tally.close("printed: strength of four lines", strength, 0.690171, absolute=1e-6)
    tally.close("printed: their direction", direction, 17.9702, absolute=1e-4)
    cream = color.rgb2xyz(np.array([[[250, 246, 235]]], np.uint8))[0, 0]
    for what, told, known in zip("XYZ", cream, (0.873723, 0.922342, 0.917749)):
        tally.close(f"printed: {what} of a creamy white", told, known, absolute=1e-5)
    for what, told, known in zip("Lab", color.xyz2lab(cream), (96.9160, -0.5438, 5.7598)):
        tally.close(f"printed: {what} of it", told, known, absolute=1e-3)
    white, tint = whiteness(cream)
    tally.close("by hand: its whiteness", white, 66.353, absolute=2e-3)
    tally.close("by hand: its tint", tint, -2.189, absolute=2e-3)
    grey, turn, mask = open_photo()
    tally.check("printed: the open photo as stored", (grey.shape, turn, mask.shape) == ((1772, 1181), 8, (1181, 1772)), f"{grey.shape} {turn} {mask.shape}")
    tally.close("printed: share of its mask", mask.mean(), 0.0199, absolute=5e-5)
    tally.check("printed: skeleton of its mask", int(skeletonize(mask).sum()) == 41473)
    # orientation 8: turned a quarter counter-clockwise to stand upright (Exif 2.3, tag 274)
    tally.close("printed: how dark its cracks are, upright", darker(np.rot90(grey), mask), -129.3, absolute=0.1)


def check_arrays(path, tally):
    arrays = Arrays(path)
    for name in SAMPLES:
        picture = getattr(data, name)() / 255.0
        for sigma in (1.6, 2.5, 4.0):
            told = arrays.ridge(picture, sigma)
            wanted = second_derivatives(picture, sigma)
            # without the outermost ring of pixels, where the program has no second difference and measures nothing
            off = (np.abs(told - wanted) / wanted.max())[1:-1, 1:-1].max()
            # the program takes differences of neighbours for derivatives, which tells on the finest scale (found: 0.053, 0.026, 0.009)
            tally.check(f"{name}, scale {sigma}: second derivatives", off < (0.06 if sigma < 2 else 0.03), f"off by {off:.4f} of the largest")
            # that library takes first derivatives twice, so it is wider by a part of a pixel: 0.319 against 0.278 for a thin bar at scale 1
            slope = np.polyfit(sato(picture, sigmas=[sigma], black_ridges=True).ravel(), told.ravel(), 1)[0]
            tally.check(f"{name}, scale {sigma}: sato", abs(slope - 1) < 0.05 + 0.25 / sigma**2, f"{slope:.4f} times as large")
        mask = found(picture)[1]
        lines = skeletonize(mask)
        told = arrays.thin(mask)
        tally.check(f"{name}: thinned by the printed rules", np.array_equal(told, thinned(mask)))
        # that library's table takes corners of stairs besides, and keeps slanting strokes two pixels wide, which the printed rules eat up
        near = (ndimage.distance_transform_edt(~lines)[told] <= 1.5).mean()
        tally.check(f"{name}: thinned lines lie where theirs lie", near > 0.995, f"{near:.4f}")
        for what, one in (("pieces", mask), ("pieces of the rest", ~mask)):
            wanted = tuple(sorted(np.bincount(ndimage.label(one, np.ones((3, 3)) if corners else None)[0].ravel())[1:].tolist()) for corners in (False, True))
            told = arrays.groups(one)
            tally.check(f"{name}: sizes of {what} by sides and by corners", told == wanted, f"{[len(all) for all in told]} instead of {[len(all) for all in wanted]}")

    # bars across the whole picture, away from its ends: theory within what pixels do to it
    for width in (3, 5, 8):
        for sigma in (1.6, 2.5, 4.0):
            u = width / sigma
            tally.close(f"bar of {width} px at scale {sigma}", arrays.ridge(bar(width), sigma)[50, 50], 0.8 * u * np.exp(-u * u / 8) / np.sqrt(2 * np.pi), absolute=0.03)

    rng = np.random.default_rng(5)
    some = np.vstack([rng.integers(150, 256, (150, 3)), rng.integers(0, 256, (50, 3))]).astype(np.uint8)
    told = np.array([row.split() for row in arrays.run("colours", given=some.tobytes()).decode().splitlines()], float)
    xyz = color.rgb2xyz(some[None])[0]
    tally.check("200 colours: X, Y, Z", np.abs(told[:, :3] - xyz).max() < 1e-5)
    tally.check("200 colours: L, a, b", np.abs(told[:, 3:6] - color.xyz2lab(xyz)).max() < 2e-3)
    light = xyz.sum(-1) > 0
    tally.check("200 colours: whiteness and tint", np.abs(told[light, 6:] - np.column_stack(whiteness(xyz[light]))).max() < 1e-2)

    for case in range(20):
        start = np.array([(0, 0), (200, 0), (200, 150), (0, 150)], float)
        end = start * 9 + rng.uniform(-60, 60, (4, 2)) + 100
        told = np.array(arrays.run("map", given=" ".join(map(str, [*start.ravel(), *end.ravel()])).encode()).split(), float)
        rows = [r for (x, y), (u, v) in zip(start, end) for r in ([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y])]
        wanted = np.append(np.linalg.solve(np.array(rows), end.ravel()), 1)
        tally.check(f"straight to slanted, case {case}", np.allclose(told, wanted, rtol=1e-9, atol=1e-12))

    stored = (PHOTOS / "ge230.jpg").read_bytes()
    head, _, pixels = arrays.run("photo", given=stored).partition(b"\n")
    columns, rows = map(int, head.split())
    grey, _, mask = open_photo()
    if tally.check("the open photo stands upright", (columns, rows) == (1772, 1181), head.decode()):
        rgb = np.frombuffer(pixels, np.uint8).reshape(rows, columns, 3)
        # two decoders of the same JPEG may differ by a step or two
        luma = rgb @ np.array([0.299, 0.587, 0.114])
        tally.check("its pixels", np.abs(luma - np.rot90(grey)).mean() < 1.0, f"{np.abs(luma - np.rot90(grey)).mean():.3f}")
        tally.close("how dark its cracks are", darker(luma, mask), -129.3, absolute=1.0)

    check_growth(arrays, tally)
    drawn.check_arrays(arrays, tally)

    for seed in range(8):
        photo = arrays.run("made", seed)
        rows = [row.split() for row in arrays.run("labels", given=photo).decode().splitlines()]
        with Image.open(io.BytesIO(photo)) as picture:
            read = zxingcpp.read_barcodes(np.asarray(picture.convert("L")))
        texts = sorted(code.text for code in read)
        if not tally.check(f"label in made photo {seed}", texts == [row[0] for row in rows] == ["GP-7K3M-Q22"], f"{rows} {texts}"):
            continue
        corners = np.array(rows[0][1:], float).reshape(4, 2)
        at = read[0].position
        theirs = np.array([(p.x, p.y) for p in (at.top_left, at.top_right, at.bottom_right, at.bottom_left)], float)
        off = np.hypot(*(corners - theirs).T).max()
        tally.check(f"its corners in made photo {seed}", off < 6, f"{off:.1f} px apart")
