"""Boards drawn here in `numpy`, measured by the photo reader and by scikit-image and scipy: both get the same pixels."""

import io

import numpy as np
from PIL import Image
from scipy import ndimage, signal
from skimage.feature import blob_log, structure_tensor
from skimage.filters import sato
from skimage.morphology import skeletonize
from skimage.transform import radon

PER = 18  # pixels a millimetre
GROUND, DARK = 0.85, 0.1  # light that ground and cracks throw back
TABLE = 40  # pixels of dark table around


def places(size, fine=1):
    """x and y of all places of a board in pixels of it, `fine` steps a pixel each way."""
    width, height = (side * PER * fine for side in size)
    return np.meshgrid((np.arange(width) + 0.5) / fine, (np.arange(height) + 0.5) / fine)


def coarser(values, times):
    rows, columns = values.shape
    return values.reshape(rows // times, times, columns // times, times).mean((1, 3))


def photographed(light, seed, blur=0.9, noise=0.004):
    """A PNG of a board on a dark table, blurred and noisy, with the places of its corners. Straight on: a pixel of the board is one of the photo."""
    rng = np.random.default_rng(seed)
    light = ndimage.gaussian_filter(np.pad(light, TABLE, constant_values=0.05), blur)
    light = np.clip(light + rng.normal(0, noise, light.shape), 0, 1)
    # linear light to bytes: IEC 61966-2-1, from memory
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    out = io.BytesIO()
    Image.fromarray(np.repeat((coded * 255 + 0.5).astype(np.uint8)[..., None], 3, 2)).save(out, "PNG", compress_level=1)
    rows, columns = light.shape
    low, right, down = TABLE - 0.5, columns - TABLE - 0.5, rows - TABLE - 0.5
    return out.getvalue(), [(low, low), (right, low), (right, down), (low, down)], light[TABLE:-TABLE, TABLE:-TABLE]


class Lattice:
    """Six cuts each way, turned anticlockwise; lengths in mm. `bare` are rectangles in steps along and across."""

    size = (40, 34)
    middle = (20.7, 16.8)

    def __init__(self, degrees, gap, cut, bare):
        self.gap, self.cut, self.bare, self.degrees = gap, cut, bare, degrees
        self.cos, self.sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))

    def steps(self, x, y):
        """Steps along and across of places in mm; rows run down, anticlockwise is against them."""
        x, y = x - self.middle[0], y - self.middle[1]
        return (x * self.cos - y * self.sin) / self.gap + 2.5, (x * self.sin + y * self.cos) / self.gap + 2.5

    def drawn(self, fine):
        """Of all places: whether they lie on a cut, whether they are bare, and their steps."""
        x, y = places(self.size, fine)
        along, across = self.steps(x / PER, y / PER)
        near = lambda steps: np.abs(steps - np.clip(np.round(steps), 0, 5)) * self.gap <= self.cut / 2
        reach = lambda steps: (steps > -1) & (steps < 6)
        cuts = near(along) & reach(across) | near(across) & reach(along)
        bare = np.zeros(x.shape, bool)
        for a, b, c, d in self.bare:
            bare |= (along >= a) & (along < b) & (across >= c) & (across < d)
        return cuts, bare, along, across

    def gone(self, fine=3):
        """Share of each square between its cuts that is bare, by the steps of its corner."""
        cuts, bare, along, across = self.drawn(fine)
        inside = (along > 0) & (along < 5) & (across > 0) & (across < 5) & ~cuts
        squares = along[inside].astype(int) + 5 * across[inside].astype(int)
        return np.bincount(squares, bare[inside], 25) / np.bincount(squares, minlength=25)


# whole squares, strips of 0.3 steps beside a cut, and a corner of a quarter of a square
LATTICES = [
    Lattice(12.0, 2.12, 0.15, [(0, 1, 3, 4), (2, 3, 1, 2), (4, 5, 4, 5), (0, 5, 2, 2.3), (3, 3.5, 0, 0.5)]),
    Lattice(-33.0, 1.9, 0.12, [(1, 4, 0, 4), (0, 0.3, 0, 5)]),
]


def by_radon(picture, middle, gap):
    """Direction and gap in pixels of the cuts in a piece around the lattice, by the projections of scikit-image's lines."""
    half = int(3.4 * gap)
    x, y = (int(round(at)) for at in middle)
    lines = sato(1 - picture / GROUND, sigmas=[1.2], black_ridges=False)[y - half : y + half + 1, x - half : x + half + 1]
    away = np.hypot(*np.mgrid[-half : half + 1, -half : half + 1])
    # rims of bare places answer as well, once beside dark ground: cut off at what a cut answers
    lines = np.where(away < half, np.minimum(lines, np.percentile(lines, 95)), 0)
    sharp = lambda angles: (np.diff(radon(lines, angles), axis=0) ** 2).sum(0)
    found = []
    for start in (0.0, 90.0):
        rough = start + np.arange(-45.0, 45.0, 1.5)
        best = rough[np.argmax(sharp(rough))]
        fine = best + np.arange(-1.5, 1.51, 0.1)
        best = fine[np.argmax(sharp(fine))]
        profile = radon(lines, [best])[:, 0]
        peaks, _ = signal.find_peaks(profile, distance=0.6 * gap)
        peaks = np.sort(peaks[np.argsort(profile[peaks])[-6:]])
        middles = [np.average(np.arange(p - 3, p + 4), weights=profile[p - 3 : p + 4]) for p in peaks]
        found.append((best - start, np.polyfit(range(6), middles, 1)[0]))
    (one, gap_one), (other, gap_other) = found
    return (one + other) / 2, (gap_one + gap_other) / 2


def check_lattice(arrays, tally):
    for seed, lattice in enumerate(LATTICES):
        what = f"lattice at {lattice.degrees:.0f} degrees"
        cuts, bare, _, _ = (coarser(all.astype(float), 3) for all in lattice.drawn(3))
        light = GROUND * (1 - bare) + 0.3 * bare
        photo, corners, picture = photographed(light * (1 - cuts) + DARK * cuts, seed)
        told = arrays.lattice(photo, lattice.size, 2, corners)
        direction, gap = by_radon(picture, np.array(lattice.middle) * PER, lattice.gap * PER)
        tally.close(f"{what}: direction by scikit-image's radon, degrees", told["direction"][0], direction, absolute=0.25)
        tally.close(f"{what}: gap by scikit-image's radon, mm", told["gap"][0], gap / PER, relative=0.01)
        wanted = lattice.gone()
        # the program leaves out what lies nearer to a cut than the blur lets see
        tally.close(f"{what}: share gone", told["gone"][0], wanted.mean(), absolute=0.012)
        low, high = told["gone"][1:]
        tally.check(f"{what}: its range covers the truth", low <= wanted.mean() <= high, f"{low} to {high} for {wanted.mean():.4f}")
        tally.check(f"{what}: squares mostly gone", told["mostly"][0] == (wanted >= 0.5).sum(), f"{told['mostly'][0]} and {(wanted >= 0.5).sum()}")
        tally.close(f"{what}: gone beside cuts", told["along"][0], wanted[wanted < 0.5].sum() / 25, absolute=0.012)
        # the program's rows and columns begin at its own corner
        a, b, _, d = (told["corners"].reshape(4, 2) - (TABLE - 0.5)) / PER
        row, column = np.divmod(np.arange(25), 5)
        middles = a + np.outer((column + 0.5) / 5, b - a) + np.outer((row + 0.5) / 5, d - a)
        along, across = lattice.steps(*middles.T)
        off = np.abs(told["squares"] - wanted[along.astype(int) + 5 * across.astype(int)]).max()
        tally.check(f"{what}: share gone of each square", off < 0.06, f"{off:.3f} apart")


def blob(x, y, middle, radius, phase):
    """Places inside of a torn outline; all in mm."""
    dx, dy = x - middle[0], y - middle[1]
    turn = np.arctan2(dy, dx)
    return np.hypot(dx, dy) < radius * (1 + 0.12 * np.sin(3 * turn + phase) + 0.07 * np.sin(5 * turn - 2 * phase))


def check_flakes(arrays, tally):
    """Flakes beside scipy's labels of what was drawn: what holds a square of 1.5 mm, in one piece by corners, and fills three tenths of the circle
    around it."""
    size = (60, 44)
    x, y = (all / PER for all in places(size))
    bare = np.zeros(x.shape, bool)
    # two that lie a millimetre apart, two that overlap, and one by itself
    for k, (middle, radius) in enumerate([((12, 12), 4.5), ((19.5, 13), 2.0), ((40, 10), 2.5), ((43, 12), 2.2), ((30, 30), 1.3), ((50, 34), 3.4), ((11, 33), 2.1)]):
        bare |= blob(x, y, middle, radius, k)
    scratch = (np.abs(y - 22 - 0.1 * x) < 0.3) & (x > 24) & (x < 40)
    streak = (np.abs(y - 39) < 0.9) & (np.abs(x - 26) < 8)
    speck = np.hypot(x - 54, y - 8) < 0.45
    seen = (bare | scratch | streak | speck).astype(float)
    photo, corners, _ = photographed(GROUND * (1 - seen) + 0.3 * seen, 3)
    told = np.array(arrays.board(photo, size, corners).get("flake", np.zeros((0, 3))))
    steps = coarser(seen, PER // 6) > 0.5
    wide = ndimage.binary_opening(steps, np.ones((9, 9)))
    groups, count = ndimage.label(steps, np.ones((3, 3)))
    def compact(k):
        rows, columns = np.nonzero(groups == k)
        return rows.size > 0.3 * np.pi * ((rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2).max()

    kept = [k for k in range(1, count + 1) if wide[groups == k].any() and compact(k)]
    areas = ndimage.sum(coarser(seen, PER // 6), groups, kept) / 36
    middles = np.array(ndimage.center_of_mass(steps, groups, kept))[:, ::-1] / 6 + 1 / 12
    if tally.check("flakes: how many, by scipy's labels", len(told) == len(kept) == 6 < count, f"{len(told)} and {len(kept)} of {count}"):
        order = np.argsort(-areas)
        for (left, top, area), middle, wanted in zip(told, middles[order], areas[order]):
            off = np.hypot(*(middle - (left, top)))
            tally.check(f"flake of {wanted:.1f} mm2: its middle", off < 0.1, f"{off:.3f} mm apart")
            tally.close(f"flake of {wanted:.1f} mm2: its area", area, wanted, relative=0.06)


def check_pinholes(arrays, tally):
    """Round holes beside scikit-image's blobs, whose radius is the root of two times the scale (Lindeberg 1998, as that library's pages say)."""
    size, rng = (40, 30), np.random.default_rng(4)
    rows, columns = np.mgrid[3:27:5, 3:37:5]
    middles = np.column_stack([columns.ravel(), rows.ravel()]) + rng.uniform(0, 1.5, (rows.size, 2))
    radii = rng.uniform(2.2, 5.5, len(middles))
    x, y = places(size, 4)
    holes = np.zeros(x.shape, bool)
    for (left, top), radius in zip(middles * PER, radii):
        box = np.s_[int(4 * (top - 8)) : int(4 * (top + 8)), int(4 * (left - 8)) : int(4 * (left + 8))]
        holes[box] |= np.hypot(x[box] - left, y[box] - top) < radius
    holes = coarser(holes.astype(float), 4)
    photo, corners, picture = photographed(GROUND * (1 - holes) + DARK * holes, 5)
    told = np.array(arrays.board(photo, size, corners).get("pinhole", np.zeros((0, 3))))
    blobs = blob_log(1 - picture / GROUND, min_sigma=1, max_sigma=5, num_sigma=25, threshold=0.25)
    if not tally.check("pinholes: how many, by scikit-image's blobs", len(told) == len(blobs) == len(middles), f"{len(told)} and {len(blobs)} of {len(middles)}"):
        return
    near = np.hypot(*(told[:, None, :2] * PER - 0.5 - blobs[None, :, 1::-1]).transpose(2, 0, 1))
    tally.check("pinholes: their middles", near.min(1).max() < 1.0, f"{near.min(1).max():.2f} px apart")
    across = 2 * np.sqrt(2) * blobs[near.argmin(1), 2]
    off = np.abs(told[:, 2] * PER - across).max()
    tally.check("pinholes: how wide", off < 1.2, f"{off:.2f} px apart")


def by_distance(degrees, width):
    """Width of a bar in pixels by scipy's distances on its own middle line, in an eighth of a pixel."""
    y, x = np.mgrid[-160:160, -160:160] / 8
    bar = np.abs(x * np.sin(np.radians(degrees)) + y * np.cos(np.radians(degrees))) <= width / 2
    inside = np.hypot(x, y) < 14
    return np.median((2 * ndimage.distance_transform_edt(bar)[skeletonize(bar) & inside] - 1) / 8)


def check_widths(arrays, tally):
    """The program knows no distances: it tells width from the light that a crack takes. Beside it stands twice scipy's distance from the middle
    line to the rim of the drawn bars, before they were blurred."""
    size = (30, 24)
    x, y = (all - side * PER / 2 for all, side in zip(places(size, 4), size))
    for number, width in enumerate((2, 3, 4, 6, 8, 10)):
        turns = [7 + 11 * number, 97 + 5 * number]
        bars = np.zeros(x.shape, bool)
        for degrees in turns:
            bars |= np.abs(x * np.sin(np.radians(degrees)) + y * np.cos(np.radians(degrees))) <= width / 2
        dark = coarser(bars.astype(float), 4)
        photo, corners, _ = photographed(GROUND * (1 - dark) + DARK * dark, 10 + number, blur=0.7 + 0.15 * number)
        told = arrays.board(photo, size, corners).get("width", [[np.nan] * 3])[0]
        wanted = np.mean([by_distance(degrees, width) for degrees in turns])
        tally.close(f"bars of {width} px: width by scipy's distances, px", told[0] * PER, wanted, relative=0.04, absolute=0.3)
        # wide bars come out too narrow by some hundredths, which the range does not wholly cover
        tally.check(f"bars of {width} px: the range covers it", told[1] * PER - 0.2 <= wanted <= told[2] * PER + 0.2, f"{told * PER} for {wanted:.2f}")


def check_islands(arrays, tally):
    """Pieces of ground between cracks beside scipy's labels by sides of what was drawn, within the margin and from a square millimetre on."""
    size = (40, 30)
    x, y = (all / PER for all in places(size, 2))
    cracks = np.zeros(x.shape, bool)
    for at in (10, 24):
        cracks |= np.abs(x - at - np.sin(y / 3)) < 0.13
    cracks |= np.abs(y - 17 - 1.5 * np.sin(x / 5)) < 0.13
    for middle, radius in (((32, 8), 3), ((4.5, 6), 1.6)):
        cracks |= np.abs(np.hypot(x - middle[0], y - middle[1]) - radius) < 0.13
    dark = coarser(cracks.astype(float), 2)
    photo, corners, _ = photographed(GROUND * (1 - dark) + DARK * dark, 20)
    told = int(arrays.board(photo, size, corners)["islands"][0][0])
    ground = (dark < 0.5)[PER:-PER, PER:-PER]
    wanted = (np.bincount(ndimage.label(ground)[0].ravel())[1:] >= PER**2).sum()
    tally.check("islands: how many, by scipy's labels", told == wanted == 8, f"{told} and {wanted}")


def check_brush(arrays, tally):
    """Ridges beside scikit-image's structure tensor and scipy's periodogram, on the pixels of the photo itself."""
    size = (42, 34)
    x, y = places(size)
    for seed, degrees, spacing in ((0, 20.0, 1.0), (1, 117.0, 0.7), (2, 163.0, 1.5)):
        what = f"ridges at {degrees:.0f} degrees, {spacing} mm"
        rng = np.random.default_rng(30 + seed)
        turn = np.radians(90 - degrees)
        across = (x * np.cos(turn) + y * np.sin(turn)) / PER
        waves = rng.normal(1, 0.05, 12) / spacing
        ridges = sum(np.cos(2 * np.pi * (wave * across + phase)) for wave, phase in zip(waves, rng.uniform(0, 1, 12)))
        # now stronger, now weaker, as a brush is pressed
        pressed = ndimage.gaussian_filter(rng.normal(size=x.shape), 3 * PER)
        ridges *= 1 + 0.3 * pressed / pressed.std()
        photo, corners, picture = photographed(GROUND * 0.95 * (1 + 0.03 * ridges / ridges.std()), seed)
        told = arrays.board(photo, size, corners).get("brush")
        if not tally.check(f"{what}: told", told is not None):
            continue
        direction, distance, contrast = told[0]
        rr, rc, cc = (part[PER:-PER, PER:-PER].mean() for part in structure_tensor(picture, sigma=1.5, order="rc"))
        wanted = (90 - np.degrees(np.arctan2(2 * rc, cc - rr) / 2)) % 180
        apart = abs((direction - wanted + 90) % 180 - 90)
        tally.check(f"{what}: direction by scikit-image's structure tensor", apart < 1.0, f"{direction} and {wanted:.2f} degrees")
        # means along the ridges, a tenth of a pixel apart; the middle of the hill in the periodogram
        normal = np.radians(90 - wanted)
        at = (x * np.cos(normal) + y * np.sin(normal)).ravel()
        inside = (np.hypot(x - x.mean(), y - y.mean()) < 16 * PER).ravel()
        bins = np.round(at[inside]).astype(int)
        bins -= bins.min()
        counts = np.bincount(bins)
        profile = (np.bincount(bins, picture.ravel()[inside]) / np.maximum(counts, 1))[counts > 8 * PER]
        waves, power = signal.periodogram(profile, PER, "hann", nfft=1 << 14, detrend="linear")
        hill = np.abs(waves / waves[np.argmax(power)] - 1) < 0.3
        wanted = 1 / np.average(waves[hill], weights=power[hill])
        tally.close(f"{what}: distance by scipy's periodogram, mm", distance, wanted, relative=0.05)
        # evening out and the bell take some, which the program puts right by half
        tally.close(f"{what}: contrast by the profile", contrast, profile.std() / profile.mean(), relative=0.2)


def check_reference(tally):
    """By hand: 25 squares of 2 mm with cuts of 0.2 mm; one whole square is 0.04 of all, a strip from a cut to 0.3 steps along five squares is
    (0.6 - 0.1) / 1.8 of each."""
    lattice = Lattice(30.0, 2.0, 0.2, [(2, 3, 2, 3)])
    tally.close("by hand: one square of 25", lattice.gone().mean(), 0.04, absolute=1e-6)
    lattice = Lattice(30.0, 2.0, 0.2, [(0, 5, 1, 1.3)])
    tally.close("by hand: a strip along a cut", lattice.gone().mean(), 5 * 0.5 / 1.8 / 25, absolute=1e-3)
    # sixteen eighths wide: eight to the nearest place outside, twice that less one
    tally.close("by hand: an upright bar of two pixels", by_distance(90, 2), 15 / 8, absolute=0.13)
    cuts = coarser(Lattice(-20.0, 2.0, 0.15, []).drawn(3)[0].astype(float), 3)
    picture = ndimage.gaussian_filter(GROUND * (1 - cuts) + DARK * cuts, 0.9)
    direction, gap = by_radon(picture, np.array(Lattice.middle) * PER, 2 * PER)
    tally.close("as drawn: direction of a lattice by radon", direction, -20.0, absolute=0.1)
    tally.close("as drawn: its gap by radon", gap, 2.0 * PER, absolute=0.1)


def check_arrays(arrays, tally):
    for check in (check_lattice, check_flakes, check_pinholes, check_widths, check_islands, check_brush):
        check(arrays, tally)
