#!/usr/bin/env python3
"""Asks the program and independent libraries the same questions: `compare.py PROGRAM [--papers FOLDER] [--arrays EXAMPLE] [--part NAME]...`.

Without PROGRAM only the reference itself is checked, against worked and printed figures.
Ends with the line `N passed, N failed`, and with exit 1 if anything failed.
"""

import argparse
import sys
import traceback

import air
import bands
import boards
import causes
import cracks
import days
import film
import formats
import papers
import plans
import salts
import scatter
import typeset
import units
from program import Program, Refused
from tally import Tally

PARTS = {
    "film": film,
    "bands": bands,
    "units": units,
    "causes": causes,
    "days": days,
    "plans": plans,
    "formats": formats,
    "papers": papers,
    "typeset": typeset,
    "boards": boards,
    "air": air,
    "salts": salts,
    "scatter": scatter,
    "cracks": cracks,
}


def run(name, step, tally):
    before = tally.passed, tally.failed
    try:
        step()
    except (Refused, KeyError, TypeError, ValueError, OSError) as error:
        # An answer of another shape than agreed: one failure, with the place.
        place = traceback.extract_tb(error.__traceback__)[-1]
        tally.check(name, False, f"{type(error).__name__} {error} ({place.name}, line {place.lineno})")
    passed, failed = tally.passed - before[0], tally.failed - before[1]
    print(f"{name}: {passed} of {passed + failed} agree", flush=True)


def main():
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("program", nargs="?", help="path of the groundproof binary")
    reader.add_argument("--papers", help="folder with the golden documents")
    reader.add_argument("--arrays", help="path of the photo reader's example `arrays`")
    reader.add_argument("--part", action="append", choices=PARTS, help="only this part; may be given again")
    asked = reader.parse_args()

    tally = Tally()
    for name in asked.part or PARTS:
        part = PARTS[name]
        if hasattr(part, "check_reference"):
            run(f"{name}, the reference itself", lambda: part.check_reference(tally), tally)
        if asked.papers and hasattr(part, "check_papers"):
            run(name, lambda: part.check_papers(asked.papers, tally), tally)
        if asked.arrays and hasattr(part, "check_arrays"):
            run(name, lambda: part.check_arrays(asked.arrays, tally), tally)
        if asked.program and hasattr(part, "check"):
            run(name, lambda: part.check(Program(asked.program), tally), tally)
    print(f"{tally.passed} passed, {tally.failed} failed")
    return 1 if tally.failed else 0

if __name__ == "__main__":
    sys.exit(main())
