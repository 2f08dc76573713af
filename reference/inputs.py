"""Materials and recipes that the comparison asks about, typed here and not read from the program.

Densities in g/ml, oil absorption in g on 100 g of powder (middle of the range that is in print or in use), shares by mass.
The recipes are invented for the comparison: batches for the small panels of a tide calendar, unless a source stands beside.
"""

WATER_DENSITY = 0.998  # at 20 C, from memory
OIL_DENSITY = 0.935  # customary constant, Lewarchik 2014

# Gettens & Stout, Painting Materials (1942), where marked G; calcite and gypsum are mineral values from memory.
POWDERS = {
    "chalk": (2.71, 18.0),  # OA 14-22: trade list 2022 gives 16-18, widened from memory
    "gypsum": (2.32, 23.5),  # OA 17-30, from memory
    "kaolin": (2.60, 41.5),  # G; OA 28-55, trade list 2022 gives 30, widened from memory
    "marble": (2.71, 13.0),  # OA 8-18, from memory
    "barite": (4.45, 13.0),  # G; OA 6-20, trade list 2022 gives 10-20
    "zinc white": (5.65, 17.5),  # G; OA 10-25, trade list 2022 gives 17-20
    "titanium white": (4.20, 19.5),  # G; OA 11-28, Lewarchik 2014 uses 20
    "lithopone": (4.30, 14.5),  # G; OA 9-20, from memory
    "quartz": (2.65, 22.5),  # G 2.66; OA 15-30, from memory
}
# Oil absorption differs so much between makers that the whole range counts when the maker is not told.
ANY_MAKER = {"kaolin": (28.0, 55.0)}
PLASTER_DENSITY, PLASTER_OIL = 2.75, 27.5  # from memory
GYPSUM_DENSITY, GYPSUM_OIL = POWDERS["gypsum"]

# (share of dry binder, share of water, density of the dry binder); densities from memory
BINDERS = {
    "glue": (1.0, 0.0, 1.27),  # as weighed, 12-15 % room water stays in the film
    "casein powder": (0.90, 0.10, 1.26),  # UK Statutory Instrument 1990/1 allows 10 % water
    "drained curd": (0.23, 0.77, 1.26),  # common practice, no source
    "pressed curd": (0.34, 0.66, 1.26),  # common practice, no source
}

CUP_US = 236.5882365  # ml, exact: 231 cubic inches to the gallon, 16 cups
CHALK_LOOSE = (0.85, 0.60, 1.12)  # g/ml in the cup: best, low, high; bulk-material table 1.12 settled, loose from memory


class Recipe:
    """The words as typed at the program, and the same pot in grams."""

    def __init__(self, name, text, pot, doubt=True, only=None):
        self.name = name
        self.text = "\n".join(text) + "\n"
        self.pot = pot  # (kind, grams); a grams of (low, high) is a range as told
        self.doubt = doubt  # whether the band of the reduced PVC is compared
        self.only = only  # names of the figures to compare, or all


RECIPES = [
    Recipe("chalk and glue", ["100 g natural chalk", "10 g hide glue", "100 g water"], [("chalk", 100), ("glue", 10), ("water", 100)]),
    Recipe(
        "three powders",
        ["60 g natural chalk", "30 g gypsum", "10 g titanium white", "9 g hide glue", "110 g water"],
        [("chalk", 60), ("gypsum", 30), ("titanium white", 10), ("glue", 9), ("water", 110)],
    ),
    Recipe(
        "chalk and zinc white",  # proportions of a printed glue gesso: glue 40, chalk 200, zinc white 200
        ["200 g natural chalk", "200 g zinc white", "40 g rabbit-skin glue", "560 g water"],
        [("chalk", 200), ("zinc white", 200), ("glue", 40), ("water", 560)],
    ),
    Recipe(
        "chalk with a range of glue",  # Paint technology teaching notes, Gesso Recipe (2005): glue 70-85, whiting 450, white 50
        ["450 g whiting", "50 g titanium white", "70-85 g rabbit-skin glue", "1000 g water"],
        [("chalk", 450), ("titanium white", 50), ("glue", (70, 85)), ("water", 1000)],
    ),
    Recipe(
        "gelatine size and chalk",
        ["113 g natural chalk", "10 g gelatine", "90 g water"],
        [("chalk", 113), ("glue", 10), ("water", 90)],
    ),
    Recipe(
        "little glue",
        ["250 g natural chalk", "14 g hide glue", "190 g water"],
        [("chalk", 250), ("glue", 14), ("water", 190)],
    ),
    Recipe(
        "sealed: more glue than gaps",
        ["50 g natural chalk", "30 g hide glue", "200 g water"],
        [("chalk", 50), ("glue", 30), ("water", 200)],
    ),
    Recipe(
        "heavy and coarse powders",
        ["80 g marble dust", "40 g barite", "20 g quartz flour", "11 g hide glue", "120 g water"],
        [("marble", 80), ("barite", 40), ("quartz", 20), ("glue", 11), ("water", 120)],
    ),
    Recipe(
        "gypsum, clay and lithopone",
        ["70 g gypsum", "20 g kaolin", "40 g lithopone", "12 g hide glue", "150 g water"],
        [("gypsum", 70), ("kaolin", 20), ("lithopone", 40), ("glue", 12), ("water", 150)],
    ),
    Recipe(
        "plaster that sets in the pot",
        ["100 g plaster of Paris", "50 g natural chalk", "14 g hide glue", "200 g water"],
        [("plaster", 100), ("chalk", 50), ("glue", 14), ("water", 200)],
        doubt=False,
    ),
    Recipe(
        "plaster short of water",  # only the balance of masses: which oil absorption a half-set grain has is not known
        ["100 g plaster of Paris", "8 g hide glue", "15 g water"],
        [("plaster", 100), ("glue", 8), ("water", 15)],
        doubt=False,
        only=["pvc", "solids_mass", "wet_density_g_ml", "binder_per_100_powder_g", "filler", "binder", "water"],
    ),
    Recipe(
        "drained curd",
        ["130 g drained curd", "250 g natural chalk", "60 g water"],
        [("drained curd", 130), ("chalk", 250), ("water", 60)],
        doubt=False,
    ),
    Recipe(
        "pressed curd, two powders",
        ["100 g pressed curd", "200 g natural chalk", "40 g titanium white", "120 g water"],
        [("pressed curd", 100), ("chalk", 200), ("titanium white", 40), ("water", 120)],
        doubt=False,
    ),
    Recipe(
        "casein as sold",  # 40 g in 250 ml: proportions of a printed casein binder (Doerner), its alkali left out
        ["40 g casein powder", "250 g water", "300 g natural chalk"],
        [("casein powder", 40), ("water", 250), ("chalk", 300)],
        doubt=False,
    ),
    Recipe(
        "chalk by the cup",
        ["1 US cup natural chalk", "20 g hide glue", "200 g water"],
        [("cup of chalk", CUP_US * CHALK_LOOSE[0]), ("glue", 20), ("water", 200)],
    ),
]
