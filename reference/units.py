"""Amounts as a cook writes them, against the unit library `pint`."""

from pint import UnitRegistry

from inputs import WATER_DENSITY
from program import Refused, value

UNITS = UnitRegistry()

# word at the program -> word at pint
MASSES = {
    "g": "gram",
    "gram": "gram",
    "grams": "gram",
    "kg": "kilogram",
    "mg": "milligram",
    "oz": "ounce",
    "ounce": "ounce",
    "ounces": "ounce",
    "lb": "pound",
    "lbs": "pound",
    "pounds": "pound",
}
VOLUMES = {
    "ml": "milliliter",
    "cl": "centiliter",
    "dl": "deciliter",
    "l": "liter",
    "litre": "liter",
    "US cup": "cup",
    "US cups": "cup",
    "US tbsp": "tablespoon",
    "US tablespoons": "tablespoon",
    "US tsp": "teaspoon",
    "US teaspoons": "teaspoon",
    "US fl oz": "fluid_ounce",
    "US pint": "pint",
    "US quart": "quart",
    "US quarts": "quart",
    "US gal": "gallon",
    "US gallon": "gallon",
    "imperial pint": "imperial_pint",
    "UK pint": "imperial_pint",
    "imperial fl oz": "imperial_fluid_ounce",
    "imperial gallon": "imperial_gallon",
}
AMOUNTS = {"1": 1.0, "2.5": 2.5}
# Other ways to write a number, all with one unit.
WRITTEN = {
    "250": 250.0,
    "0.05": 0.05,
    "0,05": 0.05,
    "2 1/2": 2.5,
    "1/3": 1 / 3,
    "½": 0.5,
    "1½": 1.5,
    "¾": 0.75,
    "12-15": 13.5,
}


def cases():
    """(amount, unit, what is measured, grams)."""
    for unit, name in MASSES.items():
        for written, amount in AMOUNTS.items():
            yield written, unit, "natural chalk", (amount * UNITS(name)).to("gram").magnitude
    for unit, name in VOLUMES.items():
        for written, amount in AMOUNTS.items():
            yield written, unit, "water", (amount * UNITS(name)).to("milliliter").magnitude * WATER_DENSITY
    for written, amount in WRITTEN.items():
        yield written, "g", "natural chalk", amount


def check(program, tally):
    for written, unit, material, grams in cases():
        line = f"{written} {unit} {material}"
        # The rest makes it a ground whatever the first line is.
        recipe = f"{line}\n100 g gypsum\n10 g hide glue\n"
        try:
            told = value(program.film(recipe)["lines"][0]["mass_g"])
        except Refused as refused:
            tally.check(line, False, str(refused))
            continue
        tally.close(line, told, grams, relative=1e-3)
