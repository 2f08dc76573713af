"""Air and drying: `psychrolib` for moist air, `scipy` for the balance of a wet board and for curves through weighings."""

import math

import numpy
import psychrolib
from scipy import optimize, stats

from example import written

SEED = 20_262
STANDARD = 101_325.0
psychrolib.SetUnitSystem(psychrolib.SI)


def ask(questions):
    """Answers of an example of `support`, a list of numbers a line; a complaint stays text."""
    text = "".join(",".join(map(str, question)) + "\n" for question in questions)
    return [read(line) for line in written("support", "sample_drying", stdin=text.encode()).decode().splitlines()]


def read(line):
    try:
        return [float(word) for word in line.split(",")]
    except ValueError:
        return line


def check_air(tally):
    grid = [(celsius, percent) for celsius in range(0, 41, 4) for percent in (10, 20, 35, 50, 65, 80, 95)]
    for (celsius, percent), told in zip(grid, ask([("air", *at) for at in grid]), strict=True):
        what = f"{celsius} C, {percent} %"
        pressure, dew, wet, ratio, water = told
        share = percent / 100
        # Two formulas for the same steam: ASHRAE's and the later one of IAPWS.
        tally.close(f"{what}: saturation", pressure, over_water(celsius), relative=5e-4)
        vapour = share * over_water(celsius)
        if vapour > 611.7:
            tally.close(f"{what}: dew point", dew, psychrolib.GetTDewPointFromRelHum(celsius, share), absolute=0.02)
        else:
            # There psychrolib gives frost, which settles sooner than dew of undercooled water.
            tally.check(f"{what}: dew below frost", dew <= 0.01 and (celsius == 0 or dew < frost(vapour)), str(dew))
        wanted = psychrolib.GetTWetBulbFromRelHum(celsius, share, STANDARD)
        if wanted > 0:
            # A cloth in a draught reads a little apart from adiabatic saturation, which psychrolib solves.
            tally.close(f"{what}: wet bulb", wet, wanted, absolute=0.2)
        tally.close(f"{what}: wet bulb of the same balance", wet, psychrometer(celsius, vapour), absolute=0.01)
        wanted = 1000 * psychrolib.GetHumRatioFromVapPres(vapour, STANDARD)
        tally.close(f"{what}: mixing ratio", ratio, wanted, relative=6e-4)
        # Water in a cubic metre = humidity ratio over the moist volume of a kilogram of dry air.
        wanted = 1000 * (wanted / 1000) / psychrolib.GetMoistAirVolume(celsius, wanted / 1000, STANDARD)
        tally.close(f"{what}: water in a cubic metre", water, wanted, relative=1e-3)
    answers = ask([("air", celsius, percent) for celsius, percent in ((-10, 70), (-3, 90))])
    for (celsius, percent), told in zip(((-10, 70), (-3, 90)), answers, strict=True):
        tally.close(f"{celsius} C: undercooled water", told[0], murphy_koop(celsius), relative=3e-3)


def over_water(celsius):
    """ASHRAE's line over water; at 0 C, below the triple point, psychrolib would take ice, so its value there is typed (611.21 Pa)."""
    return psychrolib.GetSatVapPres(celsius) if celsius > 0 else 611.21


def frost(vapour):
    return psychrolib.GetTDewPointFromVapPres(30, vapour)


def murphy_koop(celsius):
    """Vapour over liquid water, Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, Eq. 10 (from memory)."""
    t = celsius + 273.15
    line = 54.842763 - 6763.22 / t - 4.210 * math.log(t) + 0.000367 * t
    return math.exp(line + math.tanh(0.0415 * (t - 218.8)) * (53.878 - 1331.22 / t - 9.44523 * math.log(t) + 0.014025 * t))


def psychrometer(celsius, vapour):
    """e(Tw) - 6.62e-4 p (T - Tw) = e, with another formula for the saturation: Buck 1996 (from memory)."""
    return optimize.brentq(lambda wet: buck(wet) - 6.62e-4 * STANDARD * (celsius - wet) - vapour, -40, celsius + 1)


def buck(celsius):
    return 611.21 * math.exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))


def wagner_pruss(kelvin):
    """IAPWS saturation line; Wagner and Pruss 2002, Eq. 2.5."""
    t = 1 - kelvin / 647.096
    powers = {1: -7.85951783, 1.5: 1.84408259, 3: -11.7866497, 3.5: 22.6807411, 4: -15.9618719, 7.5: 1.80122502}
    return 22.064e6 * math.exp(647.096 / kelvin * sum(factor * t**power for power, factor in powers.items()))


def wet_board(celsius, percent, draught, length, width, thickness, back):
    """The whole balance in three unknowns at once (face, heat, flux), solved by scipy; lengths in mm. Gives g/(m2 h), C, W/(m2 K)."""
    long, wide, thick = length / 1000, width / 1000, thickness / 1000
    room = celsius + 273.15
    vapour = percent / 100 * wagner_pruss(room)
    speed = max(draught, 0.05) if back == "free" else draught
    square, lump = math.sqrt(long * wide), long * wide / (2 * (long + wide))
    forced = 0.664 * math.sqrt(speed * square / 1.516e-5) * 0.71 ** (1 / 3) * 0.0257 / square

    def density(kelvin, pressure):
        return (101_325 - pressure) / 287.05 / kelvin + pressure / 461.523 / kelvin

    def parts(face):
        kelvin = face + 273.15
        over = wagner_pruss(kelvin)
        light = 1 - density(kelvin, over) / density(room, vapour)
        rayleigh = 9.81 * abs(light) * lump**3 / 1.516e-5 / 2.14e-5
        nusselt = max(0.54 * rayleigh**0.25, 0.15 * rayleigh ** (1 / 3)) if light > 0 else 0.27 * rayleigh**0.25
        heat = (forced**3 + (nusselt * 0.0257 / lump) ** 3) ** (1 / 3)
        flux = heat / (1.2 * 1006 * (2.14 / 2.48) ** (2 / 3)) * (over / 461.523 / kelvin - vapour / 461.523 / room)
        radiated = 4 * 0.9 * 5.67e-8 * ((kelvin + room) / 2) ** 3
        behind = 1 / (thick / 0.12 + 1 / (heat + radiated)) if back == "free" else 0
        return heat, flux, (heat + radiated + behind) * (celsius - face) - flux * (2.501e6 - 2361 * face)

    # From the warm end: the first face, seen from the room, at which heat and vapour balance.
    face = optimize.brentq(lambda face: parts(face)[2], celsius - 30, celsius, xtol=1e-12)
    heat, flux, _ = parts(face)
    return flux * 3.6e6, face, heat


def check_boards(tally):
    random = numpy.random.default_rng(SEED)
    cases = []
    for index in range(60):
        sides = [round(float(v), 1) for v in numpy.exp(random.uniform(math.log(40), math.log(2000), 2))]
        draught = 0.0 if index % 12 == 0 else round(float(numpy.exp(random.uniform(math.log(0.02), math.log(2)))), 4)
        air = round(float(random.uniform(5, 40)), 2), round(float(random.uniform(5, 95)), 2)
        cases.append((*air, draught, *sides, round(float(random.uniform(2, 30)), 1), "free" if index % 2 else "insulated"))
    for case, told in zip(cases, ask([("wet", *case) for case in cases]), strict=True):
        rate, face, heat = wet_board(*case)
        tally.close(f"{case}: rate", told[0], rate, relative=1e-6, absolute=1e-6)
        tally.close(f"{case}: face", told[1], face, absolute=1e-6)
        tally.close(f"{case}: heat", told[2], heat, relative=1e-6)


# What `data/drying.csv` says, typed here a second time: best, ends of nine of ten (bell-shaped in the logarithm) or of all (even).
DRAUGHTS = {"still": (0.07, 0.05, 0.1), "room": (0.12, 0.05, 0.3), "airy": (0.35, 0.2, 0.6), "fan": (0.9, 0.4, 2.0)}
BELLS = {"error": (1, 0.8, 1.25), "drinks": (0.0045, 0.002, 0.01), "wandering": (1e-10, 0.3e-10, 3e-10), "knit": (2, 1, 4)}
PACKING = (0.55, 0.5, 0.6)
SIZED = (0, 0.03)
STEADY, COOL = 0.5, 1.0


class Course:
    """One coat on one board: the plain story, hours and g/m2."""

    def __init__(self, board, celsius, percent, draught, laid, packing, error, drinks, wandering, knit):
        length, width, thickness, faces, back, density, solids = board
        rate, face, _ = wet_board(celsius, percent, draught, length, width, thickness, back)
        self.rate = rate * error
        film = 998.2 * laid / density / 1000
        all_water, self.left = film * (1 - solids), film * min(solids * (1 - packing) / packing, 1 - solids)
        water, drinks = all_water - self.left, 1000 * drinks * 60
        # rate t + drinks sqrt(t) = water, by the school's formula for the root of t.
        root = (-drinks + math.sqrt(drinks**2 + 4 * self.rate * water)) / (2 * self.rate)
        self.matt = root**2
        self.drunk = drinks * root
        self.falling = self.left / self.rate
        way = thickness / 1000 / (2 if faces == "both" else 1)
        self.slow = 4 * way**2 / math.pi**2 / wandering / 3600
        self.board = self.slow * math.log(80 / math.pi**2)
        cool = self.matt + (self.falling * math.log((celsius - face) / COOL) if celsius - face > COOL else 0)
        self.best = max(cool, knit, self.matt)

        def above(after):
            parts = (self.left, self.falling), (self.drunk, self.slow)
            return sum(water / slows * math.exp(-after / slows) for water, slows in parts) - STEADY

        after = optimize.brentq(above, 0, 1e5) if above(0) > 0 else 0
        self.sand = self.matt + max(after, 3 * self.falling)

    def lost(self, after):
        since = numpy.maximum(after - self.matt, 0)
        straight = self.rate * numpy.minimum(after, self.matt)
        return straight + self.left * (1 - numpy.exp(-since / self.falling)) + self.drunk * (1 - numpy.exp(-since / self.slow))

    def times(self, bare):
        return [self.matt, self.best, self.sand, max(self.sand, self.board) if bare else self.sand, self.board, self.rate]


def best_course(case):
    celsius, _, percent, _, draught, *sizes, faces, back, face, laid, _, density, solids = case
    best = {name: middle for name, (middle, _, _) in BELLS.items()}
    if face == "sized":
        best["drinks"] *= SIZED[0]
    return Course((*sizes, faces, back, density, solids), celsius, percent, DRAUGHTS[draught][0], laid, PACKING[0], **best)


def drawn_courses(case, random, count):
    celsius, c_off, percent, p_off, draught, *sizes, faces, back, face, laid, laid_off, density, solids = case

    def bell(middle, low, high):
        return middle * math.exp(random.normal(0, math.log(high / low) / 2 / 1.6449))

    for _ in range(count):
        drawn = {name: bell(*row) for name, row in BELLS.items()}
        if face == "sized":
            drawn["drinks"] = BELLS["drinks"][0] * random.uniform(*SIZED)
        air = celsius + random.normal(0, c_off / 1.645), min(max(percent + random.normal(0, p_off / 1.645), 1), 99)
        wind = min(bell(*DRAUGHTS[draught]), 2)
        mass = laid + random.normal(0, laid_off / 1.645)
        yield Course((*sizes, faces, back, density, solids), *air, wind, mass, random.uniform(*PACKING[1:]), **drawn)


BOARDS = [
    (20, 1, 50, 5, "room", 300, 300, 6, "one", "insulated", "sized", 240, 12, 1.6, 0.35),
    (18, 1, 62, 5, "room", 200, 250, 6, "both", "free", "bare", 210, 10, 1.6, 0.35),
    (24, 2, 35, 4, "airy", 400, 600, 10, "one", "free", "sized", 150, 15, 1.45, 0.25),
    (12, 1, 75, 6, "still", 120, 180, 3, "both", "free", "bare", 320, 20, 1.7, 0.4),
]
NAMES = ["matt", "best until", "sand", "test", "board", "rate"]


def check_spans(tally):
    random = numpy.random.default_rng(SEED + 2)
    for case, told in zip(BOARDS, ask([("spans", *case) for case in BOARDS]), strict=True):
        bare = case[10] == "bare"
        best = best_course(case).times(bare)
        drawn = numpy.array([course.times(bare) for course in drawn_courses(case, random, 1500)])
        for index, name in enumerate(NAMES):
            low, usual, high = told[3 * index : 3 * index + 3]
            what = f"{case}: {name}"
            tally.close(what, usual, best[index], relative=1e-5)
            ends = numpy.quantile(drawn[:, index], (0.1, 0.9))
            # Ends of 500 draws against ends of 1,500: uncertain by a tenth of the spread (0.3 / 0.1755 x sqrt(1 / 500 + 1 / 1500) = 0.088); three times that.
            slack = 0.3 * numpy.log(drawn[:, index]).std() + 0.005
            tally.check(f"{what}, low", abs(math.log(low / min(ends[0], usual))) < slack, f"{low} against {ends[0]}")
            tally.check(f"{what}, high", abs(math.log(high / max(ends[1], usual))) < slack, f"{high} against {ends[1]}")


def check_paces(tally):
    """What is believed of a pace after weighings, by plain quadrature on a fine line with the start mass integrated as well."""
    random = numpy.random.default_rng(SEED + 3)
    before = math.log(2) / 1.645
    line = numpy.linspace(-6 * before, 6 * before, 6001)
    questions, wanted = [], []
    for index in range(24):
        case = BOARDS[index % len(BOARDS)]
        course, area, step = best_course(case), case[5] * case[6] / 1e6, (0.01, 0.1, 1.0)[index % 3]
        factor = math.exp(random.normal(0, before))
        times = numpy.sort(numpy.round(random.uniform(0, 3 * max(course.matt, 0.5), int(random.integers(2, 7))), 2))
        masses = numpy.round((480 - area * course.lost(times * factor)) / step) * step
        questions.append(("pace", *case, area, step, *(float(v) for pair in zip(times, masses) for v in pair)))
        lost = area * course.lost(times[None, :] * numpy.exp(line)[:, None])
        off = numpy.sqrt(step**2 / 12 + (0.05 * lost) ** 2)
        starts = numpy.linspace(480 - 8 - 3 * step, 480 + 8 + 3 * step, 4001)
        # The start mass is flat: integrate the product of bell curves over it, in closed form for speed, checked once by the sum.
        weight = bells_over_start(masses + lost, off)
        if index == 0:
            row = 3000
            summed = stats.norm.pdf((masses + lost)[row][None, :], starts[:, None], off[row][None, :]).prod(axis=1).sum() * (starts[1] - starts[0])
            tally.close("pace: start mass by the sum", math.exp(weight[row]), summed, relative=1e-3)
        weight = weight + stats.norm.logpdf(line, 0, before)
        weight = numpy.exp(weight - weight.max())
        reached = weight.cumsum() / weight.sum()
        wanted.append([math.exp(numpy.interp(share, reached, line)) for share in (0.1, 0.5, 0.9)])
    for question, told, ends in zip(questions, ask(questions), wanted, strict=True):
        for name, here, there in zip(("low", "usual", "high"), told, ends, strict=True):
            tally.close(f"pace {question[16:]}: {name}", here, there, relative=0.006)


def bells_over_start(starts, off):
    """ln of the integral over m of the product of bell curves of `starts` about m."""
    precision = (1 / off**2).sum(axis=1)
    mean = (starts / off**2).sum(axis=1) / precision
    square = ((starts - mean[:, None]) ** 2 / off**2).sum(axis=1)
    count = starts.shape[1]
    return -square / 2 - numpy.log(off).sum(axis=1) - numpy.log(precision) / 2 - (count - 1) / 2 * math.log(2 * math.pi)


def check_fits(tally):
    random = numpy.random.default_rng(SEED + 1)

    def curve(t, end, height, tau):
        return end + height * numpy.exp(-t / tau)

    questions, wanted = [], []
    for _ in range(30):
        end, height, tau = random.uniform(100, 2000), random.uniform(4, 60), math.exp(random.uniform(math.log(1), math.log(60)))
        times = numpy.sort(random.uniform(0, 1, int(random.integers(5, 12)))) * tau * random.uniform(1.5, 5)
        times = numpy.unique(numpy.round(times, 3))
        masses = numpy.round(curve(times, end, height, tau) + random.normal(0, 0.02, len(times)), 2)
        try:
            best, covariance = optimize.curve_fit(curve, times, masses, p0=(end, height, tau), xtol=1e-13, ftol=1e-13, gtol=1e-13)
        except RuntimeError:
            continue
        if not 0 < best[2] < 1.5 * (times[-1] - times[0]) or masses[0] - masses[-1] < 1:
            continue
        questions.append(("fit", 0.01, *(float(v) for pair in zip(times, masses) for v in pair)))
        wanted.append((best, covariance, len(times), ((masses - curve(times, *best)) ** 2).sum()))
    tally.check("fits: enough series", len(questions) >= 20, str(len(questions)))
    for index, (told, (best, covariance, count, squares)) in enumerate(zip(ask(questions), wanted, strict=True)):
        what = f"fit {index}"
        if not tally.check(f"{what}: is told", isinstance(told, list), str(told)):
            continue
        tally.close(f"{what}: end", told[0], best[0], absolute=1e-4 * abs(best[1]))
        tally.close(f"{what}: tau", told[2], best[2], relative=1e-4)
        tally.close(f"{what}: height", told[1], best[1], relative=1e-4)
        if math.sqrt(squares / (count - 3)) > 0.01 / math.sqrt(12):
            reach = stats.t.ppf(0.9, count - 3)
            tally.close(f"{what}: doubt of the end", told[3], reach * math.sqrt(covariance[0, 0]), relative=5e-3)
            tally.close(f"{what}: doubt of tau", told[4], reach * math.sqrt(covariance[2, 2]) / best[2], relative=5e-3)


def check(_program, tally):
    check_air(tally)
    check_boards(tally)
    check_spans(tally)
    check_paces(tally)
    check_fits(tally)


def check_reference(tally):
    """Printed figures, without the program."""
    # IAPWS-IF97 saturation pressure at 300 K: 0.353658941e-2 MPa (IAPWS R7-97, table 35; from memory).
    tally.close("vapour at 300 K", wagner_pruss(300), 3536.58941, relative=2e-4)
    # Undercooled water at -20 C: 125.4 Pa (Smithsonian Meteorological Tables, from memory).
    tally.close("vapour at -20 C", murphy_koop(-20), 125.4, relative=3e-3)
    # The balance by hand: 16.12 C, 300 mm, 0.1 m/s, 20 C, 50 %: 43.1 g/(m2 h), see the tests of `support`.
    rate, face, _ = wet_board(20, 50, 0.1, 300, 300, 6, "insulated")
    tally.close("wet board: rate", rate, 43.1, absolute=0.5)
    tally.close("wet board: face", face, 16.12, absolute=0.03)
