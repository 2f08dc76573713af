"""Asks the program, and reads what it answers."""

import json
import subprocess


class Refused(Exception):
    """The program ended with something else than 0."""

    def __init__(self, code, complaint):
        super().__init__(f"exit {code}: {complaint.strip()}")
        self.code = code
        self.complaint = complaint


def no_such_number(name):
    raise ValueError(f"{name} is no JSON number")


class Program:
    def __init__(self, path):
        self.path = path

    def text(self, *arguments, stdin=""):
        ended = subprocess.run(
            [self.path, *arguments], input=stdin, capture_output=True, text=True, encoding="utf-8", timeout=60
        )
        if ended.returncode != 0:
            raise Refused(ended.returncode, ended.stderr)
        return ended.stdout

    def json(self, *arguments, stdin=""):
        """An answer as JSON; NaN and infinities are refused, as they are no JSON."""
        return json.loads(self.text(*arguments, "--json", stdin=stdin), parse_constant=no_such_number)

    def film(self, recipe, *options):
        return self.json("film", *options, stdin=recipe)


def value(figure):
    """The number in a figure; a bare number is taken as it is."""
    return figure.get("value") if isinstance(figure, dict) else figure
