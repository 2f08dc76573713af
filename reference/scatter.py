"""What powders scatter in water, in binder and in air: the program's own Mie series against miepython."""

import numpy as np
from miepython import efficiencies_mx

WAVELENGTH_UM = 0.55
MEDIA = {"water": 1.333, "binder": 1.53, "air": 1.0}
# How a powder is told, and its grains: size that halves it by volume (um), refractive index, factor by which sizes spread.
# Sizes are model choices of the program; indices as in the material's handbooks.
POWDERS = {
    "natural-chalk": ("natural chalk", 2.5, 1.60, 2),
    "marble-dust": ("marble dust", 14, 1.60, 2),
    "precipitated-chalk": ("precipitated chalk", 0.7, 1.60, 2),
    "gypsum": ("gypsum", 4, 1.523, 2),
    "kaolin": ("kaolin", 1, 1.56, 2),
    "talc": ("talc", 5, 1.58, 2),
    "barite": ("barite", 3, 1.64, 2),
    "quartz-flour": ("quartz flour", 5, 1.547, 2),
    "lithopone": ("lithopone", 0.7, 1.90, 2),
    "zinc-white": ("zinc white", 0.3, 2.01, 1.4),
    "titanium-white": ("titanium white", 0.25, 2.70, 1.4),
}


def scattering(median, index, spread, medium):
    """Per micrometre at full volume: 3/4 of 1.5 Q (1 - g) / d, over sizes that are bell-shaped in the logarithm by volume, to 4 sd.

    With 801 sizes the ripples of single spheres leave a few thousandths; more would take minutes here.
    """
    width = np.log(spread)
    logs = np.linspace(-4 * width, 4 * width, 801)
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


def check(program, tally):
    for name, (told, *grains) in POWDERS.items():
        # What each powder scatters alone stands in the report; chalk is the larger part, so that there is a word and a film.
        report = program.film("\n".join(["100 g natural chalk", f"30 g {told}", "10 g hide glue", "100 g water"]))
        row = next(row for row in report["hiding"]["powders"] if row["material"] == name)
        for medium, index in MEDIA.items():
            tally.close(f"{name} in {medium}", row[medium], scattering(*grains, index), relative=0.01, absolute=1e-5)
