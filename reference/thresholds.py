"""What boards say of the thickness at which a ground cracks: logistic curves through numbers that are only known to lie between marks.

The same tables and the same expected figures (`crates/statistics/tests/data`) are read here and by the tests of that crate, so the
program and `scipy` are held against each other without a command of its own. Run as a script it prints the figures anew.

Beliefs before any board (model choices): the place lies at 0 within 0.7, its logarithmic scatter at ln 0.35 within 0.5; groups share
half of the variance of the place.
"""

import csv
import pathlib
import sys

import numpy as np
from scipy import optimize, stats
from scipy.special import expit

DATA = pathlib.Path(__file__).parent.parent / "crates" / "statistics" / "tests" / "data"
PLACE_SD, COMMON, SPREAD, SPREAD_SD = 0.7, 0.5, 0.35, 0.5


def tables():
    """Marks in the logarithm by table and group; open ends are infinite."""
    out = {}
    with open(DATA / "cracked_boards.csv", newline="") as file:
        for row in csv.DictReader(file):
            low = np.log(float(row["low"])) if row["low"] else -np.inf
            high = np.log(float(row["high"])) if row["high"] else np.inf
            out.setdefault(row["table"], {}).setdefault(int(row["group"]), []).append((low, high))
    return out


def log_likelihood(marks, place, spread):
    low, high = np.array(marks).T
    law = stats.logistic(place, spread)
    # The share between two marks, taken from whichever tail keeps its digits.
    return np.sum(np.log(np.where(low > place, law.sf(low) - law.sf(high), law.cdf(high) - law.cdf(low))))


def likeliest(marks):
    """Place, spread and objective that the beliefs and the boards of one group make likeliest."""

    def objective(x):
        place, log_spread = x
        doubt = (place / PLACE_SD) ** 2 / 2 + ((log_spread - np.log(SPREAD)) / SPREAD_SD) ** 2 / 2
        return doubt - log_likelihood(marks, place, np.exp(log_spread))

    best = optimize.minimize(objective, (0.0, np.log(SPREAD)), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 4000})
    return best.x[0], np.exp(best.x[1]), best.fun


def unbiased(marks):
    """Without beliefs: what `scipy.stats` fits to censored numbers; None where the boards leave the spread open."""
    low, high = np.array(marks).T
    if not (np.isfinite(low).any() and np.isfinite(high).any()) or low[np.isfinite(low)].max() <= high[np.isfinite(high)].min():
        return None
    data = stats.CensoredData(
        interval=[pair for pair in marks if np.all(np.isfinite(pair))],
        left=high[np.isinf(low)],
        right=low[np.isinf(high)],
    )
    return stats.logistic.fit(data)


def believed(groups):
    """Mean and deviation of the place of group 0 and mean of the squared spread, by Gauss and Hermite's rule in every direction."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(80)
    weights = weights / weights.sum()
    common_sd, own_sd = PLACE_SD * np.sqrt(COMMON), PLACE_SD * np.sqrt(1 - COMMON)
    sums = np.zeros(4)
    spreads, spread_weights = np.polynomial.hermite_e.hermegauss(40)
    spread_weights = spread_weights / spread_weights.sum()
    for step, weight in zip(spreads, spread_weights):
        spread = SPREAD * np.exp(SPREAD_SD * step)
        # One row for each common place, one column for each place of a group about it.
        places = common_sd * nodes[:, None] + own_sd * nodes
        share = {}
        for group, marks in groups.items():
            between = [expit((high - places) / spread) - expit((low - places) / spread) for low, high in marks]
            share[group] = np.prod(np.maximum(between, 1e-300), axis=0)
        others = np.prod([share[group] @ weights for group in share if group != 0] or [np.ones(len(nodes))], axis=0)
        cells = weight * (weights * others)[:, None] * weights * share.get(0, 1.0)
        sums += [np.sum(cells * term) for term in (1.0, places, places**2, spread**2)]
    mean = sums[1] / sums[0]
    return mean, np.sqrt(sums[2] / sums[0] - mean**2), sums[3] / sums[0]


def figures():
    for name, groups in tables().items():
        alone = list(groups) == [0]
        place, spread, objective = likeliest(groups[0]) if alone else (None, None, None)
        plain = unbiased(groups[0]) if alone else None
        mean, deviation, squared = believed(groups)
        yield {
            "table": name,
            "place": place,
            "spread": spread,
            "objective": objective,
            "plain_place": plain[0] if plain else None,
            "plain_spread": plain[1] if plain else None,
            "mean": mean,
            "deviation": deviation,
            "squared_spread": squared,
        }


def check_reference(tally):
    """The figures that the tests of the program are held against."""
    with open(DATA / "cracked_boards_expected.csv", newline="") as file:
        expected = {row["table"]: row for row in csv.DictReader(file)}
    for row in figures():
        wanted = expected[row["table"]]
        for name, value in row.items():
            if name == "table":
                continue
            if value is None:
                tally.check(f"cracks, {row['table']}: no {name}", wanted[name] == "")
            else:
                tally.close(f"cracks, {row['table']}: {name}", value, float(wanted[name]), absolute=2e-4)
    # Seven boards worked beforehand with other code: place -0.1157, spread 0.2616.
    seven = expected["seven boards"]
    tally.close("cracks, seven boards: place", float(seven["place"]), -0.1157, absolute=5e-4)
    tally.close("cracks, seven boards: spread", float(seven["spread"]), 0.2616, absolute=5e-4)


if __name__ == "__main__":
    writer = None
    for row in figures():
        row = {name: value if isinstance(value, str) else "" if value is None else f"{value:.6f}" for name, value in row.items()}
        if writer is None:
            writer = csv.DictWriter(sys.stdout, row.keys(), lineterminator="\n")
            writer.writeheader()
        writer.writerow(row)
