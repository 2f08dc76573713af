"""Causes of a failed board: odds that start equal and are multiplied."""

import csv
from pathlib import Path

DATA = Path(__file__).parent.parent / "crates" / "trials" / "data" / "causes.csv"


def shares(rows, taps, facts=()):
    """Share of each cause. `taps`: (question, answer); `facts`: what recipe and support say."""
    odds = {row["cause_id"]: 1.0 for row in rows if row["kind"] in ("lr", "prior")}
    for row in rows:
        tapped = row["kind"] == "lr" and (row["tap"], row["answer"]) in taps
        known = row["kind"] == "prior" and row["answer"] in facts
        if tapped or known:
            odds[row["cause_id"]] *= float(row["factor"])
    whole = sum(odds.values())
    return dict(sorted(((cause, one / whole) for cause, one in odds.items()), key=lambda pair: -pair[1]))


def verdict(ordered, taps):
    """Told only when the first is more than three times the second; nothing is named on fewer than three answers."""
    if len(taps) < 3:
        return "ask more"
    first, second = list(ordered.values())[:2]
    return "told" if first > 3 * second * (1 + 1e-9) else "cannot tell"


class Case:
    def __init__(self, name, taps, options=(), facts=(), first=()):
        self.name = name
        self.taps = taps
        self.options = options
        self.facts = facts
        self.first = first  # the first shares as worked out beforehand with other code


NET = [
    ("when", "days later"),
    ("looks", "network of cracks"),
    ("boards", "all of this recipe, control sound"),
    ("where", "all over"),
    ("rubs", "no"),
    ("broke", "in the coat"),
    ("heat", "no"),
    ("pot", "smooth"),
]
LINES = [
    ("when", "after damp or dry weather"),
    ("looks", "cracks along the grain"),
    ("boards", "control failed too"),
    ("where", "all over"),
    ("broke", "in the coat"),
    ("heat", "no"),
]
HEATED = [
    ("when", "while drying"),
    ("looks", "network of cracks"),
    ("boards", "some, no control"),
    ("where", "patches"),
    ("rubs", "no"),
    ("heat", "yes"),
    ("pot", "smooth"),
]

CASES = [
    Case("a net of cracks", NET, first=[("C01", 0.7522), ("C17", 0.2257), ("C05", 0.0084)]),
    Case(
        "dust on the finger",
        [
            ("when", "at once on touching or sanding"),
            ("looks", "only dust"),
            ("boards", "all of this recipe, control sound"),
            ("rubs", "yes"),
            ("broke", "in the coat"),
            ("pot", "smooth"),
        ],
        first=[("C02", 0.9893), ("C11", 0.0030), ("C13", 0.0027)],
    ),
    Case("lines along the grain", LINES, first=[("C07", 0.7025), ("C06", 0.2342), ("C17", 0.0632)]),
    Case(
        "lines along the grain, on plywood",
        LINES,
        options=("--support", "plywood"),
        facts=("veneer-bare", "sheet-or-cloth"),
        first=[("C07", 0.9404), ("C06", 0.0313), ("C17", 0.0282)],
    ),
    Case("heater on", HEATED, first=[("C04", 0.4675), ("C03", 0.4675), ("C01", 0.0467)]),
    Case(
        "no heat",
        [(tap, "no" if tap == "heat" else answer) for tap, answer in HEATED],
        first=[("C03", 0.8699), ("C01", 0.0870), ("C15", 0.0261)],
    ),
    Case(
        "peels at the support",
        [
            ("when", "days later"),
            ("looks", "peels or flakes"),
            ("boards", "some, no control"),
            ("where", "patches"),
            ("rubs", "no"),
            ("broke", "at the support"),
        ],
        first=[("C15", 0.9836), ("C01", 0.0089), ("C14", 0.0033)],
    ),
    Case("two answers only", NET[:2]),
    Case("order turned round", NET[::-1], first=[("C01", 0.7522), ("C17", 0.2257), ("C05", 0.0084)]),
]


def read(path=DATA):
    with open(path, newline="", encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    return list(csv.DictReader(lines))


def check(program, tally):
    rows = read()
    for case in CASES:
        wanted = shares(rows, case.taps, case.facts)
        options = [word for tap, answer in case.taps for word in ("--tap", f"{tap}={answer}")]
        answer = program.json("why", *case.options, *options)
        told = {cause["id"]: cause["share"] for cause in answer["causes"]}
        for cause, share in wanted.items():
            number = told.get(cause, 0.0)
            number = number.get("value") if isinstance(number, dict) else number
            tally.close(f"{case.name}: share of {cause}", number, share, absolute=5e-4)
        rule = verdict(wanted, case.taps)
        tally.check(f"{case.name}: verdict", answer["verdict"] == rule, f"{answer['verdict']}, not {rule}")


def check_reference(tally):
    """The shares of the worked cases; needs the data but no program."""
    rows = read()
    for case in CASES:
        told = shares(rows, case.taps, case.facts)
        for cause, share in case.first:
            tally.close(f"worked before: {case.name}: {cause}", told[cause], share, absolute=5e-4)
