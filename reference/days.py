"""The best order of a day, asked of a general solver: mixed-integer programming by HiGHS, as `scipy` ships it."""

import itertools
import json

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from example import written


class Blocks:
    """What occupies the hands in one go, and the waits between: written down from the question, not from the program's own blocks."""

    def __init__(self, asked):
        self.lasts = []
        self.pots = []
        self.least = []  # (earlier, later, gap)
        self.most = []
        self.begins = asked["begins"]
        self.washing = asked["washing_up"]
        for pot in asked["pots"]:
            self.pot(pot)

    def block(self, lasts):
        self.lasts.append(lasts)
        return len(self.lasts) - 1

    def pot(self, pot):
        small = pot["mixed"] == "each_coat"
        life, recoat = pot["life"]["low"], pot["recoat"]
        mix = None if small else self.block(pot["mixing"])
        mine = [] if small else [mix]
        laid = {}  # board: block, and end from its begin
        for coat in range(max(len(board["coats"]) for board in pot["boards"])):
            boards = [at for at, board in enumerate(pot["boards"]) if len(board["coats"]) > coat]
            offset = pot["mixing"] if small else 0
            round_ = self.block(offset + sum(pot["boards"][at]["coats"][coat] for at in boards))
            if small and self.lasts[round_] - offset > life:
                self.most.append((round_, round_, -1))
            if not small:
                self.most.append((mix, round_, pot["mixing"] + life - self.lasts[round_]))
            if mine:
                self.least.append((mine[-1], round_, self.lasts[mine[-1]]))
            mine.append(round_)
            for at in boards:
                if at in laid:
                    before, end = laid[at]
                    self.least.append((before, round_, end + recoat["opens"]["usual"] - offset))
                    if recoat["missed_after"] is not None:
                        self.most.append((before, round_, end + recoat["missed_after"] - offset))
                offset += pot["boards"][at]["coats"][coat]
                laid[at] = round_, offset
        self.pots.append(mine)

    def one_after_the_other(self):
        """An end that is surely late enough: pot after pot."""
        return sum(self.lasts) + sum(max(0, gap) for _, _, gap in self.least) + 1

    def best_end(self):
        """The earliest end; none if there is no order."""
        if any(earlier == later and gap < 0 for earlier, later, gap in self.most):
            return None
        count = len(self.lasts)
        late = self.one_after_the_other()
        pairs = [
            (one, two) for first, second in itertools.combinations(self.pots, 2) for one in first for two in second
        ]
        # begins, one choice a pair (1: the first comes first), the end
        width = count + len(pairs) + 1
        rows, floors = [], []

        def at_least(terms, floor):
            row = np.zeros(width)
            for place, factor in terms:
                row[place] += factor
            rows.append(row)
            floors.append(floor)

        for earlier, later, gap in self.least:
            at_least([(later, 1), (earlier, -1)], gap)
        for earlier, later, gap in self.most:
            at_least([(earlier, 1), (later, -1)], -gap)
        for place, (one, two) in enumerate(pairs, count):
            at_least([(two, 1), (one, -1), (place, -late)], self.lasts[one] - late)
            at_least([(one, 1), (two, -1), (place, late)], self.lasts[two])
        # What comes before one comes before all that follow it in its pot: true anyway, but it helps the solver.
        of = {pair: place for place, pair in enumerate(pairs, count)}
        for one, two in pairs:
            for mine in self.pots:
                for here, after in zip(mine, mine[1:]):
                    if two == here:
                        at_least([(of[one, after], 1), (of[one, here], -1)], 0)
                    if one == here:
                        at_least([(of[here, two], 1), (of[after, two], -1)], 0)
        for block in range(count):
            at_least([(width - 1, 1), (block, -1)], self.lasts[block])
        at_least([(width - 1, 1)], sum(self.lasts))
        cost = np.zeros(width)
        cost[-1] = 1
        whole = np.zeros(width)
        whole[count : count + len(pairs)] = 1
        highest = np.full(width, float(late))
        highest[count : count + len(pairs)] = 1
        found = milp(
            cost,
            integrality=whole,
            bounds=Bounds(np.zeros(width), highest),
            constraints=LinearConstraint(np.array(rows), np.array(floors), np.inf),
            options={"time_limit": 20},
        )
        if found.status == 2:
            return None
        if found.status != 0:
            raise ValueError(f"the solver gives up: {found.message}")
        return self.begins + round(found.fun) + self.washing


def board(*coats):
    return {"number": "", "coats": list(coats)}


def pot(mixing, life, opens, boards, missed=None, mixed="once"):
    return {
        "mixing": mixing,
        "life": {"low": life},
        "mixed": mixed,
        "recoat": {"opens": {"usual": opens}, "missed_after": missed},
        "boards": boards,
    }


def check_reference(tally):
    """Days worked by hand."""
    # Pot A: 20 mixing, one board, two coats of 10, 30 min between; pot B: 20 mixing and 10 in just that gap. 70 min of work, none idle.
    both = {"begins": 540, "washing_up": 0, "pots": [pot(20, 240, 30, [board(10, 10)]), pot(20, 240, 30, [board(10)])]}
    tally.check("a pot laid while another dries ends at 10:10", Blocks(both).best_end() == 610)
    # Six boards of 4, three coats, 30 between: 20 + 34 + 34 + 24 = 112; the pot must live 92 min.
    batch = {"begins": 540, "washing_up": 8, "pots": [pot(20, 92, 30, [board(4, 4, 4)] * 6)]}
    tally.check("a batch that just lasts ends at 11:00", Blocks(batch).best_end() == 660)
    batch["pots"][0]["life"]["low"] = 91
    tally.check("a batch that lasts a minute less has no order", Blocks(batch).best_end() is None)
    # Small pots: the second is mixed while the first coat dries. 20 + 5 + 30 + 5.
    small = {"begins": 540, "washing_up": 0, "pots": [pot(20, 30, 30, [board(5, 5)], mixed="each_coat")]}
    tally.check("small pots are mixed in the gap", Blocks(small).best_end() == 600)


def check(_program, tally):
    told = json.loads(written("making", "sample_days"))
    tally.check("there are days to compare", len(told) >= 30)
    kept = 0
    for number, day in enumerate(told):
        best = Blocks(day["asked"]).best_end()
        answer = day["answer"]
        if best is None:
            tally.check(f"day {number}: no order keeps it", "error" in answer, str(answer))
            continue
        kept += 1
        ends = answer.get("ends")
        # What is not proven may end later, and says so.
        held = ends == best or (ends is not None and ends > best and not answer["best"])
        tally.check(f"day {number}: ends with the solver", held, f"{answer} against {best}")
    tally.check("most days can be kept", 2 * kept > len(told), str(kept))
