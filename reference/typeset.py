"""The typeset files, read back: pages, words, tags, faces, language, words for pictures.

The files come from `cargo run -p paper --example golden -- FOLDER`. What they must hold is typed here, not read from the program.
"""

import re
from pathlib import Path

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject

SECTIONS = [
    "The answer",
    "What is told, and what is not",
    "The question, and what counts as better",
    "What was changed, and what stayed",
    "How the boards were set out",
    "What was in the jars",
    "Recipes, as really weighed",
    "Coats",
    "Air in the room",
    "What every board did",
    "What it says",
    "What failed, and odd finds",
    "Cautions",
    "Sources",
    "Licence, and how to cite",
    "Next look",
]
UNDER = ["Changed", "Stayed the same", "What can't be told", "What would tell"]
RECIPES = ["less glue", "usual glue", "more glue"]

# a word of each point that a reader needs to do it again, and how the long golden paper answers it
POINTS = [
    ("what counts as better", "given"),
    ("by mass as weighed", "given"),
    ("lot, purity", "not known"),
    ("protein on the label", "not applicable"),
    ("sourness at the end", "not applicable"),
    ("Bloom, soaking", "given"),
    ("sieve and rest", "given"),
    ("one face or both", "given"),
    ("wet mass on a square metre", "given"),
    ("warmth and dampness", "given"),
    ("age when tried", "given"),
    ("grit and strokes", "not applicable"),
    ("boards lost and why", "given"),
    ("method and edition", "given"),
    ("picture that carries a scale", "given"),
    ("worked out, with which version", "given"),
    ("odd finds", "given"),
    ("allergens and waste", "given"),
    ("authors as they wish", "given"),
    ("next look", "given"),
]

BOARDS = """GP-7K3M-Q2X GP-4T9R-H8C GP-2W6N-J5P GP-9D1F-K7V GP-3X8B-L4S GP-6Q5Z-M1G
GP-8H2J-N9T GP-1R7V-P3D GP-5C4K-R6W GP-7N9X-S2B GP-4F1M-T8Q GP-2Z6H-V5J""".split()
LOST = {"GP-6Q5Z-M1G": "fell face down", "GP-4F1M-T8Q": "warped by a leak"}

FIGURES = [
    "Board GP-7K3M-Q2X, no cracks, with a bar of 5 centimetres for scale.",
    "Board GP-3X8B-L4S, five hair cracks, with a bar of 5 centimetres for scale.",
    "Rule from lean to rich with a hatched bar around 1.2, from 1.05 to 1.38.",
    "The dry ground in cross-section: two coats, together 78 micrometres, grains with binder and some air.",
]

# grams of each recipe as told, and the shares worked out by hand: of 600, 610, 620 g wet; glue stays at 0.88
COMPOSITION = {
    "less glue": ("300 50.0 94.5", "20 3.3 5.5", "280 46.7 0.0", "600"),
    "usual glue": ("300 49.2 91.9", "30 4.9 8.1", "280 45.9 0.0", "610"),
    "more glue": ("300 48.4 89.5", "40 6.5 10.5", "280 45.2 0.0", "620"),
}

# texts that must stand on the page as they are
ODD = [
    '#panic("tide") #read("data.json") $x^2$ *bold* _slant_ @label <mark> `raw` \\u{41} [bracket] // no comment /* none */',
    "= no heading - no point + no step / no: term",
    "https://tide.example/a_very_long_address_that_never_ends?and=goes&on=1#here",
    "chalk [U+1F3A8][U+1F469][U+1F3A8]",
    "[U+E000] [U+77F3][U+818F]",
    "escape [31m",
    "~tilde~ 1/2 a^b a_b {code} ;",
]


def bare(text):
    """Text without anything that line breaks and hyphens may have changed."""
    return re.sub(r"[\s\u00ad\u2010\u200b-]+", "", text)


class Pdf:
    def __init__(self, path):
        self.reader = PdfReader(path, strict=True)
        self.root = self.reader.trailer["/Root"]
        self.pages = [page.extract_text() for page in self.reader.pages]
        self.text = "\n".join(self.pages)
        self.bare = bare(self.text)

    def holds(self, words):
        return bare(words) in self.bare

    def tags(self):
        """Every element of the structure tree: its kind and its own entries, in reading order."""
        waiting = [self.root["/StructTreeRoot"]]
        while waiting:
            one = waiting.pop().get_object()
            if isinstance(one, ArrayObject):
                waiting.extend(reversed(one))
            elif isinstance(one, DictionaryObject):
                if "/S" in one:
                    yield one["/S"], one
                if "/K" in one:
                    waiting.append(one["/K"])

    def fonts(self):
        """Every font of every page, also of drawings inside it: its name, and whether its shapes are in the file."""
        seen = set()
        waiting = [page.get("/Resources") for page in self.reader.pages]
        while waiting:
            resources = waiting.pop()
            if resources is None:
                continue
            resources = resources.get_object()
            for one in resources.get("/Font", DictionaryObject()).get_object().values():
                font = one.get_object()
                for inner in font.get("/DescendantFonts", [font]):
                    descriptor = inner.get_object().get("/FontDescriptor", DictionaryObject()).get_object()
                    inside = any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3")) or font["/Subtype"] == "/Type3"
                    yield str(font.get("/BaseFont", "")), inside
            for kind in ("/XObject", "/Pattern"):
                for one in resources.get(kind, DictionaryObject()).get_object().values():
                    drawing = one.get_object()
                    if id(drawing) not in seen:
                        seen.add(id(drawing))
                        waiting.append(drawing.get("/Resources"))


def tagged(name, pdf, title, tally):
    """What ISO 14289-1 asks of every file."""
    tally.check(f"{name}: marked as tagged", bool(pdf.root.get("/MarkInfo", {}).get("/Marked")))
    tally.check(f"{name}: has a structure tree", "/StructTreeRoot" in pdf.root)
    tally.check(f"{name}: language", pdf.root.get("/Lang") == "en", str(pdf.root.get("/Lang")))
    tally.check(f"{name}: title", pdf.reader.metadata.title == title, str(pdf.reader.metadata.title))
    tally.check(f"{name}: shows its title", bool(pdf.root.get("/ViewerPreferences", {}).get("/DisplayDocTitle")))
    notes = pdf.root["/Metadata"].get_object().get_data().decode("utf-8")
    part = re.search(r"pdfuaid:part(?:>|=\")1", notes)
    tally.check(f"{name}: calls itself PDF/UA-1", bool(part))
    made = str(pdf.reader.metadata.get("/CreationDate"))
    tally.check(f"{name}: dated as the view is", made.startswith("D:20260314"), made)
    fonts = list(pdf.fonts())
    tally.check(f"{name}: has fonts", bool(fonts))
    missing = [font for font, inside in fonts if not inside]
    tally.check(f"{name}: every font is inside", not missing, ", ".join(missing))
    tally.check(f"{name}: Libertinus Serif", any("LibertinusSerif" in font for font, _ in fonts), str(fonts))
    tally.check(f"{name}: no script and no action", "/OpenAction" not in pdf.root and "/AA" not in pdf.root and "/Names" not in pdf.root)
    silent = [str(one.get("/Alt")) for kind, one in pdf.tags() if kind == "/Figure" and not str(one.get("/Alt", "")).strip()]
    tally.check(f"{name}: every figure has words", not silent, f"{len(silent)} have none")
    levels = [int(kind[2]) for kind, _ in pdf.tags() if re.fullmatch(r"/H[1-6]", kind)]
    leaps = [pair for pair in zip([0, *levels], levels) if pair[1] > pair[0] + 1]
    tally.check(f"{name}: no level of headings is skipped", bool(levels) and not leaps, str(leaps))
    for number, page in enumerate(pdf.pages, 1):
        tally.check(f"{name}: page {number} says that it is invented", "invented example" in page)
        tally.check(f"{name}: page {number} says what made it", "made with groundproof 0.1.0, data 2026-01" in page.replace("\n", " "))
        tally.check(f"{name}: page {number} counts", f"page {number} of {len(pdf.pages)}" in page.replace("\n", " "))


def long_paper(pdf, tally):
    tally.check("paper: eight pages", len(pdf.pages) == 8, str(len(pdf.pages)))
    for words in [*SECTIONS, *UNDER, *RECIPES]:
        tally.check(f"paper: `{words}`", pdf.holds(words))
    heads = [kind for kind, _ in pdf.tags() if kind in ("/H1", "/H2")]
    tally.check("paper: all sections are headings", heads.count("/H1") == len(SECTIONS), str(heads.count("/H1")))
    tally.check("paper: all parts are headings", heads.count("/H2") == len(UNDER) + len(RECIPES), str(heads.count("/H2")))
    # The list stands between its heading and the question's first words; the headings' own words come in it too.
    rows = pdf.bare.split(bare("What is told, and what is not"))[1].split(bare("Does a third less, or a third more"))[0]
    at = 0
    for number, (words, state) in enumerate(POINTS, 1):
        found = rows.find(bare(words), at)
        states = [(rows.find(bare(word), found), word) for word in ("given", "not known", "not applicable")]
        told = min((place for place in states if place[0] >= 0), default=(0, "no state"))
        tally.check(f"paper: point {number}, {words}: {state}", found >= 0 and told[1] == state, str(told))
        at = max(found, at)
    for board in BOARDS:
        tally.check(f"paper: {board} in the plan and in the readings", pdf.bare.count(bare(board)) >= 2)
    for board, why in LOST.items():
        tally.check(f"paper: {board} lost, and why", pdf.bare.count(bare(why)) >= 2)
    for name, lines in COMPOSITION.items():
        part = pdf.bare.split("Recipes,asreallyweighed")[1]
        for line in lines:
            tally.check(f"paper: {name} holds {line}", bare(line) in part)
    figures = [str(one.get("/Alt")) for kind, one in pdf.tags() if kind == "/Figure"]
    for words in FIGURES:
        tally.check(f"paper: a figure says `{words[:40]}`", figures.count(words) == 1, str(figures))
    kinds = [kind for kind, _ in pdf.tags()]
    tally.check("paper: tables have heads", kinds.count("/TH") >= 40 and "/THead" in kinds, str(kinds.count("/TH")))
    tally.check("paper: authors", "Keeper of the second stair" in str(pdf.reader.metadata.author), str(pdf.reader.metadata.author))
    tally.check("paper: seed", pdf.holds("drawn with the seed 4711"))


def empty_paper(pdf, tally):
    for words in SECTIONS:
        tally.check(f"empty paper: `{words}` does not vanish", pdf.holds(words))
    tally.check("empty paper: twenty gaps", pdf.bare.count("notknown") >= len(POINTS))
    for words in ("No answer was written.", "No reading was written down.", "There is no list of boards.", "No licence was given", "No next look was set."):
        tally.check(f"empty paper: {words}", pdf.holds(words))


def odd_paper(pdf, tally):
    for words in ODD:
        tally.check(f"odd paper: `{words[:30]}` as it stands", pdf.holds(words))
    tally.check("odd paper: ten thousand letters, every one", pdf.bare.count("salt") >= 2500 and pdf.bare.count("#") >= 10000)
    letters = "".join(sorted("שלום"))
    tally.check("odd paper: Hebrew", all(letter in pdf.text for letter in letters))
    tally.check("odd paper: no address became a link", not any("/Annots" in page for page in pdf.reader.pages))


def recipe_card(pdf, tally):
    tally.check("recipe card: one page", len(pdf.pages) == 1, str(len(pdf.pages)))
    for words in ("300 g", "natural chalk", "for 5 panels", "Not food.", "may be an allergen", "14 March 2026"):
        tally.check(f"recipe card: {words}", pdf.holds(words))
    # 280 g of water: one cup of 236.588 ml and three spoons of 14.787 ml hold 280.949 g
    tally.check("recipe card: cups with the rounding", pdf.holds("1 level cup and 3 tablespoons, 0.9 g too much"))
    step = pdf.bare.find(bare("Warm it in a water bath"))
    caution = pdf.bare.find(bare("Hot glue scalds"))
    after = pdf.bare.find(bare("Sift the chalk"))
    tally.check("recipe card: the caution stands at its step", 0 <= step < caution < after)


def board_sheet(pdf, tally):
    codes = [str(one.get("/Alt")) for kind, one in pdf.tags() if kind == "/Figure"]
    for board in BOARDS:
        tally.check(f"board sheet: label {board}", codes.count(f"Square code that reads {board}") == 1)
        tally.check(f"board sheet: {board} on label, pot and order", pdf.bare.count(bare(board)) >= 3)
    tally.check("board sheet: every label says not food", pdf.pages[0].count("Not food.") == len(BOARDS), str(pdf.pages[0].count("Not food.")))
    for words in ("Really weighed", "Order of laying", "Pot 1", "Pot 2", "Pot 3", "Dust when rubbed down"):
        tally.check(f"board sheet: {words}", pdf.holds(words))


DAY_SECTIONS = [
    "Before the day",
    "What may not slip",
    "Think of this",
    "Taken as usual",
    "The day, step by step",
    "Pot A: less glue",
    "Pot B: usual glue",
    "What to buy",
    "The boards",
]
DAY_FIGURES = [
    "The day from 9:00 to 16:00: when pots are mixed, coats are laid and dry.",
    "Six boards on the table in two rows, from the far left: 1 to 4, then 5 and 6.",
]


def sizes(reader):
    """Sizes of all letters, in points on the paper, with how many there are; drawings are scaled and are not counted here."""
    found = {}
    for page in reader.pages:

        def visit(text, cm, tm, font, size):
            if text.strip():
                points = round(abs(size * tm[3]) * abs(cm[3]) or abs(size), 1)
                found[points] = found.get(points, 0) + len(text.strip())

        page.extract_text(visitor_text=visit)
    return found


def day_sheets(pdf, tally):
    heads = [kind for kind, _ in pdf.tags() if kind in ("/H1", "/H2")]
    for words in DAY_SECTIONS:
        tally.check(f"day sheets: `{words}`", pdf.holds(words))
    tally.check("day sheets: all sections are headings", heads.count("/H1") == len(DAY_SECTIONS), str(heads.count("/H1")))
    # each pot: how, and the pot through the day; cautions before buying; four rounds of coats
    tally.check("day sheets: parts are headings", heads.count("/H2") == 2 * 2 + 1 + 4, str(heads.count("/H2")))
    figures = [str(one.get("/Alt")) for kind, one in pdf.tags() if kind == "/Figure"]
    for words in DAY_FIGURES:
        tally.check(f"day sheets: a figure says `{words[:40]}`", figures.count(words) == 1, str(figures))
    kinds = [kind for kind, _ in pdf.tags()]
    # steps, two tables for each pot, shopping, four rounds
    tally.check("day sheets: tables", kinds.count("/Table") == 1 + 2 * 2 + 1 + 4, str(kinds.count("/Table")))
    tally.check("day sheets: tables have heads", kinds.count("/THead") == kinds.count("/Table"), str(kinds.count("/THead")))
    for words in (
        "Begin at 9:10 with pot A.",
        "18:00 the day before:",
        "By 12:55 at the latest",
        "10 g (8.5 to 11.5)",
        "1 × 500 g",
        "14.50 tokens",
        "2 level tablespoons and 2 teaspoons, 0.4 g too little",
        "Truly laid, g",
        "Water put in, g",
        "Not food.",
        "may be an allergen",
    ):
        tally.check(f"day sheets: {words}", pdf.holds(words))
    tally.check("day sheets: a board of unknown size is said so", pdf.bare.count("notknown") == 2, str(pdf.bare.count("notknown")))
    step = pdf.bare.find(bare("Weigh everything first"))
    caution = pdf.bare.find(bare("never sweep"))
    after = pdf.bare.find(bare("Warm the swollen glue"))
    tally.check("day sheets: the caution stands at its step", 0 <= step < caution < after)
    first = pdf.pages[0]
    tally.check("day sheets: page 1 is the day alone", "Step by step" not in first and "what may not slip" in first.lower())
    # banner and foot of each page are set in 9.5 and 8.5 pt; nothing that is read while working is, but for a few marks in the pictures
    small = sum(count for size, count in sizes(pdf.reader).items() if size < 10.9 and size not in (8.5, 9.5))
    tally.check("day sheets: only marks in pictures are below 11 pt", small <= 60, f"{small} letters, {sizes(pdf.reader)}")


FILES = [
    ("day-sheets", "Day 1: what when?", day_sheets),
    ("paper", "Does less glue make the panel ground let go in salt air?", long_paper),
    ("paper-empty", "A paper in which nothing was written down", empty_paper),
    ("paper-odd", "Odd signs: " + ODD[0], odd_paper),
    ("recipe-card", "Lamp room white", recipe_card),
    ("board-sheet", "Panels for the tide calendar", board_sheet),
]


def check_papers(folder, tally):
    for name, title, more in FILES:
        pdf = Pdf(Path(folder) / f"{name}.pdf")
        tagged(name, pdf, title, tally)
        more(pdf, tally)
