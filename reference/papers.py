"""Files that go with a paper: a calendar read by `icalendar`, dates by `dateutil`, tables by `frictionless`."""

import copy
import csv
import datetime
import io
import json
import tempfile
import zipfile
from pathlib import Path

from dateutil.relativedelta import relativedelta
from frictionless import Package, system
from icalendar import Calendar

from example import written

STEPS = {
    "1-day": relativedelta(days=1),
    "1-week": relativedelta(weeks=1),
    "1-month": relativedelta(months=1),
    "3-months": relativedelta(months=3),
    "6-months": relativedelta(months=6),
    "12-months": relativedelta(months=12),
    **{f"{n}-years": relativedelta(years=n) for n in range(2, 7)},
}
# What the sample says, typed here a second time.
EVENTS = [
    (datetime.date(2026, 11, 26), "Look at board 07; one day", "Cracks, dust\nand a photograph, please"),
    (
        datetime.date(2027, 2, 28),
        "Look at board 07, one month",
        "Same place, same lamp, same distance; then cracks, dust, sound when tapped. " * 4,
    ),
    (datetime.date(2028, 2, 29), "Look at board ß-8 " + "½ µm – " * 20, "path \\ slash; comma, end"),
]
FILES = {"boards.csv": 3, "coats.csv": 3, "readings.csv": 6, "recipes.csv": 3}
READING_COLUMNS = "board measure value kind batch day recipe job strip age_d rater blind struck note".split()


def check_calendar(tally):
    bytes_ = written("paper", "sample_files", "calendar")
    lines = bytes_.split(b"\r\n")
    tally.check("calendar: ends its lines with CR LF", lines[-1] == b"" and not any(b"\n" in line or b"\r" in line for line in lines))
    tally.check("calendar: no line above 75 octets", max(map(len, lines)) <= 75, str(max(map(len, lines))))
    folded = [line for line in lines if line.startswith(b" ")]
    tally.check("calendar: some lines are folded", len(folded) > 4)
    for line in lines:
        try:
            line.decode("utf-8")
            whole = True
        except UnicodeDecodeError:
            whole = False
        tally.check("calendar: no character is torn apart", whole, repr(line))
    read = Calendar.from_ical(bytes_)
    tally.check("calendar: version", str(read["VERSION"]) == "2.0" and "PRODID" in read)
    tally.check("calendar: nothing strange in it", not read.errors, str(read.errors))
    events = read.walk("VEVENT")
    tally.check("calendar: all days are there", len(events) == len(EVENTS), str(len(events)))
    tally.check("calendar: lasting names differ", len({str(event["UID"]) for event in events}) == len(EVENTS))
    stamp = datetime.datetime(2026, 11, 25, 9, 30, tzinfo=datetime.timezone.utc)
    for event, (day, title, text) in zip(events, EVENTS):
        found = event.decoded("DTSTART")
        whole_day = isinstance(found, datetime.date) and not isinstance(found, datetime.datetime)
        tally.check(f"calendar: {title[:30]}: whole day", whole_day and found == day, str(found))
        tally.check(f"calendar: {title[:30]}: stamp", event.decoded("DTSTAMP") == stamp)
        tally.check(f"calendar: {title[:30]}: title", str(event["SUMMARY"]) == title, str(event["SUMMARY"]))
        tally.check(f"calendar: {title[:30]}: text", str(event["DESCRIPTION"]) == text, str(event["DESCRIPTION"]))


def check_looks(tally):
    rows = list(csv.DictReader(io.StringIO(written("trials", "sample_looks").decode())))
    tally.check("looks: enough of them", len(rows) > 3000, str(len(rows)))
    tally.check("looks: every kind", {row["look"] for row in rows} == set(STEPS))
    for row in rows:
        wanted = datetime.date.fromisoformat(row["last_coat"]) + STEPS[row["look"]]
        told = datetime.date.fromisoformat(row["day"])
        tally.check(f"looks: {row['look']} after {row['last_coat']}", told == wanted, f"{told}, not {wanted}")


def faults(folder, description):
    """What `frictionless` finds wrong with a package: kinds of faults, in order."""
    path = Path(folder) / "datapackage.json"
    path.write_text(json.dumps(description), encoding="utf-8")
    with system.use_context(trusted=True):
        report = Package(str(path)).validate()
    return sorted({error.type for task in report.tasks for error in task.errors} | {error.type for error in report.errors})


def check_data(tally):
    with tempfile.TemporaryDirectory() as folder:
        packed = zipfile.ZipFile(io.BytesIO(written("paper", "sample_files", "data")))
        tally.check("data: the zip is whole", packed.testzip() is None)
        tally.check("data: files", sorted(packed.namelist()) == sorted([*FILES, "datapackage.json"]), str(packed.namelist()))
        packed.extractall(folder)
        description = json.loads((Path(folder) / "datapackage.json").read_text(encoding="utf-8"))
        found = faults(folder, description)
        tally.check("data: frictionless finds nothing wrong", not found, str(found))
        tally.check("data: licence", [one["name"] for one in description["licenses"]] == ["CC-BY-4.0"])

        tables = {}
        for name, count in FILES.items():
            with open(Path(folder) / name, newline="", encoding="utf-8") as file:
                tables[name] = list(csv.DictReader(file, strict=True))
            tally.check(f"data: rows of {name}", len(tables[name]) == count, str(len(tables[name])))
            cells = [cell for row in tables[name] for cell in row.values()]
            tally.check(f"data: no formula in {name}", not any(cell.startswith(("=", "+", "-", "@")) for cell in cells))
        columns = list(tables["readings.csv"][0])
        tally.check("data: columns of readings", columns[: len(READING_COLUMNS)] == READING_COLUMNS, str(columns))
        tally.check("data: what was changed", columns[len(READING_COLUMNS) :] == ["share:chalk", "set:coats", "set:support"])
        lost = tables["boards.csv"][1]
        tally.check("data: quoted text comes back", lost["lost"] == 'fell, "face down"\ninto the sea', lost["lost"])
        tally.check("data: an apostrophe before a formula", lost["note"] == "'=HYPERLINK(\"lighthouse\")", lost["note"])

        with system.use_context(trusted=True):
            package = Package(str(Path(folder) / "datapackage.json"))
            rows = {resource.name: resource.read_rows() for resource in package.resources}
        first = rows["readings"][0]
        tally.check("data: typed cells", first["blind"] is True and float(first["age_d"]) == 30 and first["value"] == "2.5", str(first))
        tally.check("data: days are days", rows["boards"][0]["last_coat"] == datetime.date(2026, 11, 25))
        tally.check("data: missing is missing", rows["readings"][4]["value"] is None)

        # The description must be strict enough to notice what is wrong.
        for name, old, new, kind in [
            ("readings.csv", "07,cracking", "09,cracking", "foreign-key"),
            ("readings.csv", ",2.5,class_0_5", ",about 2,class_0_5", "constraint-error"),
            ("readings.csv", "class_0_5", "grade", "constraint-error"),
            ("readings.csv", "07,cracking", "07,haze", "constraint-error"),
            ("boards.csv", "\r\n'-8,", "\r\n07,", "primary-key"),
            ("boards.csv", "\r\n07,", "\r\n,", "constraint-error"),
            ("coats.csv", ",12.5,", ",plenty,", "type-error"),
            ("coats.csv", ",12.5,", ",-12.5,", "constraint-error"),
        ]:
            path = Path(folder) / name
            good = path.read_bytes()
            path.write_bytes(good.replace(old.encode(), new.encode(), 1))
            looser = copy.deepcopy(description)
            for resource in looser["resources"]:
                resource.pop("bytes")
            found = faults(folder, looser)
            tally.check(f"data: {name} with `{new.strip()}` is refused", kind in found, str(found))
            path.write_bytes(good)


def check(_program, tally):
    check_calendar(tally)
    check_looks(tally)
    check_data(tally)
