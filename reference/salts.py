"""Salts and acids in water: the program's balance of charges against PHREEQC (USGS), the same constants in both.

PHREEQC gets a database of its own with these constants alone, the Davies equation for every ion and no correction for what has no charge.
Constants typed from minteq.v4.dat and phreeqc.dat of PHREEQC (NIST Database 46); those marked * from memory.
"""

import json
import random

from phreeqpython.viphreeqc import VIPhreeqc

from example import written

# bare charge; log K with 1, 2, 3 protons; with calcium and 0, 1, 2 protons; with magnesium
LIGANDS = {
    "phosphate": ("Pho", -3, (12.375, 19.573, 21.721), (6.46, 15.035, 20.923), (4.654, 15.175, 21.256)),
    "citrate": ("Cit", -3, (6.396, 11.157, 14.285), (4.87, 9.26, 12.257), (4.89, 8.91, 12.20)),
    "acetate": ("Ace", -1, (4.757,), (1.18,), (1.27,)),
    "lactate": ("Lac", -1, (3.86,), (), ()),  # *
    "carbonate": ("Crb", -2, (10.329, 16.681), (), ()),  # second *
    "borate": ("Bor", -1, (9.24,), (), ()),
    "ammonia": ("Amm", 0, (9.244,), (), ()),
}
IONS = {"sodium": ("Na", 1), "chloride": ("Cl", -1), "calcium": ("Ca", 2), "magnesium": ("Mg", 2)}
MIXTURES = 60
CLOSE = 0.02  # pH


def charged(name, charge):
    return name if charge == 0 else f"{name}{charge:+d}"


def database():
    masters = [
        "H H+ -1 H 1.008",
        "H(0) H2 0 H",
        "H(1) H+ -1 0",
        "E e- 0 0 0",
        "O H2O 0 O 16.0",
        "O(0) O2 0 O",
        "O(-2) H2O 0 0",
    ]
    species = [
        "H+ = H+\nlog_k 0",
        "e- = e-\nlog_k 0",
        "H2O = H2O\nlog_k 0",
        "H2O = OH- + H+\nlog_k -14",
        "2 H+ + 2 e- = H2\nlog_k -3.15",
        "2 H2O = O2 + 4 H+ + 4 e-\nlog_k -86.08",
    ]

    def bond(left, right, charge, log_k):
        flat = "\n-gamma 0 0" if charge == 0 else ""
        species.append(f"{left} = {right}\nlog_k {log_k}{flat}")

    for name, charge in IONS.values():
        masters.append(f"{name} {charged(name, charge)} 0 1 1")
        species.append(f"{charged(name, charge)} = {charged(name, charge)}\nlog_k 0")
    for name, charge, protons, calcium, magnesium in LIGANDS.values():
        bare = charged(name, charge)
        masters.append(f"{name} {bare} 0 1 1")
        bond(bare, bare, charge, 0)
        for count, log_k in enumerate(protons, 1):
            bond(f"{bare} + {count} H+", charged(f"H{count}{name}", charge + count), charge + count, log_k)
        for metal, bonds in (("Ca", calcium), ("Mg", magnesium)):
            for count, log_k in enumerate(bonds):
                extra = f" + {count} H+" if count else ""
                held = f"H{count}" if count else ""
                bond(f"{bare}{extra} + {metal}+2", charged(f"{metal}{held}{name}", charge + 2 + count), charge + 2 + count, log_k)
    return "SOLUTION_MASTER_SPECIES\n" + "\n".join(masters) + "\nSOLUTION_SPECIES\n" + "\n".join(species) + "\nEND\n"


class Phreeqc:
    def __init__(self):
        self.engine = VIPhreeqc()
        self.engine.load_database_string(database())

    def settle(self, mixture):
        """pH and ionic strength of one kilogram of water with these amounts, mmol."""
        names = {name: code for name, (code, *_) in {**LIGANDS, **IONS}.items()}
        amounts = "\n".join(f"{names[name]} {amount!r}" for name, amount in mixture.items() if amount > 0)
        self.engine.run_string(
            "SELECTED_OUTPUT\n-reset false\n-high_precision true\nUSER_PUNCH\n-headings ph strength\n10 PUNCH -LA(\"H+\"), MU\n"
            f"SOLUTION 1\nunits mmol/kgw\ntemp 25\npH 7 charge\n{amounts}\nEND\n"
        )
        ph, strength = self.engine.get_selected_output_array()[-1]
        return ph, strength


def strength(mixture):
    """No more than this, mol/l: every ion bare."""
    squares = sum(amount * LIGANDS[name][1] ** 2 for name, amount in mixture.items() if name in LIGANDS)
    return (squares + sum(amount * IONS[name][1] ** 2 for name, amount in mixture.items() if name in IONS)) / 2000


def mixtures():
    chance = random.Random(20260101)
    out = []
    while len(out) < MIXTURES:
        parts = chance.sample(sorted(LIGANDS), chance.randint(1, 4))
        mixture = {name: round(chance.uniform(0.5, 60), 3) for name in parts}
        for metal in ("calcium", "magnesium"):
            if chance.random() < 0.6:
                mixture[metal] = round(chance.uniform(0.2, 20), 3)
        # Sodium or chloride for a pH anywhere between that of the acids and that of the bases.
        needs = sum(-LIGANDS[name][1] * mixture[name] for name in parts) - 2 * sum(mixture.get(m, 0) for m in ("calcium", "magnesium"))
        mixture["sodium"] = round(max(0.0, needs) * chance.uniform(0.02, 1.0), 3)
        mixture["chloride"] = round(max(0.0, -needs) + chance.uniform(0, 10), 3)
        if strength(mixture) <= 0.2:
            out.append(mixture)
    return out


def check_reference(tally):
    """PHREEQC with this database, against the NBS pH standards (from memory)."""
    engine = Phreeqc()
    for name, mixture, wanted in [
        ("acetate 0.1 + 0.1", {"acetate": 200.0, "sodium": 100.0}, 4.65),
        ("phosphate 0.025 + 0.025", {"phosphate": 50.0, "sodium": 75.0}, 6.865),
        ("borax 0.01", {"borate": 40.0, "sodium": 20.0}, 9.18),
    ]:
        tally.close(f"NBS: {name}", engine.settle(mixture)[0], wanted, absolute=0.02)


def settled(cases):
    """The same from the example `salts` of the crate `binder`."""
    lines = "".join(json.dumps(mixture) + "\n" for mixture in cases)
    return [json.loads(line) for line in written("binder", "salts", stdin=lines.encode()).decode().splitlines()]


def check(_program, tally):
    cases = mixtures()
    answers = settled(cases)
    tally.check("an answer for each mixture", len(answers) == len(cases))
    engine = Phreeqc()
    for mixture, answer in zip(cases, answers):
        ph, ionic = engine.settle(mixture)
        told = json.dumps(mixture)
        tally.close(f"pH of {told}", answer["ph"], ph, absolute=CLOSE)
        tally.close(f"ionic strength of {told}", answer["ionic_strength"], ionic, relative=0.01)
        tally.check(f"charges of {told}", abs(answer["unbalanced"]) < 1e-9)
