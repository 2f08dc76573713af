"""From a pot to the film that it leaves, written from the equations alone.

Shares of volume: PVC = Vf / (Vf + Vb). Critical share from oil absorption OA (g oil on 100 g powder): for one powder
1 / (1 + OA rho / (100 rho_oil)); for a blend every powder keeps its own demand (Asbeck & Van Loo, Ind. Eng. Chem. 41
(1949) 1470; reduced PVC: Bierwagen & Hay, Prog. Org. Coat. 3 (1975) 83; the constant 0.935 and the worked rutile example:
R. Lewarchik, "Effect of Pigment Volume Concentration on Coatings Properties, Part II", 2014).
All arguments may be numpy arrays of draws.
"""

import numpy as np

from inputs import GYPSUM_DENSITY, GYPSUM_OIL, OIL_DENSITY, PLASTER_DENSITY, PLASTER_OIL, WATER_DENSITY

# CaSO4.0.5H2O + 1.5 H2O -> CaSO4.2H2O with Ca 40.078, S 32.06, O 15.999, H 1.008
H2O = 2 * 1.008 + 15.999
CASO4 = 40.078 + 32.06 + 4 * 15.999
WATER_TAKEN = 1.5 * H2O / (CASO4 + 0.5 * H2O)
GYPSUM_MADE = (CASO4 + 2 * H2O) / (CASO4 + 0.5 * H2O)


def set_plaster(plaster, water):
    """Masses of gypsum, plaster left and free water once the plaster has taken what it can."""
    degree = np.minimum(1.0, water / (WATER_TAKEN * plaster)) if np.all(plaster > 0) else 0.0 * water
    return GYPSUM_MADE * degree * plaster, (1 - degree) * plaster, water - WATER_TAKEN * degree * plaster


def film(powders, binders, water, plaster=0.0):
    """`powders`: (mass, density, oil absorption); `binders`: (dry mass, density). Masses in g, densities in g/ml."""
    gypsum, left, water = set_plaster(np.asarray(plaster, float), np.asarray(water, float))
    powders = [*powders, (gypsum, GYPSUM_DENSITY, GYPSUM_OIL), (left, PLASTER_DENSITY, PLASTER_OIL)]
    powder_volume = sum(mass / density for mass, density, _ in powders)
    powder_mass = sum(mass for mass, _, _ in powders)
    oil_volume = sum(mass * oil / (100 * OIL_DENSITY) for mass, _, oil in powders)
    binder_volume = sum(mass / density for mass, density in binders)
    binder_mass = sum(mass for mass, _ in binders)

    pvc = powder_volume / (powder_volume + binder_volume)
    cpvc = powder_volume / (powder_volume + oil_volume)
    wet_volume = powder_volume + binder_volume + water / WATER_DENSITY
    packed = np.where(pvc > cpvc, powder_volume / cpvc, powder_volume + binder_volume)
    mass = powder_mass + binder_mass + water
    return {
        "pvc": pvc,
        "cpvc": cpvc,
        "lambda": pvc / cpvc,
        "porosity": np.where(pvc > cpvc, 1 - cpvc / pvc, 0.0),
        "solids_mass": (powder_mass + binder_mass) / mass,
        "solids_volume": (powder_volume + binder_volume) / wet_volume,
        "wet_density_g_ml": mass / wet_volume,
        "dry_share": packed / wet_volume,
        "binder_per_100_powder_g": 100 * binder_mass / powder_mass,
        "filler": powder_mass,
        "binder": binder_mass,
        "water": water,
    }
