//! What to buy: pots scaled to their boards, curd back to milk, packs from the painter's own shelf, cautions before the way to the shop.

use std::collections::BTreeMap;

use binder::{AcidAtHand, AcidSource, BinderBook, CurdState, MilkAmount, MilkKind, MilkRequest, curd, milk_inputs};
use making::{Money, Pack, Tenths, ToBuy, to_buy};
use materials::{Kind, Material, MaterialId};
use measure::{Grams, Millilitres, SquareMetres};
use notebook::{Day, Jar, Notebook};
use show::{CautionView, ShoppingLine, ShoppingView, number, paid, plain, weighed};

use crate::Workbench;
use crate::verdict::Worked;

/// A pot to shop for.
pub(crate) struct PotNeed<'a> {
    /// Its letter, or the recipe's name.
    pub(crate) name: String,
    /// The recipe, where it is told and can be taken.
    pub(crate) worked: Option<&'a Worked>,
    /// What the boards take, loss included; none where their size is not told.
    pub(crate) wet: Option<Grams>,
    /// The recipe as told: it may name a jar of binder that stands ready.
    pub(crate) told: &'a str,
}

/// Boards that share the cost.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sharing {
    /// How many.
    pub(crate) boards: usize,
    /// Their faces together, where the size is told.
    pub(crate) face: Option<SquareMetres>,
}

/// What all pots take together, by material, in the order in which it was met.
#[derive(Default)]
struct Needs<'a> {
    stuffs: Vec<(&'a Material, f64)>,
    notes: Vec<String>,
    /// Casein in curd that has to be made from milk, grams.
    casein: f64,
    /// Milk in recipes that is curdled, by kind, grams.
    curdled: BTreeMap<&'static str, f64>,
    /// Acid that the recipes name.
    acid: Option<MaterialId>,
}

impl<'a> Needs<'a> {
    fn add(&mut self, material: &'a Material, grams: f64) {
        match self.stuffs.iter_mut().find(|(known, _)| known.id == material.id) {
            Some((_, sum)) => *sum += grams,
            None => self.stuffs.push((material, grams)),
        }
    }
}

impl Workbench {
    /// One list for these pots, against the jars on the shelf.
    pub(crate) fn shopping(&self, state: &Notebook, pots: &[PotNeed<'_>], sharing: Sharing, today: Day) -> ShoppingView {
        let mut needs = Needs::default();
        for pot in pots {
            self.pot_needs(state, pot, &mut needs);
        }
        self.milk_needs(&mut needs);
        let mut view = ShoppingView { notes: needs.notes, mind: self.before_buying(pots), ..ShoppingView::default() };
        let mut bill: BTreeMap<String, Money> = BTreeMap::new();
        let mut used: BTreeMap<String, f64> = BTreeMap::new();
        let mut unpriced: Vec<&str> = Vec::new();
        for (material, grams) in &needs.stuffs {
            if material.id.as_str() == "water" {
                view.lines.push(ShoppingLine {
                    material: "water".into(),
                    name: material.name.clone(),
                    need: weighed(*grams),
                    buy: "nothing".into(),
                    ..ShoppingLine::default()
                });
                continue;
            }
            let shelf = Shelf::of(state, material, today);
            let found = to_buy(Tenths::needed(Grams::new(*grams)), shelf.stock, &shelf.packs);
            if let ToBuy::Packs(chosen) = &found
                && let Some(cost) = chosen.cost
            {
                let sum = bill.entry(shelf.money.clone()).or_default();
                *sum = sum.and(cost);
            }
            match shelf.per_gram() {
                Some(price) => *used.entry(shelf.money.clone()).or_default() += price * grams,
                None => unpriced.push(&material.name),
            }
            view.lines.push(line(material, *grams, &shelf, &found));
        }
        view.sums = bill.iter().map(|(money, sum)| paid(sum.amount(), money)).collect();
        view.per_board = per_board(&used, &unpriced, sharing);
        view.say = said(&view);
        view
    }

    /// The primer from the shop, where a recipe is that and nothing else: its composition is not known, but all of it goes on.
    pub(crate) fn ready_made(&self, worked: &Worked) -> Option<&Material> {
        let mut lines = worked.reading.lines.iter();
        let material = self.jars.material(lines.next()?.material.first()?)?;
        (material.kind == Kind::Primer && lines.next().is_none()).then_some(material)
    }

    /// Adds what one pot takes.
    fn pot_needs<'a>(&'a self, state: &Notebook, pot: &PotNeed<'_>, needs: &mut Needs<'a>) {
        let Some(worked) = pot.worked else {
            needs.notes.push(format!("{}: what goes in is not told, so it stands in no line; say the recipe and look again.", pot.name));
            return;
        };
        let Some(wet) = pot.wet else {
            needs.notes.push(format!("{}: the size of the boards is not written down, so no grams can be told.", pot.name));
            return;
        };
        if let Some(primer) = self.ready_made(worked) {
            needs.add(primer, wet.value());
            return;
        }
        let values = worked.mix.best();
        let Some(times) = self.pot_times(worked, wet) else {
            needs.notes.push(format!("{}: how much water goes in is not told, so nothing can be scaled; say it in grams.", pot.name));
            return;
        };
        let ready = self.jar_ready(state, pot.told);
        for (line, grams, stays) in worked.mix.dried(&values) {
            let id = worked.mix.materials().find(|(at, _)| *at == line).map(|(_, id)| id);
            let Some(material) = id.and_then(|id| self.jars.material(id)) else { continue };
            // Binder that stands ready in a jar is not bought.
            if let Some((_, name)) = ready.as_ref().filter(|(of, _)| *of == material.id.as_str()) {
                needs.notes.push(format!("{}: {} of {} come from jar {name}.", pot.name, weighed(grams.value() * times), material.name));
                continue;
            }
            match (MilkKind::from_material(&material.id), material.id.as_str()) {
                (Some(_), id) if worked.mix.curdled => {
                    let id = ["skim-milk", "part-skim-milk", "whole-milk"].into_iter().find(|one| *one == id).unwrap_or("skim-milk");
                    *needs.curdled.entry(id).or_default() += grams.value() * times;
                }
                (_, "curd-drained" | "curd-pressed") => needs.casein += stays.value() * times,
                _ => needs.add(material, grams.value() * times),
            }
        }
        let told = worked.reading.lines.iter().filter_map(|line| line.material.first());
        if let Some(acid) = told.into_iter().find(|id| AcidSource::from_material(id).is_some_and(|acid| acid != AcidSource::Rennet)) {
            needs.acid.get_or_insert_with(|| acid.clone());
        }
        for left in &worked.mix.left_out {
            needs.notes.push(format!("{}: {} stands in no line: {}.", pot.name, left.name, left.why.trim_end_matches('.')));
        }
    }

    /// Curd begins with milk and with what curdles it.
    fn milk_needs<'a>(&'a self, needs: &mut Needs<'a>) {
        let constant = |key: &str| BinderBook::builtin().and_then(|book| book.constant(key)).map(|constant| constant.value);
        if needs.casein > 0.0
            && let (Ok(protein), Ok(casein), Ok(caught)) = (constant("protein.skim"), constant("casein_share"), constant("recovery"))
            && let Some(milk) =
                binder::milk_for_casein(Grams::new(needs.casein), protein, measure::Share::new(casein), measure::Share::new(caught))
        {
            *needs.curdled.entry("skim-milk").or_default() += milk.value();
            needs.notes.push(format!(
                "The curd is made from skim milk: {}\u{a0}% protein, {} of it casein, {} of that caught in the cloth.",
                plain(protein),
                show::percent(casein),
                show::percent(caught)
            ));
        }
        let acid = needs.acid.clone().unwrap_or_else(|| MaterialId::new("vinegar"));
        let mut any = false;
        for (id, grams) in std::mem::take(&mut needs.curdled) {
            let id = MaterialId::new(id);
            let (Some(milk), Some(kind), Some(source)) =
                (self.jars.material(&id), MilkKind::from_material(&id), AcidSource::from_material(&acid))
            else {
                continue;
            };
            needs.add(milk, grams);
            any = true;
            let request = MilkRequest {
                milk: MilkAmount::Mass(Grams::new(grams)),
                kind,
                heated_before: false,
                warmth: None,
                acid: AcidAtHand { source, amount: None, strength: None },
                washes: 0,
                wash: Millilitres::ZERO,
                state: CurdState::Drained,
                base: None,
                others: Vec::new(),
                water: Millilitres::ZERO,
            };
            let batch = milk_inputs(&request).and_then(|inputs| curd(&request, &inputs, &|input| input.best));
            if let (Ok(batch), Some(material)) = (batch, self.jars.material(&acid)) {
                needs.add(material, batch.acid_poured.value());
            }
        }
        if any && needs.acid.is_none() {
            needs.notes.push("What curdles the milk is not told; white vinegar of the usual strength was taken.".into());
        }
    }

    /// Cautions of all that goes in, each once, the grave ones first.
    fn before_buying(&self, pots: &[PotNeed<'_>]) -> Vec<CautionView> {
        let mut out: Vec<CautionView> = Vec::new();
        for caution in pots.iter().filter_map(|pot| pot.worked).flat_map(|worked| self.mind(worked)) {
            if !out.iter().any(|known| known.text == caution.text) {
                out.push(caution);
            }
        }
        out.sort_by_key(|caution| !caution.grave);
        out
    }
}

/// What the shelf says of one stuff.
struct Shelf {
    stock: Tenths,
    packs: Vec<Pack>,
    /// What the prices are called.
    money: String,
    /// Whether the pack is the usual one of the shops, not one of the painter's jars.
    usual: bool,
    /// What is odd about its jars.
    notes: Vec<String>,
}

impl Shelf {
    fn of(state: &Notebook, material: &Material, today: Day) -> Self {
        let jars: Vec<&Jar> = state.jars.values().map(|kept| &kept.record).filter(|jar| jar.material == material.id.as_str()).collect();
        let mut notes = Vec::new();
        let mut stock = 0.0;
        for jar in &jars {
            match jar.stock_g {
                Some(grams) if jar.best_before.is_some_and(|best| best < today) && grams > 0.0 => {
                    notes.push(format!("{} is past its best-before day and was not counted", jar.name));
                }
                Some(grams) => stock += grams,
                None => notes.push(format!("what is left in {} is not written down, so it counts as empty", jar.name)),
            }
        }
        let mut moneys: Vec<&str> =
            jars.iter().filter(|jar| jar.price.is_some() && jar.pack_g.is_some()).map(|jar| jar.money.trim()).collect();
        moneys.sort_unstable();
        moneys.dedup();
        let comparable = moneys.len() <= 1;
        if !comparable {
            notes.push("its prices are in several moneys and can't be compared; the fewest packs were taken".into());
        }
        let mut packs: Vec<Pack> = Vec::new();
        for jar in &jars {
            let Some(grams) = jar.pack_g else { continue };
            let pack =
                Pack { holds: Tenths::held(Grams::new(grams)), price: if comparable { jar.price.and_then(Money::of) } else { None } };
            if !packs.contains(&pack) {
                packs.push(pack);
            }
        }
        let usual = packs.is_empty();
        if usual {
            let of = |name: &str| material.property(name).map(|found| found.value);
            let grams = of("pack_mass").or_else(|| Some(of("pack_volume")? * of("density").or_else(|| of("bulk_density"))?));
            packs.extend(grams.map(|grams| Pack { holds: Tenths::held(Grams::new(grams)), price: None }));
        }
        Self {
            stock: Tenths::held(Grams::new(stock)),
            packs,
            money: moneys.first().map_or_else(String::new, |money| (*money).to_owned()),
            usual,
            notes,
        }
    }

    /// The least that a gram of it costs.
    fn per_gram(&self) -> Option<f64> {
        let each = |pack: &Pack| Some(pack.price?.amount() / pack.holds.grams().value()).filter(|price| price.is_finite());
        self.packs.iter().filter_map(each).min_by(f64::total_cmp)
    }
}

fn line(material: &Material, grams: f64, shelf: &Shelf, found: &ToBuy) -> ShoppingLine {
    let mut notes = shelf.notes.clone();
    let mut out = ShoppingLine {
        material: material.id.as_str().to_owned(),
        name: material.name.clone(),
        need: need(material, grams),
        stock: if shelf.stock == Tenths::ZERO { String::new() } else { weighed(shelf.stock.grams().value()) },
        ..ShoppingLine::default()
    };
    match found {
        ToBuy::Nothing { left } => {
            out.buy = "nothing".into();
            out.over = weighed(left.grams().value());
        }
        ToBuy::Loose { missing } => {
            out.buy = weighed(missing.grams().value());
            notes.push("no pack of it is known; write one down on the shelf, with its price".into());
        }
        ToBuy::Packs(chosen) => {
            let packs = shelf.packs.iter().zip(&chosen.counts).filter(|(_, count)| **count > 0);
            let each: Vec<String> =
                packs.map(|(pack, count)| format!("{count} \u{d7} {}", pack_words(material, *pack, shelf.usual))).collect();
            out.buy = each.join(" and ");
            out.over = weighed(chosen.holds.less(chosen.missing).grams().value());
            match chosen.cost {
                Some(cost) => out.cost = paid(cost.amount(), &shelf.money),
                None if shelf.usual => notes.push("a usual pack of the shops; its price is not known".into()),
                None => notes.push("its price is not written down".into()),
            }
            if chosen.unpriced > 0 {
                notes.push("packs whose price is not written down were left aside".into());
            }
        }
    }
    out.note = show::capital(&notes.join("; "));
    out
}

/// Liquids in millilitres as well, as shops sell them.
fn need(material: &Material, grams: f64) -> String {
    match (material.kind, material.property("density")) {
        (Kind::Milk | Kind::Acid | Kind::Liquid, Some(density)) if density.value > 0.0 => {
            format!("{} ({}\u{a0}ml)", weighed(grams), number(grams / density.value, 0))
        }
        _ => weighed(grams),
    }
}

fn pack_words(material: &Material, pack: Pack, usual: bool) -> String {
    match material.property("pack_volume") {
        Some(volume) if usual && material.property("pack_mass").is_none() => format!("{}\u{a0}ml", plain(volume.value)),
        _ => weighed(pack.holds.grams().value()),
    }
}

/// What the stuff costs that goes onto the boards.
fn per_board(used: &BTreeMap<String, f64>, unpriced: &[&str], sharing: Sharing) -> String {
    if used.is_empty() || sharing.boards == 0 {
        return String::new();
    }
    let boards = sharing.boards as f64;
    let each: Vec<String> = used
        .iter()
        .map(|(money, sum)| {
            let board = paid(sum / boards, money);
            match sharing.face.map(SquareMetres::value).filter(|face| *face > 0.0) {
                Some(face) => format!("{board} a board, {} a square metre", paid(sum / face, money)),
                None => format!("{board} a board"),
            }
        })
        .collect();
    let without = if unpriced.is_empty() { String::new() } else { format!(", without {}, whose price is not known", unpriced.join(", ")) };
    format!("What goes onto the boards costs {}{without}.", each.join(" and "))
}

fn said(view: &ShoppingView) -> String {
    let buy: Vec<String> =
        view.lines.iter().filter(|line| line.buy != "nothing").map(|line| format!("{} of {}", line.buy, line.name)).collect();
    match (buy.is_empty(), view.lines.is_empty()) {
        (_, true) => "What to buy can't be told yet.".into(),
        (true, false) => "Nothing to buy: all of it is on the shelf.".into(),
        (false, false) => {
            let sums = if view.sums.is_empty() { String::new() } else { format!(", {} together", view.sums.join(" and ")) };
            format!("Buy {}{sums}.", buy.join(", "))
        }
    }
}

#[cfg(test)]
mod tests;
