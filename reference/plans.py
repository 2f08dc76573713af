"""Trials of boards: the columns of a typed plan, worked out again in `numpy`."""

import itertools
import math
import random

import numpy as np

from program import Refused

TRIALS = 60
SEED = 20240611


class Trial:
    """A random typed trial; `rng` decides everything."""

    def __init__(self, number, rng):
        self.number = number
        self.boards = rng.randint(5, 16)
        self.spread = rng.choice([0, 0.1, 1, 10])
        self.settings = []
        for at in range(rng.randint(1, 4)):
            if rng.random() < 0.5:
                levels = rng.choice([[2, 3], [-1, 1], [1, 2, 5], [0.5, 0.75]])
            else:
                levels = [f"k{level}" for level in range(rng.choice([2, 2, 3]))]
            self.settings.append((f"s{at}", levels))
        self.rows = [{name: rng.choice(levels) for name, levels in self.settings} for _ in range(self.boards)]
        # every third trial has a setting that copies another
        if number % 3 == 0:
            name, levels = self.settings[0]
            twins = [f"t{level}" for level in range(len(levels))]
            self.settings.append(("twin", twins))
            for row in self.rows:
                row["twin"] = twins[levels.index(row[name])]
        self.pots = [rng.randrange(max(2, self.boards // 2)) for _ in range(self.boards)]
        self.days = [1 + rng.randrange(2) for _ in range(self.boards)]
        self.shape = None
        if number % 4 == 1:
            self.blend(rng)

    def blend(self, rng):
        self.shape = rng.choice(["linear", "quadratic"])
        self.parts = [("chalk", 0.3), ("glue", 0.05), ("water", 0.1)]
        self.shares = []
        for _ in range(self.boards):
            extra = [rng.random() for _ in self.parts]
            room = 1 - sum(low for _, low in self.parts)
            shares = [round(low + room * x / sum(extra), 4) for (_, low), x in zip(self.parts, extra)]
            shares[2] = round(1 - shares[0] - shares[1], 4)
            self.shares.append(shares)

    def text(self):
        lines = ["trial = 1", f"size = {{ batch_spread = {self.spread} }}"]
        if self.shape:
            lines.append(f'shape = "{self.shape}"')
            parts = ", ".join(f'{{ name = "{name}", low = "{low}" }}' for name, low in self.parts)
            lines.append(f"part = [{parts}]")
        lines.append("setting = [")
        for name, levels in self.settings:
            if isinstance(levels[0], str):
                kinds = ", ".join(f'"{level}"' for level in levels)
                lines.append(f'  {{ name = "{name}", kinds = [{kinds}], per = "board" }},')
            else:
                lines.append(f'  {{ name = "{name}", values = {levels}, per = "board" }},')
        lines += ["]", "board = ["]
        for at, row in enumerate(self.rows):
            fields = [f'id = "{at}"', f"day = {self.days[at]}", f'batch = "P{self.pots[at]}"']
            fields += [f"{name} = " + (f'"{level}"' if isinstance(level, str) else str(level)) for name, level in row.items()]
            if self.shape:
                fields += [f'{name} = "{share}"' for (name, _), share in zip(self.parts, self.shares[at])]
            lines.append("  { " + ", ".join(fields) + " },")
        return "\n".join([*lines, "]"]) + "\n"

    def coded(self, rows):
        """Columns of each setting that changes: name, list of columns."""
        out = []
        for name, levels in self.settings:
            seen = [level for level in levels if any(row[name] == level for row in self.rows)]
            if len(seen) < 2:
                continue
            told = [row[name] for row in rows]
            if not isinstance(levels[0], str):
                middle, half = (min(levels) + max(levels)) / 2, (max(levels) - min(levels)) / 2
                out.append((name, [np.array([(x - middle) / half for x in told])]))
            elif len(seen) == 2:
                out.append((name, [np.array([-1.0 if x == seen[0] else 1.0 for x in told])]))
            else:
                columns = []
                for level in seen[:-1]:
                    columns.append(np.array([1.0 if x == level else -1.0 if x == seen[-1] else 0.0 for x in told]))
                out.append((name, columns))
        return out

    def pseudo(self):
        room = 1 - sum(low for _, low in self.parts)
        return [np.array([(row[at] - low) / room for row in self.shares]) for at, (_, low) in enumerate(self.parts)]

    def base(self):
        return self.pseudo() if self.shape else [np.ones(self.boards)]

    def model(self):
        """Columns that the criterion is about."""
        settings = [column for _, columns in self.coded(self.rows) for column in columns]
        if not self.shape:
            return np.column_stack([np.ones(self.boards), *settings])
        parts = self.pseudo()
        columns = list(parts)
        if self.shape == "quadratic":
            columns += [a * b for a, b in itertools.combinations(parts, 2)]
        columns += [part * setting for part in parts for setting in settings]
        return np.column_stack(columns)

    def groups(self):
        """A pot on two days counts as two."""
        names = list(zip(self.days, self.pots))
        return np.array([[float(a == b) for b in names] for a in names])


def rank(matrix):
    lengths = np.linalg.norm(matrix, axis=0)
    values = np.linalg.svd(matrix / np.where(lengths > 0, lengths, 1), compute_uv=False)
    return int((values > 1e-10 * values.max()).sum())


def inflation(matrix, at):
    """1 / (1 - R squared) of one column on the others and a constant, by least squares; `None` where there is no such number."""
    own = matrix[:, at] - matrix[:, at].mean()
    if np.linalg.norm(own) < 1e-9:
        return None
    others = np.delete(matrix, at, axis=1)
    others = np.column_stack([np.ones(len(own)), others])
    rest = own - others @ np.linalg.lstsq(others, own, rcond=1e-12)[0]
    left = (rest @ rest) / (own @ own)
    return None if left < 1e-16 else 1 / left


def information(matrix, same_pot, spread):
    inverse = np.linalg.inv(np.eye(len(matrix)) + spread * same_pot)
    return np.linalg.slogdet(matrix.T @ inverse @ matrix)[1]


def check_reference(tally):
    """The eight boards worked by hand: r 0.774597, 0.258199; 2.8, 3.0, 1.2; |X'X| of batches of two (8 / (1 + 2 spread))^2 x 8."""
    binder = np.array([-1, -1, -1, -1, 1, 1, 1, 1.0])
    filler = np.array([-1, -1, -1, 1, 1, 1, 1, 1.0])
    coats = np.array([-1, 1, -1, 1, -1, 1, -1, 1.0])
    matrix = np.column_stack([binder, filler, coats])
    r = np.corrcoef(matrix.T)
    tally.close("r of binder and filler", r[0, 1], 0.7745966692, absolute=1e-9)
    tally.close("r of filler and coats", r[1, 2], 0.2581988897, absolute=1e-9)
    for at, wanted in enumerate([2.8, 3.0, 1.2]):
        tally.close(f"inflation {at}", inflation(matrix, at), wanted, absolute=1e-9)
    pots = np.array([[float(a // 2 == b // 2) for b in range(8)] for a in range(8)])
    whole = np.column_stack([np.ones(8), binder, coats])
    for spread in (0, 1, 10):
        wanted = math.log((8 / (1 + 2 * spread)) ** 2 * 8)
        tally.close(f"information at {spread}", information(whole, pots, spread), wanted, absolute=1e-9)


def same(tally, what, told, wanted):
    """Two numbers, or two gaps."""
    if wanted is None or told is None:
        tally.check(what, told is None and wanted is None, f"the program says {told}, the reference {wanted}")
    else:
        tally.close(what, told, wanted, relative=1e-7, absolute=1e-9)


def compare(trial, answer, tally):
    what = f"trial {trial.number}"
    columns = answer["columns"]
    settings = trial.coded(trial.rows)
    flat = [(name, column) for name, columns in settings for column in columns]
    matrix = np.column_stack([*trial.base(), *(column for _, column in flat)])
    wide = matrix.shape[1]
    if not tally.check(f"{what}: columns", len(columns["terms"]) == wide, f"{columns['terms']} and not {wide}"):
        return
    independent = rank(matrix)
    tally.check(f"{what}: rank", columns["rank"] == independent, f"{columns['rank']} and not {independent}")
    tally.check(f"{what}: ties", columns["ties"] == wide - independent, f"{columns['ties']} and not {wide - independent}")
    varies = matrix.std(axis=0) > 1e-12
    for a, b in itertools.combinations(range(wide), 2):
        wanted = float(np.corrcoef(matrix[:, a], matrix[:, b])[0, 1]) if varies[a] and varies[b] else None
        same(tally, f"{what}: r {a} {b}", columns["r"][a][b], wanted)
    for at in range(wide):
        same(tally, f"{what}: inflation {at}", columns["vif"][at], inflation(matrix, at))
    lengths = np.linalg.norm(matrix, axis=0)
    same(tally, f"{what}: condition", columns["condition"], None if independent < wide else float(np.linalg.cond(matrix / lengths)))
    pairs = [(a, b) for a, b in itertools.combinations(flat, 2) if a[0] != b[0]]
    tally.check(f"{what}: products", len(columns["left_out"]) == len(pairs), str(columns["left_out"]))
    if independent < wide:
        tally.check(f"{what}: no alias table", columns["alias"] is None)
    elif pairs:
        wanted = np.linalg.lstsq(matrix, np.column_stack([a[1] * b[1] for a, b in pairs]), rcond=None)[0]
        told = np.array(columns["alias"])
        gap = float(np.abs(told - wanted).max()) if told.shape == wanted.shape else math.inf
        tally.check(f"{what}: alias table", gap < 1e-8, f"off by {gap:.2g}")
    model = trial.model()
    full = rank(model) == model.shape[1]
    wanted = information(model, trial.groups(), trial.spread) if full else None
    same(tally, f"{what}: ln det", answer["criterion"]["ln_det"], wanted)
    advice(trial, answer, tally)


def advice(trial, answer, tally):
    """The boards advised against an exact tie of settings raise the rank of their columns to the full."""
    names = {name for name, _ in trial.settings}
    for tangle in answer["tangles"]:
        effects = set(tangle["effects"])
        if tangle["kind"] != "exact" or not effects <= names or not tangle["add"]:
            continue

        def columns(rows):
            inner = [column for name, columns in trial.coded(rows) if name in effects for column in columns]
            return np.column_stack([np.ones(len(rows)), *inner])

        before, after = columns(trial.rows), columns(trial.rows + [extra["settings"] for extra in tangle["add"]])
        what = f"trial {trial.number}: {sorted(effects)}"
        tally.check(f"{what} is tied", rank(before) < before.shape[1])
        tally.check(f"{what} is untied by the advice", rank(after) == after.shape[1], str(tangle["add"]))


def check(program, tally):
    rng = random.Random(SEED)
    advised = 0
    for number in range(TRIALS):
        trial = Trial(number, rng)
        try:
            answer = program.json("plan", stdin=trial.text())
        except Refused as refused:
            tally.check(f"trial {number}", False, str(refused))
            continue
        compare(trial, answer, tally)
        advised += sum(1 for tangle in answer["tangles"] if tangle["kind"] == "exact" and tangle["add"])
    tally.check("ties with advice were met", advised >= 10, str(advised))
