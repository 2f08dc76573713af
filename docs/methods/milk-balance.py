"""Charge balances of milk and of casein, written out: they give the doses in crates/binder/data/binder.csv.

Plain Python, nothing to install: python3 docs/methods/milk-balance.py
Sources and limits stand in milk.md and base.md. Amounts in mmol and g for one litre of milk, charges in meq.
"""

from math import exp, sqrt

# Groups that take or give a proton, mmol for each g of protein: counted from the amino acid sequences (from memory).
CASEIN = {"asp": 0.2209, "glu": 0.8884, "his": 0.1941, "tyr": 0.3350, "lys": 0.5608, "arg": 0.2195, "ser": 0.2605, "n": 0.0363, "c": 0.0431}
WHEY = {"asp": 0.6279, "glu": 0.7724, "his": 0.1370, "tyr": 0.2359, "lys": 0.8276, "arg": 0.1389, "ser": 0.0, "n": 0.0590, "c": 0.0590}
# Usual pK of those groups in a protein (textbook set, from memory); phosphate on serine has two.
PK = {"c": 3.6, "asp": 4.0, "glu": 4.4, "his": 6.5, "n": 7.8, "tyr": 10.0, "lys": 10.4, "arg": 12.5, "ser1": 1.5, "ser2": 6.0}
MOLECULES = CASEIN["c"]  # one C-terminus each

# Skim milk, mmol in a litre: Fox and McSweeney 1998, Table 5.6; phosphate after Holt 2004; CO2 and sugar phosphates from memory.
NA, K, CL, SO4, CA, MG = 21.7, 37.1, 33.8, 1.04, 29.9, 5.35
PHOSPHATE, COLLOID, CITRATE, CO2, SUGAR_PHOSPHATE = 20.9, 10.0, 9.25, 2.0, 2.5
CASEIN_G, WHEY_G, FRESH = 27.2, 6.0, 6.65
# Charge when bare; log K for 1, 2, 3 protons; with calcium and 0, 1, 2 protons; with magnesium. NIST Database 46, as in minteq.v4.
LIGANDS = {
    "phosphate": (-3, (12.375, 19.573, 21.721), (6.46, 15.035, 20.923), (4.654, 15.175, 21.256)),
    "citrate": (-3, (6.396, 11.157, 14.285), (4.87, 9.26, 12.257), (4.89, 8.91, 12.20)),
    "acetate": (-1, (4.757,), (1.18,), (1.27,)),
}


def bare(pk, ph):
    """Share of a group that has given its proton away."""
    return 1 / (1 + 10 ** (pk - ph))


def gamma(charge, strength):
    """Davies equation, 25 C."""
    root = sqrt(strength)
    return -0.509 * charge**2 * (root / (1 + root) - 0.3 * strength)


def colloid(ph):
    """Share of the milk's lime and phosphate that is still in the grains of casein (fitted: gone below about pH 4.9)."""
    left = lambda at: 1 / (1 + exp((5.25 - at) / 0.17))
    return min(1, left(ph) / left(FRESH))


def protein_charge(ph, groups, shift=0.0):
    """meq for each g of protein."""
    gone = {name: bare(pk + shift, ph) for name, pk in PK.items()}
    minus = sum(groups[name] * gone[name] for name in ("c", "asp", "glu", "tyr"))
    plus = sum(groups[name] * (1 - gone[name]) for name in ("his", "n", "lys", "arg"))
    return plus - minus - groups["ser"] * (gone["ser1"] + gone["ser2"])


def halve(low, high, rises):
    """Where a function that is positive below and negative above changes sign."""
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if rises(middle) > 0 else (low, middle)
    return low


def base_for(ph):
    """Base for washed casein to this pH, meq/g; the charges on one molecule hold each other back (Linderstroem-Lang, w = 0.06)."""
    charge = halve(-60, 60, lambda z: protein_charge(ph, CASEIN, -0.868 * 0.06 * z) / MOLECULES - z)
    return -charge * MOLECULES


def unbalance(ph, residue=0.0, share=1.0, hcl=0.0, acetic=0.0, lactic=0.0, citric=0.0):
    """Sum of all charges in the milk; `share` is milk in milk and acid. Acids in mmol for a litre of the mixture."""
    h, strength = 10**-ph, 0.08
    held = colloid(ph)
    grains = COLLOID * held * share
    totals = {"phosphate": PHOSPHATE * share - grains, "citrate": CITRATE * share + citric, "acetate": acetic}
    calcium, magnesium = CA * share - 1.85 * grains, MG * share - 0.17 * grains
    acids = [(mass * share * groups[name], PK[name]) for mass, groups in ((CASEIN_G, CASEIN), (WHEY_G, WHEY)) for name in ("asp", "glu", "c")]
    serine = CASEIN_G * share * CASEIN["ser"]
    ca, mg = calcium / 4, magnesium / 2
    for _ in range(6):
        weak, strong = 10 ** (1.18 + gamma(2, strength)), 10 ** (2.66 + 2 * gamma(2, strength))
        for _ in range(120):
            c, m = ca / 1000, mg / 1000
            tied, tied_mg, protons, ions = 0.0, 0.0, 0.0, 0.0
            for name, (z, with_h, with_ca, with_mg) in LIGANDS.items():
                forms = [(0, z, 1.0, "")]
                here = lambda log_k, charge, metal: 10 ** (log_k + gamma(z, strength) + (gamma(2, strength) if metal else 0) - gamma(charge, strength))
                forms += [(n, z + n, here(k, z + n, False) * h**n, "") for n, k in enumerate(with_h, 1)]
                forms += [(n, z + 2 + n, here(k, z + 2 + n, True) * h**n * c, "ca") for n, k in enumerate(with_ca)]
                forms += [(n, z + 2 + n, here(k, z + 2 + n, True) * h**n * m, "mg") for n, k in enumerate(with_mg)]
                whole = sum(form[2] for form in forms)
                for n, charge, weight, metal in forms:
                    amount = totals[name] * weight / whole
                    protons += n * amount
                    ions += amount * charge**2
                    tied += amount if metal == "ca" else 0
                    tied_mg += amount if metal == "mg" else 0
            kept = 0.0
            for amount, pk in acids:
                whole = 1 + 10 ** (pk - ph) + weak * (c + m)
                kept += amount * 10 ** (pk - ph) / whole
                tied += amount * weak * c / whole
                tied_mg += amount * weak * m / whole
            whole = 1 + 10 ** (PK["ser2"] - ph) + strong * (c + m)
            free = serine * (1 - held)
            serine_kept = free * 10 ** (PK["ser2"] - ph) / whole
            tied += free * strong * c / whole
            tied_mg += free * strong * m / whole
            before, ca, mg = ca, sqrt(ca * ca * calcium / (ca + tied)), sqrt(mg * mg * magnesium / (mg + tied_mg))
            if abs(ca - before) < 1e-7:
                break
        ions += (NA + K + CL + 4 * SO4 + SUGAR_PHOSPHATE * (1 + 3 * bare(5.8, ph)) + CO2 * bare(6.35, ph)) * share + 4 * (ca + mg) + hcl + lactic
        strength = ions / 2000
    total = (NA + K + 2 * CA + 2 * MG - CL - 2 * SO4 + residue) * share - hcl - lactic * bare(3.86 + gamma(1, strength), ph)
    total += protons + sum(LIGANDS[name][0] * amount for name, amount in totals.items()) - (3 - 0.78) * grains
    total -= sum(amount for amount, _ in acids) - kept
    for mass, groups in ((CASEIN_G, CASEIN), (WHEY_G, WHEY)):
        plus = sum(groups[name] * (1 - bare(PK[name], ph)) for name in ("his", "n", "lys", "arg"))
        total += mass * share * (plus - groups["tyr"] * bare(PK["tyr"], ph))
    total -= 2 * serine * held + free * bare(PK["ser1"], ph) + free - serine_kept
    k1 = 10 ** (ph - 6.352 - gamma(1, strength))
    k2 = 10 ** (ph - 10.329 - gamma(2, strength) + gamma(1, strength))
    total -= CO2 * share * k1 * (1 + 2 * k2) / (1 + k1 + k1 * k2) + SUGAR_PHOSPHATE * share * (1 + bare(5.8, ph))
    return total + 1000 * (h - 10 ** (ph - 14))


def main():
    print("casein without charge at pH", round(halve(4, 5, lambda ph: protein_charge(ph, CASEIN)), 3))
    print("base, meq/g:", {ph: round(base_for(ph), 3) for ph in (4.0, 4.3, 4.8, 5.0, 5.5, 6.0, 6.6, 7.0, 8.0, 8.3, 9.0)})
    residue = -unbalance(FRESH)
    print("residue of the analysis, meq/l:", round(residue, 2))
    for acid in ("hcl", "acetic", "lactic", "citric"):
        doses = {ph: round(halve(0, 400, lambda dose: unbalance(ph, residue, **{acid: dose})), 1) for ph in (5.5, 5.0, 4.6, 4.4)}
        print(f"{acid}, mmol/l:", doses)
    vinegar, milk = 473.176, 3785.412
    mixed = milk / (milk + vinegar)
    acid = 0.8326 * vinegar / (milk + vinegar) * 1000
    print("two US cups of 5 % vinegar in a US gallon: pH", round(halve(4, 6.6, lambda ph: unbalance(ph, residue, mixed, acetic=acid)), 3))


if __name__ == "__main__":
    main()
