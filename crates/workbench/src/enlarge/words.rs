//! Work on real panels in words.

use making::{Pack, Tenths, ToBuy, to_buy};
use materials::{Kind, MaterialId};
use measure::{Grams, GramsPerSquareMetre};
use notebook::{Day, Notebook};
use show::{EnlargeBatch, EnlargeLine, EnlargeReport, WarningReport, lasting, number, paid, percent, plain, times, weighed};

use super::{EnlargeForm, Work};
use crate::Workbench;

/// From 1 to so many.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 1 and 1000")]
pub(super) fn numbered(count: f64) -> impl Iterator<Item = u32> {
    1..=(count.clamp(1.0, 1000.0) as u32)
}

/// The next thing to do.
pub(super) fn sentence(report: &EnlargeReport) -> String {
    let panels: u32 = report.panels.iter().map(|kind| kind.count).sum();
    let one = if panels == 1 { "panel" } else { "panels" };
    match report.batches.as_slice() {
        [only] => format!("Mix one batch of {} for {panels} {one}.", weighed(only.wet_g)),
        [first, rest @ ..] if rest.iter().all(|batch| (batch.wet_g - first.wet_g).abs() < 0.5) => {
            format!("Mix {} batches of {} for {panels} {one}, {} in all.", rest.len() + 1, weighed(first.wet_g), weighed(report.total_g))
        }
        all => format!("Mix {} batches for {panels} {one}, {} in all.", all.len(), weighed(report.total_g)),
    }
}

/// How it was counted.
pub(super) fn counted(work: &Work, report: &EnlargeReport) -> Vec<String> {
    let mut out = vec![format!(
        "{}\u{a0}m² are coated, {} times, with {}\u{a0}g/m² wet and {} beside it for brush and pot.",
        number(work.area, 2),
        work.coats,
        number(work.coat.value(), 0),
        percent(work.loss)
    )];
    if let Some(dry) = work.dry {
        out.push(format!("All coats together dry to about {}\u{a0}µm.", number(dry, 0)));
    }
    match (work.minutes, work.life) {
        (Some(minutes), Some(life)) => out.push(format!(
            "From the first coat to the last it takes about {}, at a usual pace; a pot lives {} at the least. So {} made.",
            lasting(i64::from(minutes)),
            lasting(i64::from(life.low.count())),
            if report.batches.len() == 1 { "one batch is".to_owned() } else { format!("{} batches are", report.batches.len()) }
        )),
        (None, Some(life)) => out.push(format!(
            "A pot lives {} at the least; how long coats of this wait for each other is not known, so time sets no bound here: watch the pot.",
            lasting(i64::from(life.low.count()))
        )),
        _ => out.push("How long a pot of this lives is not known, so time sets no bound here: watch the pot.".into()),
    }
    out
}

/// What larger and thicker work asks for while it dries.
pub(super) fn drying(work: &Work, usual: GramsPerSquareMetre) -> Vec<String> {
    let beside = work.coat.value() / usual.value();
    let mut out = Vec::new();
    if beside > 1.15 {
        out.push(format!(
            "Each coat is {} the usual coat, and while it is wet all of its water leaves through one face: give it that much longer, and more where air stands still.",
            times(beside)
        ));
    }
    out.push(
        "Large panels standing together make the room damp and dry more slowly than boards did: same room, air moving, panels apart."
            .to_owned(),
    );
    out.push("Lay a test strip beside each panel, from the same pot, on the same board, as thick. The next coat goes on when the strip is matt, no longer cool to the back of the hand, and does not smear.".to_owned());
    out.push(
        "A coat that is too thick cracks on a panel as it does on a board: weigh the panel before and after its first coat.".to_owned(),
    );
    out
}

pub(super) fn warnings(form: &EnlargeForm, work: &Work, batches: &[EnlargeBatch], all: &[EnlargeLine], step: f64) -> Vec<WarningReport> {
    let mut out = Vec::new();
    let mut say = |id: &str, text: String, at: &str| out.push(WarningReport { id: id.into(), text, at: at.into() });
    for line in batches.first().map_or(all, |batch| &batch.lines) {
        let off = (line.mass_g - line.exact_g).abs() / line.exact_g.max(1e-9);
        if off > 0.02 || line.exact_g < step {
            say(
                "fine",
                format!(
                    "{} of {} is little for a scale in steps of {}\u{a0}g: rounding moves it by {}. Weigh it for all batches at once and part it, or take a finer scale.",
                    weighed(line.exact_g),
                    line.name,
                    plain(step),
                    percent(off)
                ),
                "scale",
            );
        }
    }
    if form.one_each
        && let (Some(minutes), Some(life)) = (work.minutes, work.life)
        && minutes > life.low.count()
    {
        say(
            "life",
            format!(
                "A batch for each panel lasts {}, but all coats take about {}: lay each panel's coats one after the other, or make each batch anew in parts.",
                lasting(i64::from(life.low.count())),
                lasting(i64::from(minutes))
            ),
            "batches",
        );
    }
    out
}

impl Workbench {
    /// What the same wet mass of a bought primer costs, from the shelf.
    pub(super) fn beside_bought(&self, state: &Notebook, work: &Work, today: Day) -> String {
        let panels = f64::from(work.panels().max(1));
        let offers = state.jars.values().filter_map(|kept| {
            let jar = &kept.record;
            let primer = self.jars.material(&MaterialId::new(&jar.material)).is_some_and(|material| material.kind == Kind::Primer);
            let fresh = jar.best_before.is_none_or(|best| best >= today);
            let pack = Pack { holds: Tenths::held(Grams::new(jar.pack_g?)), price: Some(making::Money::of(jar.price?)?) };
            (primer && fresh).then_some((jar, pack))
        });
        let costed = offers.filter_map(|(jar, pack)| match to_buy(Tenths::needed(Grams::new(work.total)), Tenths::ZERO, &[pack]) {
            ToBuy::Packs(chosen) => Some((jar, chosen.counts.iter().sum::<u32>(), chosen.cost?)),
            _ => None,
        });
        match costed.min_by_key(|(_, _, cost)| *cost) {
            Some((jar, count, cost)) => format!(
                "Beside it the bought primer, as many grams of {}: {count} \u{d7} {}, {} in all, {} a panel.",
                jar.name,
                weighed(jar.pack_g.unwrap_or_default()),
                paid(cost.amount(), &jar.money),
                paid(cost.amount() / panels, &jar.money)
            ),
            None => "No bought primer with its pack and price stands on the shelf, so there is nothing to put beside it.".into(),
        }
    }
}
