//! Recipes that the workshop keeps, a panel that failed, and a scale of its own. Invented.

use super::super::{KeepFailed, KeepRecipe, StudioError};
use super::pen::{Pen, When, fields};
use crate::{FailedRequest, VerdictRequest};

/// What a kept recipe needs besides its text.
#[derive(Default)]
struct Kept<'a> {
    name: &'a str,
    told: &'a str,
    note: &'a str,
    change: (String, u64),
    copied_from: String,
}

const CHALK: &str = "15 g hide glue, 210 g water, 320 g whiting, 4 coats";
const GYPSUM: &str = "15 g hide glue, 210 g water, 300 g gypsum, 4 coats";

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let chalk =
        Kept { name: "the workshop's chalk ground", told: CHALK, note: "warm, never boiling; one sieve, two stirs", ..Kept::default() };
    let chalk = keep(pen, chalk, (83, 15, 0))?;
    let copy = Kept {
        name: "chalk ground with much glue",
        told: "24 g hide glue, 210 g water, 320 g whiting, 4 coats",
        note: "as the chalk ground, but 24 g of glue in place of 15 g",
        copied_from: chalk,
        ..Kept::default()
    };
    keep(pen, copy, (82, 19, 20))?;
    let gypsum = Kept { name: "gypsum ground", told: GYPSUM, note: "thickens when it stands", ..Kept::default() };
    let gypsum = keep(pen, gypsum, (82, 19, 40))?;
    let from = pen.state().n();
    let changed = Kept {
        name: "gypsum ground",
        told: "15 g hide glue, 240 g water, 300 g gypsum, 4 coats",
        note: "30 g more water: the first pot dragged under the brush",
        change: (gypsum, from),
        ..Kept::default()
    };
    keep(pen, changed, (81, 18, 5))?;
    let looks = ["skips, no line", "a grey breath", "thin and broken", "thin and whole", "clear line", "dark line, tears the ground"];
    let stamp = pen.at((81, 18, 30));
    pen.bench.make_scale(pen.studio, "how well a silver wire draws", "larger", looks, &stamp)
}

/// What was kept after the second round.
pub(super) fn write_later(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let half = Kept {
        name: "half chalk, half gypsum",
        told: "15 g hide glue, 220 g water, 160 g whiting, 150 g gypsum, 4 coats",
        note: "for the twelve panels, if the stair boards hold",
        ..Kept::default()
    };
    keep(pen, half, (20, 19, 10))?;
    let failed = KeepFailed {
        request: FailedRequest {
            told: "30 g hide glue, 210 g water, 300 g whiting".into(),
            coats: Some(5),
            support: Some("plywood".into()),
            taps: fields(&[
                ("when", "while drying"),
                ("looks", "network of cracks"),
                ("boards", "all, no control"),
                ("where", "all over"),
                ("rubs", "no"),
                ("pot", "smooth"),
            ]),
            own: pen.bench.own_values(&pen.state()),
            ..FailedRequest::default()
        },
        name: "old sample panel from the stair well".into(),
    };
    let stamp = pen.at((19, 17, 0));
    pen.bench.keep_failed(pen.studio, &failed, &stamp).map(drop)
}

fn keep(pen: &mut Pen<'_>, kept: Kept<'_>, when: When) -> Result<String, StudioError> {
    let keep = KeepRecipe {
        request: VerdictRequest { told: kept.told.into(), own: pen.bench.own_values(&pen.state()), ..VerdictRequest::default() },
        name: kept.name.into(),
        note: kept.note.into(),
        change: kept.change,
        copied_from: kept.copied_from,
    };
    let stamp = pen.at(when);
    pen.bench.keep_recipe(pen.studio, &keep, &stamp)
}
