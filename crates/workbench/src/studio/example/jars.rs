//! The workshop's shelf and what was weighed at its table. Invented; no such makers or lots exist.

use super::super::{StudioError, TypedJar, TypedWeighing};
use super::pen::{Pen, When};

/// A jar. Days are counted from today.
struct Row {
    material: &'static str,
    name: &'static str,
    maker: &'static str,
    lot: &'static str,
    price: &'static str,
    pack: &'static str,
    stock: &'static str,
    best_before: Option<i64>,
    opened: Option<i64>,
    note: &'static str,
}

const JARS: [Row; 6] = [
    Row {
        material: "natural-chalk",
        name: "chalk, the blue bin",
        maker: "harbour chandler",
        lot: "CH-118",
        price: "6.20",
        pack: "5000",
        stock: "3200",
        best_before: None,
        opened: Some(-86),
        note: "keep the lid on: the stair well is damp",
    },
    Row {
        material: "gypsum",
        name: "gypsum, paper sack",
        maker: "harbour chandler",
        lot: "GY-041",
        price: "7.80",
        pack: "5000",
        stock: "4100",
        best_before: None,
        opened: Some(-86),
        note: "ground gypsum; it was asked for as the kind that does not set",
    },
    Row {
        material: "hide-glue",
        name: "hide glue, pearls",
        maker: "the rope loft's shop",
        lot: "7-02",
        price: "14.50",
        pack: "1000",
        stock: "640",
        best_before: Some(410),
        opened: Some(-85),
        note: "",
    },
    Row {
        material: "gelatine",
        name: "gelatine, the keeper's kitchen",
        maker: "the keeper's kitchen",
        lot: "",
        price: "3.10",
        pack: "250",
        stock: "180",
        best_before: Some(96),
        opened: Some(-12),
        note: "leaf gelatine without sugar",
    },
    Row {
        material: "acrylic-ground",
        name: "white primer, half a tin",
        maker: "harbour chandler",
        lot: "P-9",
        price: "11.00",
        pack: "750",
        stock: "300",
        best_before: Some(9),
        opened: Some(-62),
        note: "only for the witness boards",
    },
    Row {
        material: "titanium-white",
        name: "titanium white, jam jar",
        maker: "left over from the boat names",
        lot: "",
        price: "",
        pack: "",
        stock: "90",
        best_before: None,
        opened: None,
        note: "",
    },
];

/// Weighings: material, what, base, readings, remark, when.
const WEIGHINGS: [(&str, &str, &str, &str, &str, When); 3] = [
    ("natural-chalk", "cup", "237", "203 209 206", "scooped, tapped once, levelled with a ruler", (83, 10, 5)),
    ("gypsum", "cup", "237", "188 193 186", "the same cup and ruler", (83, 10, 25)),
    ("natural-chalk", "rub-out", "10", "1.7 1.8 1.7", "with a palette knife on glass", (83, 11, 10)),
];

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let mut chalk = String::new();
    for (minutes, row) in (0..).step_by(4).zip(&JARS) {
        let day = |days: Option<i64>| days.map_or_else(String::new, |days| pen.calendar(days));
        let typed = TypedJar {
            material: row.material.into(),
            name: row.name.into(),
            maker: row.maker.into(),
            lot: row.lot.into(),
            price: row.price.into(),
            money: if row.price.is_empty() { "" } else { "tokens" }.into(),
            pack: row.pack.into(),
            stock: row.stock.into(),
            best_before: day(row.best_before),
            opened: day(row.opened),
            note: row.note.into(),
            ..TypedJar::default()
        };
        let stamp = pen.at((84, 9, 30 + minutes));
        let subject = pen.bench.put_jar(pen.studio, &typed, &stamp)?;
        if row.material == "natural-chalk" {
            chalk = subject;
        }
    }
    for (material, what, base, readings, note, when) in WEIGHINGS {
        let typed = TypedWeighing {
            material: material.into(),
            jar: if material == "natural-chalk" { chalk.clone() } else { String::new() },
            what: what.into(),
            base: base.into(),
            readings: readings.into(),
            aid: String::new(),
            note: note.into(),
        };
        let stamp = pen.at(when);
        pen.bench.weigh_own(pen.studio, &typed, &stamp)?;
    }
    Ok(())
}
