//! "100 g chalk in 200 ml hide glue": glue in millilitres with no water told is the ready size, not dry grains.

use super::model::{Amount, Line, Pick, Strength};
use super::recipe::Recipe;
use crate::catalogue::{Family, Kind, MaterialId};

/// Units in which liquids are poured and dry glue is not measured.
const POURED: [&str; 4] = ["millilitre", "centilitre", "decilitre", "litre"];

/// Takes glue that was poured as size of a strength that nobody told, unless water stands in the text.
pub(super) fn settle(told: &Recipe<'_>, lines: &mut [Line]) {
    let water = |line: &Line| line.material.first().is_some_and(|id| id.as_str() == "water");
    if lines.iter().any(water) || (0..told.nodes.len()).any(|node| told.is(node, "water")) {
        return;
    }
    for line in lines.iter_mut().filter(|line| is_poured_glue(told, line)) {
        line.material = Pick::sure(MaterialId::new("glue-size"));
        line.strength = Some(Strength::Unknown);
        line.guessed.retain(|guess| !guess.ends_with("taken as dry"));
        line.guessed.push("glue in millilitres, and no water told: taken as ready size".to_owned());
    }
}

fn is_poured_glue(told: &Recipe<'_>, line: &Line) -> bool {
    let Amount::Volume { unit, .. } = &line.amount else { return false };
    let poured = unit.first().is_some_and(|unit| POURED.contains(&told.units.get(*unit).id.as_str()));
    let glue = line
        .material
        .first()
        .and_then(|id| told.jars.material(id))
        .is_some_and(|stuff| stuff.kind == Kind::Binder && stuff.family == Family::Glue && stuff.id.as_str() != "glue-size");
    poured && glue && line.strength.is_none() && line.material.question.is_none()
}
