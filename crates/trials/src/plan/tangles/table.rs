//! The columns of numbers behind the check, and how much they tell in all.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use statistics::{Columns, InformationError, aliases, condition, correlations, inflations, information};

use super::{Sight, Tangle, TangleKind, words};
use crate::plan::factors::{Factor, room};
use crate::plan::model::{Plan, Ready, Shape};

/// Name of the column that is the same on all boards.
const CONSTANT: &str = "constant";
/// A product of settings that shows this much in another setting is worth a word (common practice, no source).
const SHOWS: f64 = 0.7;
/// Most products that are worked out.
const MOST_PRODUCTS: usize = 200;

/// Columns of the recipe boards: a constant (or the shares), then the settings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Table {
    /// Names of the columns.
    pub terms: Vec<String>,
    /// Which setting or part each column belongs to; the constant to itself.
    pub belongs: Vec<String>,
    /// Independent columns.
    pub rank: usize,
    /// Exact ties among them.
    pub ties: usize,
    /// Correlation of each pair, `None` where one does not vary.
    pub r: Vec<Vec<Option<f64>>>,
    /// How many times the doubt about each grows because of the others; `None` for the constant and for tied columns.
    pub vif: Vec<Option<f64>>,
    /// Scaled condition number; `None` with a tie.
    pub condition: Option<f64>,
    /// Products of two settings, left out of the model.
    pub left_out: Vec<String>,
    /// What each product adds to each column's estimate: a row a column, an entry a product. `None` with a tie.
    pub alias: Option<Vec<Vec<f64>>>,
}

/// How much the recipe boards tell about a model in all.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Criterion {
    /// ln |X' V^-1 X|, residual variance 1.
    pub ln_det: Option<f64>,
    /// The determinant against the bound, by its root of as many as there are terms.
    pub d_efficiency: Option<f64>,
    /// No plan of so many boards can have more.
    pub bound_ln_det: Option<f64>,
    /// Terms of the model.
    pub terms: Vec<String>,
    /// How they are coded.
    pub coding: String,
    /// Why a number is missing.
    pub why: Option<String>,
}

/// A column with its names.
struct Term {
    name: String,
    belongs: String,
    column: Vec<f64>,
}

fn terms_of(factor: &Factor, sight: &Sight<'_>) -> Vec<Term> {
    let belongs = factor.name.clone();
    let columns = factor.columns(&sight.boards);
    factor.terms().into_iter().zip(columns).map(|(name, column)| Term { name, belongs: belongs.clone(), column }).collect()
}

fn constant(sight: &Sight<'_>) -> Term {
    Term { name: CONSTANT.into(), belongs: CONSTANT.into(), column: vec![1.0; sight.boards.len()] }
}

fn product(a: &Term, b: &Term) -> Term {
    let column = a.column.iter().zip(&b.column).map(|(x, y)| x * y).collect();
    Term { name: format!("{} × {}", a.name, b.name), belongs: format!("{} × {}", a.belongs, b.belongs), column }
}

fn columns(terms: &[Term]) -> Columns {
    Columns::new(terms.iter().map(|term| term.column.clone()).collect()).unwrap_or_default()
}

fn names(terms: &[Term]) -> Vec<String> {
    terms.iter().map(|term| term.name.clone()).collect()
}

pub(super) fn table(sight: &Sight<'_>) -> Table {
    let mut terms = Vec::new();
    if sight.parts.is_empty() {
        terms.push(constant(sight));
    }
    terms.extend(sight.parts.iter().flat_map(|part| terms_of(part, sight)));
    let settings: Vec<Term> = sight.settings.iter().flat_map(|setting| terms_of(setting, sight)).collect();
    let mut products = Vec::new();
    for (at, a) in settings.iter().enumerate() {
        products.extend(settings.iter().skip(at + 1).filter(|b| a.belongs != b.belongs).map(|b| product(a, b)));
    }
    products.truncate(MOST_PRODUCTS);
    terms.extend(settings);
    let all = columns(&terms);
    Table {
        terms: names(&terms),
        belongs: terms.iter().map(|term| term.belongs.clone()).collect(),
        rank: all.rank(),
        ties: all.ties().len(),
        r: correlations(&all),
        vif: inflations(&all),
        condition: condition(&all),
        left_out: names(&products),
        alias: aliases(&all, &columns(&products)),
    }
}

/// Products of two settings that show in a third.
pub(super) fn hidden(table: &Table, found: &[Tangle]) -> Vec<Tangle> {
    let Some(alias) = &table.alias else { return Vec::new() };
    let mut seen: BTreeMap<(String, String), f64> = BTreeMap::new();
    for (row, belongs) in alias.iter().zip(&table.belongs) {
        for (share, product) in row.iter().zip(&table.left_out) {
            let own = product.split(" × ").any(|name| name == belongs || name.starts_with(&format!("{belongs}: ")));
            if !own && belongs != CONSTANT && share.abs() > SHOWS {
                let most = seen.entry((belongs.clone(), product.clone())).or_insert(0.0);
                *most = most.max(share.abs());
            }
        }
    }
    // Settings that are tangled already need no second word.
    let known = |name: &str| found.iter().any(|tangle| tangle.kind == TangleKind::Half && tangle.effects.iter().any(|e| e == name));
    seen.into_iter()
        .filter(|((name, _), _)| !known(name))
        .map(|((name, product), share)| Tangle {
            kind: TangleKind::Hidden,
            text: words::hidden(&name, &product),
            effects: vec![name, product],
            r: Some(share.min(1.0)),
            times: None,
            add: Vec::new(),
        })
        .collect()
}

/// Terms of the model that the criterion is about.
fn model(sight: &Sight<'_>) -> Vec<Term> {
    let settings: Vec<Term> = sight.settings.iter().flat_map(|setting| terms_of(setting, sight)).collect();
    if sight.plan.parts.is_empty() {
        let mut terms = vec![constant(sight)];
        terms.extend(settings);
        if sight.plan.ready == Ready::TwoByTwo {
            let both = match terms.as_slice() {
                [_, a, b] => Some(product(a, b)),
                _ => None,
            };
            terms.extend(both);
            terms.extend(sight.day.iter().flat_map(|day| terms_of(day, sight)));
        }
        return terms;
    }
    let blend = blend(sight);
    let crossed: Vec<Term> = blend.iter().flat_map(|part| settings.iter().map(move |setting| product(part, setting))).collect();
    let mut terms = Vec::new();
    let mut pairs = Vec::new();
    let mut threes = Vec::new();
    for (i, a) in blend.iter().enumerate() {
        for (j, b) in blend.iter().enumerate().skip(i + 1) {
            let pair = product(a, b);
            threes.extend(blend.iter().skip(j + 1).map(|c| product(&pair, c)));
            pairs.push(pair);
        }
    }
    terms.extend(blend);
    if sight.plan.shape != Shape::Linear {
        terms.extend(pairs);
    }
    if sight.plan.shape == Shape::SpecialCubic {
        terms.extend(threes);
    }
    terms.extend(crossed);
    terms
}

/// (share - least) / (1 - all leasts), for parts that are not fixed.
fn blend(sight: &Sight<'_>) -> Vec<Term> {
    let room = room(&sight.plan.parts);
    let parts = sight.plan.parts.iter().filter(|part| part.high - part.low > 1e-12);
    parts
        .map(|part| {
            let shares = sight.plan.recipe_boards().map(|board| board.shares.get(&part.name).copied().unwrap_or(0.0));
            Term { name: part.name.clone(), belongs: part.name.clone(), column: shares.map(|share| (share - part.low) / room).collect() }
        })
        .collect()
}

/// Which pot each recipe board belongs to, numbered.
fn groups(plan: &Plan) -> Vec<usize> {
    let mut known: BTreeMap<(u32, &str), usize> = BTreeMap::new();
    plan.recipe_boards()
        .map(|board| {
            let next = known.len();
            *known.entry((board.day, board.batch.as_str())).or_insert(next)
        })
        .collect()
}

pub(super) fn criterion(sight: &Sight<'_>) -> Criterion {
    let plan = sight.plan;
    let terms = model(sight);
    let groups = groups(plan);
    let blends = !plan.parts.is_empty();
    let mut coding = "numbers from -1 (least) to 1 (most); two kinds -1 and 1; more kinds as contrasts that sum to nothing".to_owned();
    if blends {
        coding = format!("parts as (share - least) / (1 - all leasts), {}; settings {coding}", plan.shape.word());
    }
    let told = information(&columns(&terms), &groups, plan.batch_spread);
    let bound = bound(plan, terms.len(), &groups);
    let (ln_det, why) = match told {
        Ok(ln_det) => (Some(ln_det), None),
        Err(InformationError::Tied { rank, columns }) => {
            (None, Some(format!("only {rank} of {columns} terms can be told apart, so the determinant is 0; see the tangles")))
        }
        Err(other) => (None, Some(other.to_string())),
    };
    let why = why.or_else(|| {
        bound.is_none().then(|| {
            let what = if blends { "for blends" } else { "for pots of several boards with a spread between pots" };
            format!("no bound is worked out {what} yet")
        })
    });
    let d_efficiency = ln_det.zip(bound).map(|(ln_det, bound)| ((ln_det - bound) / terms.len().max(1) as f64).exp());
    Criterion { ln_det, d_efficiency, bound_ln_det: bound, terms: names(&terms), coding, why }
}

/// No determinant is larger than the product of its diagonal (Hadamard 1893), and no column here is larger than 1 anywhere. With every
/// board from its own pot V = (1 + spread) I; without spread V = I. Other plans and blends: not worked out.
fn bound(plan: &Plan, terms: usize, groups: &[usize]) -> Option<f64> {
    let boards = groups.len() as f64;
    let alone = groups.iter().copied().max().is_some_and(|last| last + 1 == groups.len());
    if !plan.parts.is_empty() || groups.is_empty() {
        None
    } else if plan.batch_spread <= 0.0 {
        Some(terms as f64 * boards.ln())
    } else if alone {
        Some(terms as f64 * (boards / (1.0 + plan.batch_spread)).ln())
    } else {
        None
    }
}
