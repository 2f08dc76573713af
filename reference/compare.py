#!/usr/bin/env python3
"""Asks the program and independent libraries the same questions: `compare.py PROGRAM [--papers FOLDER] [--examples FOLDER] [--part NAME]...`.

Without PROGRAM only the reference itself is checked, against worked and printed figures.
Ends with the line `N passed, N failed`, and with exit 1 if anything failed.
"""

import argparse
import contextlib
import io
import multiprocessing
import sys
import traceback
from pathlib import Path

import air
import bands
import boards
import causes
import cracks
import days
import example
import film
import formats
import papers
import plans
import salts
import scatter
import thresholds
import typeset
import units
from program import Program, Refused
from tally import Tally

# The longest first, so that it does not end alone.
PARTS = {
    "papers": papers,
    "film": film,
    "bands": bands,
    "units": units,
    "causes": causes,
    "days": days,
    "plans": plans,
    "formats": formats,
    "typeset": typeset,
    "boards": boards,
    "air": air,
    "salts": salts,
    "scatter": scatter,
    "cracks": cracks,
    "thresholds": thresholds,
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


def told(asked):
    """What one part prints, with how many of its checks passed and failed."""
    name, program, papers, example.FOLDER = asked
    part, tally, said = PARTS[name], Tally(), io.StringIO()
    with contextlib.redirect_stdout(said):
        if hasattr(part, "check_reference"):
            run(f"{name}, the reference itself", lambda: part.check_reference(tally), tally)
        if papers and hasattr(part, "check_papers"):
            run(name, lambda: part.check_papers(papers, tally), tally)
        if example.FOLDER and hasattr(part, "check_arrays"):
            run(name, lambda: part.check_arrays(example.path("arrays"), tally), tally)
        if program and hasattr(part, "check"):
            run(name, lambda: part.check(Program(program), tally), tally)
    return said.getvalue(), tally.passed, tally.failed


def main():
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("program", nargs="?", help="path of the groundproof binary")
    reader.add_argument("--papers", help="folder with the golden documents")
    reader.add_argument("--examples", help="folder with the examples of our crates, built; without it cargo builds them, all but `arrays`")
    reader.add_argument("--part", action="append", choices=PARTS, help="only this part; may be given again")
    asked = reader.parse_args()
    if asked.examples:
        asked.examples = str(Path(asked.examples).resolve())

    tally = Tally()
    # The parts know nothing of each other, so as many are asked at a time as there are processors. Workers are started afresh: a copy of
    # this process would inherit the locks of threads that it does not have.
    with multiprocessing.get_context("spawn").Pool() as pool:
        for said, passed, failed in pool.imap(told, [(name, asked.program, asked.papers, asked.examples) for name in asked.part or PARTS], 1):
            print(said, end="", flush=True)
            tally.passed += passed
            tally.failed += failed
    print(f"{tally.passed} passed, {tally.failed} failed")
    return 1 if tally.failed else 0

if __name__ == "__main__":
    sys.exit(main())
