"""Films: the program against the equations, figure by figure."""

from equations import film
from inputs import BINDERS, POWDERS, RECIPES
from program import value

WET_UM = 100.0
FIGURES = ["pvc", "cpvc", "lambda", "porosity", "solids_mass", "solids_volume", "wet_density_g_ml", "binder_per_100_powder_g"]
MASSES = ["filler", "binder", "water"]


def sorted_pot(pot, shares=BINDERS):
    """Powders, dry binders, water and plaster of a pot given in grams."""
    powders, binders, water, plaster = [], [], 0.0, 0.0
    for kind, grams in pot:
        if isinstance(grams, tuple):
            grams = sum(grams) / 2  # a range as told: its middle is the best guess
        if kind == "water":
            water = water + grams
        elif kind == "plaster":
            plaster = plaster + grams
        elif kind in shares:
            dry, wet, density = shares[kind]
            binders.append((grams * dry, density))
            water = water + grams * wet
        else:
            powders.append((grams, *POWDERS["chalk" if kind == "cup of chalk" else kind]))
    return powders, binders, water, plaster


def check(program, tally):
    for recipe in RECIPES:
        wanted = film(*sorted_pot(recipe.pot))
        answer = program.film(recipe.text, "--wet", f"{WET_UM:g}um")
        told = answer["film"]
        for name in FIGURES:
            if recipe.only is None or name in recipe.only:
                tally.close(f"{recipe.name}: {name}", value(told[name]), float(wanted[name]), relative=1e-3, absolute=1e-6)
        if recipe.only is None:
            dry = float(wanted["dry_share"]) * WET_UM
            tally.close(f"{recipe.name}: dry_um", value(told["dry_um"]), dry, relative=1e-3)
        masses = answer.get("mass_g") or told["mass_g"]
        for name in MASSES:
            tally.close(f"{recipe.name}: mass_g.{name}", value(masses[name]), float(wanted[name]), relative=1e-3, absolute=1e-6)


def check_reference(tally):
    """The equations themselves, against worked figures; needs no program."""
    # hand arithmetic: 100/2.71 = 36.900, 10/1.27 = 7.874, 100/0.998 = 100.200 ml
    hand = film([(100.0, 2.71, 18.0)], [(10.0, 1.27)], 100.0)
    for name, wanted in [
        ("pvc", 36.900 / 44.774),
        ("cpvc", 0.6572),
        ("porosity", 0.2026),
        ("solids_mass", 110 / 210),
        ("solids_volume", 44.774 / 144.974),
        ("wet_density_g_ml", 210 / 144.974),
        ("dry_share", 0.3873),
    ]:
        tally.close(f"by hand: {name}", float(hand[name]), wanted, relative=5e-4)
    # worked example in Lewarchik 2014: rutile, OA 20, density 4.2
    rutile = film([(100.0, 4.2, 20.0)], [(1.0, 1.1)], 1.0)
    tally.close("printed: rutile", float(rutile["cpvc"]), 0.5268, absolute=5e-4)
    # stoichiometry: 100 g of plaster take 18.62 g of water; gypsum holds 20.93 % of water (old plaster papers print both)
    plaster = film([], [(1.0, 1.27)], 60.0, plaster=100.0)
    tally.close("by hand: plaster that has set", float(plaster["filler"]), 118.62, absolute=0.01)
    tally.close("by hand: water left free", float(plaster["water"]), 41.38, absolute=0.01)
