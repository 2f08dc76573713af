"""What powders scatter: the data file of the program against Mie theory by miepython."""

import csv
from pathlib import Path

import numpy as np
from miepython import efficiencies_mx

FILE = Path(__file__).parent.parent / "crates" / "ground" / "data" / "scatter.csv"
WAVELENGTH_UM = 0.55
MEDIA = {"water": 1.333, "binder": 1.53, "air": 1.0}


def scattering(median, spread, index, medium):
    """Per micrometre at full volume: 3/4 of 1.5 Q (1 - g) / d, over sizes that are bell-shaped in the logarithm by volume, to 4 sd."""
    width = np.log(spread)
    logs = np.linspace(-4 * width, 4 * width, 161)
    weights = np.exp(-(logs**2) / (2 * width**2))
    total = 0.0
    for log, weight in zip(logs, weights / weights.sum()):
        size = median * np.exp(log)
        _, q, _, g = efficiencies_mx(index / medium, np.pi * size * medium / WAVELENGTH_UM)
        total += weight * 1.5 * float(q) * (1 - float(g)) / size
    return 0.75 * total


def check_reference(tally):
    # Bohren and Huffman's worked sphere: index 1.55, x 5.213 -> extinction 3.1050, asymmetry 0.6331 (their appendix A, from memory)
    q, _, _, g = efficiencies_mx(1.55, 5.213)
    tally.close("printed: extinction of Bohren and Huffman's sphere", float(q), 3.1050, absolute=1e-3)
    tally.close("printed: its asymmetry", float(g), 0.6331, absolute=1e-3)
    with FILE.open(newline="") as lines:
        for row in csv.DictReader(lines):
            sizes = float(row["grain_um"]), float(row["spread"]), float(row["index"])
            for name, medium in MEDIA.items():
                tally.close(f"{row['material']} in {name}", float(row[name]), scattering(*sizes, medium), relative=0.02, absolute=1e-4)
