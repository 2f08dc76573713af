"""The shape of the answers: JSON schemas, figures, refusals."""

import copy
import json
import tempfile
from pathlib import Path

import numpy as np
from jsonschema import Draft202012Validator
from PIL import Image

from inputs import RECIPES
from program import Refused

UNITS = {"1", "%", "g", "ml", "um", "mm", "mm2", "g/ml", "g/m2", "pH", "mmol", "mm/mm2", "1/cm2", "deg", "s", "h", "d", "C"}
GOOD = RECIPES[0].text

# what is asked: name of the schema, arguments, recipe
ASKED = [
    *[("film", ("film",), recipe.text) for recipe in RECIPES],
    ("film", ("film", "--wet", "120um", "--coats", "3", "--area", "0.6m2"), GOOD),
    ("film", ("film", "--as-told"), "a good handful of chalk, then 10 g hide glue in 100 ml water and stir it well\n"),
    ("why", ("why", "--support", "plywood", "--tap", "when=days later"), GOOD),
    ("why", ("why", "--dry", "300um", "--tap", "rubs=yes", "--tap", "pot=smooth", "--tap", "heat=no"), GOOD),
    ("milk", ("milk", "--milk", "1 US gal skim milk", "--acid", "500 ml white vinegar 5 %"), ""),
    ("milk", ("milk", "--milk", "2 l skim milk", "--acid", "250 ml white vinegar 5 %", "--temp", "20C"), ""),
    ("curdle", ("curdle", "--milk", "1 US gal skim milk", "--acid", "500 ml white vinegar 5 %", "--washes", "4", "--wash-water", "4l"), ""),
    ("curdle", ("curdle", "--milk", "1 l skim milk", "--acid", "vinegar"), ""),
    ("dissolve", ("dissolve", "--casein", "100 g wet curd", "--base", "1 tsp baking soda", "--water", "300ml"), ""),
    ("dissolve", ("dissolve", "--curd-from", "2 l skim milk", "--base", "borax"), ""),
]

# trial files: typed boards, every setting with every other, a ready trial; all invented for the lighthouse's panels
COATS = 'setting = [{ name = "coats", values = [2, 3], per = "board" }, { name = "powder", kinds = ["chalk", "gypsum"] }]'
TRIALS = [
    f"trial = 1\n{COATS}\nsize = {{ days = 2, sheets = 2, loss = 0.1 }}\n",
    f'trial = 1\nready = "stair board"\n{COATS}\ncontrol = [{{ name = "known ground", job = "yardstick" }}]\n',
    'trial = 1\nboard = [{ coats = 2, powder = "chalk" }, { coats = 3, powder = "gypsum" }]\n',
]
ASKED += [("plan", ("plan", "--seed", "7"), trial) for trial in TRIALS]
READINGS = Path(__file__).parent.parent / "docs" / "examples"
ASKED += [
    ("answer", ("answer", "--better", "smaller"), (READINGS / f"lighthouse-{name}.csv").read_text(encoding="utf-8"))
    for name in ("readings", "two-by-two", "stairs")
]


def drawn(folder):
    """A white board of 100 x 75 mm with two dark lines, 4 pixels a millimetre, on a dark table."""
    picture = np.full((420, 560, 3), 50, np.uint8)
    picture[60:360, 80:480] = 220
    picture[60:360, 200:203] = picture[60:360, 330:333] = 15
    path = Path(folder) / "board.png"
    Image.fromarray(picture).save(path)
    return str(path)


# bad recipes and the line that must be named
BAD = [
    ("100 g natural chalk\n10 g hide glue\n5 furlongs water\n", 3),
    ("100 g natural chalk\n10 g hide glue\n100 g moonlight\n", 3),
    ("many g natural chalk\n10 g hide glue\n", 1),
]


def figures(answer, at=""):
    """Every figure in an answer, with the way to it."""
    if isinstance(answer, dict):
        if {"value", "unit"} <= answer.keys():
            yield at, answer
        for key, inner in answer.items():
            yield from figures(inner, f"{at}/{key}")
    elif isinstance(answer, list):
        for index, inner in enumerate(answer):
            yield from figures(inner, f"{at}/{index}")


def sound(figure):
    """Why a figure is not sound, or nothing."""
    if figure["unit"] not in UNITS:
        return f"unit `{figure['unit']}` is not one of the list"
    if figure["value"] is None:
        return "" if figure.get("why") else "unknown without a reason"
    low, high = figure.get("low"), figure.get("high")
    if low is None or high is None or low <= figure["value"] <= high:
        return ""
    return f"{figure['value']} lies outside {low} to {high}"


def damaged(answer):
    """The same answer broken in ways that its schema must refuse."""
    for key in ("is", "warnings"):
        broken = copy.deepcopy(answer)
        broken.pop(key, None)
        yield f"without `{key}`", broken
    for way, _ in figures(answer):
        broken = copy.deepcopy(answer)
        inner = broken
        *outer, last = way.strip("/").split("/")
        for key in outer:
            inner = inner[int(key)] if isinstance(inner, list) else inner[key]
        target = inner[int(last)] if isinstance(inner, list) else inner[last]
        target["value"] = "plenty"
        yield f"words in place of {way}", broken
        return


def check(program, tally):
    schemas = {}
    for name in ("film", "why", "milk", "curdle", "dissolve", "plan", "answer", "look"):
        schema = json.loads(program.text("schema", name))
        Draft202012Validator.check_schema(schema)
        schemas[name] = Draft202012Validator(schema)
        tally.check(f"schema {name} names its draft", "2020-12" in schema.get("$schema", ""))

    with tempfile.TemporaryDirectory() as folder:
        check_answers(program, tally, schemas, [*ASKED, ("look", ("look", drawn(folder), "--board", "100x75mm"), "")])

    once, again = (program.text("plan", "--json", stdin=TRIALS[0]) for _ in range(2))
    tally.check("the same trial gives the same bytes", once == again)
    once, again = (program.text("film", "--json", stdin=GOOD) for _ in range(2))
    tally.check("the same recipe gives the same bytes", once == again)

    for recipe, line in BAD:
        what = f"refused: {recipe.splitlines()[line - 1]}"
        try:
            program.film(recipe)
            tally.check(what, False, "it was taken")
        except Refused as refused:
            tally.check(f"{what}: exit 2", refused.code == 2, f"exit {refused.code}")
            tally.check(f"{what}: names the line", f"line {line}:" in refused.complaint, refused.complaint.strip())


def check_answers(program, tally, schemas, asked):
    for name, arguments, recipe in asked:
        what = f"{' '.join(arguments)} < {recipe.splitlines()[0] if recipe else 'nothing'}"
        try:
            answer = program.json(*arguments, stdin=recipe)
        except (Refused, ValueError) as error:
            tally.check(what, False, str(error))
            continue
        wrong = [f"{error.json_path}: {error.message}" for error in schemas[name].iter_errors(answer)]
        tally.check(f"{what}: fits its schema", not wrong, "; ".join(wrong[:3]))
        tally.check(f"{what}: says what it is", answer.get("is") == f"groundproof {name} 1", str(answer.get("is")))
        tally.check(f"{what}: carries warnings", isinstance(answer.get("warnings"), list))
        unsound = [f"{way}: {why}" for way, figure in figures(answer) if (why := sound(figure))]
        tally.check(f"{what}: figures are sound", not unsound, "; ".join(unsound[:3]))

    examples = [next(one for one in asked if one[0] == name) for name in schemas]
    for name, arguments, recipe in examples:
        for how, broken in damaged(program.json(*arguments, stdin=recipe)):
            tally.check(f"schema {name} refuses an answer {how}", not schemas[name].is_valid(broken))
