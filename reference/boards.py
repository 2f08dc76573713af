"""Boards of trials: exact tests and fits between marks, asked of `scipy` on random tables that are made anew from fixed seeds."""

import math

import numpy
from scipy import optimize, stats

SEED = 20_261
HEAD = "board,measure,value,kind,batch,day,recipe,job,strip\n"


def table(rows):
    return HEAD + "".join(",".join(map(str, row)) + "\n" for row in rows)


def plain(values, kind, days=None):
    """One board a value; `values` maps a recipe to its readings."""
    rows = []
    for recipe, list_ in values.items():
        for index, value in enumerate(list_):
            day = days[recipe][index] if days else ""
            rows.append((f"{recipe}{index}", "m", value, kind, f"{recipe}{index}", day, recipe, "", ""))
    return table(rows)


def first_effect(answer):
    return answer["measures"][0]["effects"][0]


def fisher_cases(random):
    for _ in range(30):
        a, b = (int(n) for n in random.integers(2, 9, 2))
        yield int(random.integers(0, a + 1)), a, int(random.integers(0, b + 1)), b


def yes_no(program, tally, random):
    for x, a, y, b in fisher_cases(random):
        values = {"A": ["yes"] * x + ["no"] * (a - x), "B": ["yes"] * y + ["no"] * (b - y)}
        effect = first_effect(program.json("answer", stdin=plain(values, "yes_no")))
        what = f"yes {x} of {a} against {y} of {b}"
        tally.close(f"{what}: Fisher", effect["exact"]["p"], stats.fisher_exact([[x, a - x], [y, b - y]]).pvalue, absolute=1e-9)
        least = min(
            stats.fisher_exact([[i, a - i], [j, b - j]]).pvalue for i in range(a + 1) for j in range(b + 1)
        )
        tally.close(f"{what}: least of all tables", effect["exact"]["least_p"], least, absolute=1e-9)
        above, low, high = two_groups(x, a, y, b)
        tally.close(f"{what}: chance above 0", effect["odds_above_0"], above, absolute=1e-3)
        tally.close(f"{what}: low end", effect["figure"]["low"], min(low, y / b - x / a), absolute=4e-3)
        tally.close(f"{what}: high end", effect["figure"]["high"], max(high, y / b - x / a), absolute=4e-3)


def two_groups(x, a, y, b, deviation=2.5):
    """Log-odds of the first group and the difference, both bell-shaped beforehand; a plain grid."""
    line = numpy.linspace(-14, 14, 1121)
    base, shift = numpy.meshgrid(line, line, indexing="ij")
    other = base + shift

    def log_likelihood(k, n, odds):
        return k * odds - n * numpy.logaddexp(0, odds)

    log_weight = log_likelihood(x, a, base) + log_likelihood(y, b, other)
    log_weight += stats.norm.logpdf(base, scale=deviation) + stats.norm.logpdf(shift, scale=deviation)
    weight = numpy.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    above = weight[shift > 1e-9].sum() + weight[abs(shift) <= 1e-9].sum() / 2
    difference = (1 / (1 + numpy.exp(-other)) - 1 / (1 + numpy.exp(-base))).ravel()
    order = difference.argsort()
    reached = weight.ravel()[order].cumsum()
    low, high = (difference[order][numpy.searchsorted(reached, share)] for share in (0.1, 0.9))
    return above, low, high


def means(program, tally, random):
    """Numbers read exactly: shuffles, and the difference with its range."""
    for case in range(20):
        a, b = (int(n) for n in random.integers(2, 7, 2))
        values = {name: [round(float(v), 2) for v in random.uniform(1, 9, n)] for name, n in (("A", a), ("B", b))}
        effect = first_effect(program.json("answer", stdin=plain(values, "length")))
        shuffle = stats.permutation_test(
            (values["A"], values["B"]), lambda x, y, axis: numpy.mean(y, axis) - numpy.mean(x, axis), vectorized=True, n_resamples=numpy.inf
        )
        what = f"means {case}, {a} against {b}"
        tally.close(f"{what}: shuffle", effect["exact"]["p"], shuffle.pvalue, absolute=1e-9)
        student = stats.ttest_ind(values["B"], values["A"])
        ends = student.confidence_interval(0.8)
        tally.close(f"{what}: difference", effect["figure"]["value"], numpy.mean(values["B"]) - numpy.mean(values["A"]), absolute=1e-9)
        tally.close(f"{what}: low end", effect["figure"]["low"], ends.low, absolute=1e-6)
        tally.close(f"{what}: high end", effect["figure"]["high"], ends.high, absolute=1e-6)


def means_within_days(program, tally, random):
    """Labels change places within a day only: every arrangement listed in plain Python."""
    from itertools import combinations

    for case in range(6):
        values, days = {"A": [], "B": []}, {"A": [], "B": []}
        listed = [0.0]
        seen = 0.0
        for day in ("1", "2"):
            own = {name: [round(float(v), 2) for v in random.uniform(1, 9, int(random.integers(1, 4)))] for name in values}
            for name, list_ in own.items():
                values[name] += list_
                days[name] += [day] * len(list_)
            pool = own["A"] + own["B"]
            listed = [s + sum(chosen) for s in listed for chosen in combinations(pool, len(own["B"]))]
            seen += sum(own["B"])
        above = sum(s >= seen - 1e-9 for s in listed)
        below = sum(s <= seen + 1e-9 for s in listed)
        effect = first_effect(program.json("answer", stdin=plain(values, "length", days)))
        what = f"means within days {case}"
        tally.close(f"{what}: shuffle", effect["exact"]["p"], min(1.0, 2 * min(above, below) / len(listed)), absolute=1e-9)


def ratings(program, tally, random):
    """Classes: ranks with ties, every arrangement listed by scipy."""
    for case in range(20):
        a, b = (int(n) for n in random.integers(2, 6, 2))
        values = {"A": [int(v) for v in random.integers(0, 6, a)], "B": [int(v) for v in random.integers(0, 6, b)]}
        effect = first_effect(program.json("answer", stdin=plain(values, "class_0_5")))
        ranks = stats.rankdata(values["A"] + values["B"])
        listed = stats.permutation_test(
            (ranks[:a], ranks[a:]), lambda x, y, axis: numpy.sum(y, axis), vectorized=True, n_resamples=numpy.inf
        )
        what = f"ratings {case}, {a} against {b}"
        tally.close(f"{what}: rank sum", effect["exact"]["p"], listed.pvalue, absolute=1e-9)
        if len(set(values["A"] + values["B"])) == a + b:
            exact = stats.mannwhitneyu(values["B"], values["A"], method="exact").pvalue
            tally.close(f"{what}: Mann and Whitney", effect["exact"]["p"], exact, absolute=1e-9)


def between(program, tally, random):
    """Days until the first crack, seen between looks: fits without belief, and medians with it."""
    looks = [0, 1, 3, 7, 14, 28]
    for case in range(16):
        values, seen = {}, {}
        for name in ("A", "B"):
            true = numpy.exp(random.normal(1.8, 0.9, int(random.integers(5, 9))))
            ends = [(max(l for l in looks if l <= t), min((l for l in looks if l > t), default=math.inf)) for t in true]
            seen[name] = ends
            values[name] = [f">{low}" if math.isinf(high) else f"<{high}" if low == 0 else f"{low}..{high}" for low, high in ends]
        answer = program.json("answer", stdin=plain(values, "time"))
        for threshold in answer["measures"][0]["thresholds"]:
            fits_between(tally, f"between {case}", threshold, seen[threshold["recipe"]])
        believed(tally, f"between {case}", answer["measures"][0], seen)


def fits_between(tally, what, threshold, ends):
    name = threshold["recipe"]
    data = stats.CensoredData(
        interval=[(low, high) for low, high in ends if low > 0 and math.isfinite(high)],
        left=[high for low, high in ends if low == 0],
        right=[low for low, high in ends if math.isinf(high)],
    )
    for fit, family in zip(threshold["fits"], (stats.lognorm, stats.weibull_min)):
        if fit["why"] if "why" in fit else False:
            # Settled by nothing: a spread of nearly nothing is as likely as any.
            tally.check(f"{what}, {name}, {fit['curve']}: does not settle", runs_off(family, data, len(ends)))
            continue
        with numpy.errstate(divide="ignore"):
            shape, _, scale = family.fit(data, floc=0)
        best = log_likelihood(family, shape, scale, ends)
        # scipy stops early now and then: what counts is that no better fit is known.
        told_shape = fit["spread"] if family is stats.lognorm else 1 / fit["spread"]
        told = log_likelihood(family, told_shape, math.exp(fit["place"]), ends)
        tally.close(f"{what}, {name}, {fit['curve']}: likelihood of the curve told", told, fit["log_likelihood"], absolute=1e-6)
        tally.check(f"{what}, {name}, {fit['curve']}: no likelier curve", told >= best - 1e-6, f"{told} against {best}")


def log_likelihood(family, shape, scale, ends):
    curve = family(shape, scale=scale)
    return sum(math.log(max(curve.cdf(high) - curve.cdf(low), 1e-300)) for low, high in ends)


def runs_off(family, data, count):
    """Whether ever narrower curves stay as likely as the best that scipy finds."""
    with numpy.errstate(divide="ignore"):
        shape, _, scale = family.fit(data, floc=0)
    narrow = shape < 0.05 if family is stats.lognorm else shape > 20
    wide = shape > 20 if family is stats.lognorm else shape < 0.05
    return narrow or wide or count < 2


def believed(tally, what, measure, seen):
    """Medians on a grid: beliefs about the place (the middle of all marks, 1.4) and the spread (0.35, 0.5 in the logarithm)."""
    marks = [math.log(m) for ends in seen.values() for pair in ends for m in pair if 0 < m < math.inf]
    middle = (min(marks) + max(marks)) / 2
    places = numpy.linspace(middle - 5, middle + 5, 801)
    spreads = numpy.exp(numpy.linspace(math.log(0.35) - 3, math.log(0.35) + 3, 241))
    place, spread = numpy.meshgrid(places, spreads, indexing="ij")
    medians = {}
    for threshold in measure["thresholds"]:
        log_weight = stats.norm.logpdf(place, middle, 1.4) + stats.norm.logpdf(numpy.log(spread), math.log(0.35), 0.5)
        for low, high in seen[threshold["recipe"]]:
            a = (math.log(low) - place) / spread if low > 0 else -numpy.inf
            b = (math.log(high) - place) / spread if math.isfinite(high) else numpy.inf
            share = stats.norm.cdf(b) - stats.norm.cdf(a)
            log_weight = log_weight + numpy.log(numpy.maximum(share, 1e-300))
        weight = numpy.exp(log_weight - log_weight.max()).sum(axis=1)
        weight /= weight.sum()
        medians[threshold["recipe"]] = weight
        reached = weight.cumsum()
        for share, key in ((0.1, "low"), (0.5, "value"), (0.9, "high")):
            wanted = math.exp(numpy.interp(share, reached, places))
            tally.close(f"{what}, {threshold['recipe']}: median {share}", threshold["median"][key], wanted, relative=0.02)
    chance = (medians["B"][:, None] * medians["A"][None, :] * (places[:, None] > places[None, :])).sum()
    chance += (medians["B"] * medians["A"]).sum() / 2
    tally.close(f"{what}: chance that B holds longer", measure["effects"][0]["odds_above_0"], chance, absolute=0.01)


def check(program, tally):
    random = numpy.random.default_rng(SEED)
    for part in (yes_no, means, means_within_days, ratings, between):
        part(program, tally, random)


def check_reference(tally):
    """Printed and worked figures, without the program."""
    # Fisher 1935, the lady who tasted tea: 34 of 70, two-sided.
    tally.close("tea", stats.fisher_exact([[3, 1], [1, 3]]).pvalue, 34 / 70, absolute=1e-9)
    # Eight boards looked at on days 1, 3, 7, 14: the optimum by a general optimiser of the likelihood typed out.
    ends = [(0, 1), (1, 3), (3, 7), (3, 7), (7, 14), (7, 14), (14, math.inf), (14, math.inf)]

    def loss(at):
        shape, scale = numpy.exp(at)
        share = [math.exp(-((low / scale) ** shape)) - (0 if math.isinf(high) else math.exp(-((high / scale) ** shape))) for low, high in ends]
        return -sum(math.log(max(one, 1e-300)) for one in share)

    best = optimize.minimize(loss, [0, 2], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12})
    tally.close("first cracks: shape", math.exp(best.x[0]), 0.94198, absolute=1e-4)
    tally.close("first cracks: scale", math.exp(best.x[1]), 10.0772, absolute=1e-3)
    # Four against four, all and none, bell-shaped beliefs of 2.5: adaptive quadrature gives 0.996024.
    tally.close("two groups", two_groups(0, 4, 4, 4)[0], 0.996024, absolute=1e-4)
