"""Counts checks and says which ones failed."""


class Tally:
    def __init__(self):
        self.passed = 0
        self.failed = 0

    def check(self, what, held, why=""):
        """One check; `why` is printed when it did not hold."""
        if held:
            self.passed += 1
        else:
            self.failed += 1
            print(f"  NO  {what}{': ' + why if why else ''}")
        return held

    def close(self, what, told, wanted, relative=0.0, absolute=0.0):
        """One number against another; `None` is never close."""
        held = told is not None and abs(told - wanted) <= max(relative * abs(wanted), absolute)
        return self.check(what, held, f"the program says {told}, the reference {wanted:.6g}")
