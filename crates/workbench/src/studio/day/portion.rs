//! How large a pot is made for what is to be laid, and its recipe in grams for so much.

use ground::Mix;
use making::PotAsked;
use materials::{Material, MaterialId, Reading, Strength, Wishes};
use measure::Grams;
use show::weighed;

use super::asked::PotInfo;
use crate::Workbench;
use crate::verdict::Worked;

/// How far a recipe that was written out in three digits may lie beside what it was written from, as a share.
const ROUNDED: f64 = 0.01;

/// What one coat, or all of them, take on all boards of a pot, without loss; none where the size of a board is not known.
pub(crate) fn taken(asked: &PotAsked, info: &PotInfo, coat: Option<u8>) -> Option<Grams> {
    let mut sum = 0.0;
    for board in &asked.boards {
        let (_, aims) = info.boards.iter().find(|(known, _)| *known == board.number)?;
        for (aim, each) in aims.iter().take(board.coats.len()).zip(1_u8..) {
            if coat.is_none_or(|coat| coat == each) {
                sum += (*aim)?;
            }
        }
    }
    Some(Grams::new(sum))
}

impl Workbench {
    /// Wet mass of the pot that is made to lay so much: what stays in brush and pot beside it; and more where its smallest ingredient could
    /// else not be weighed, though never more than the recipe as told for that alone.
    pub(crate) fn pot_wet(&self, worked: Option<&Worked>, laid: Grams) -> Grams {
        let needed = laid * (1.0 + self.laying.loss.value());
        let Some((worked, told)) = worked.and_then(|worked| Some((worked, told_mass(worked)?))) else { return needed };
        let grams = worked.mix.grams(&worked.mix.best());
        let smallest = grams.into_iter().map(|(_, grams)| grams.value()).filter(|grams| *grams > 0.0).min_by(f64::total_cmp);
        let least = smallest.map_or(0.0, |smallest| (self.laying.least.value() / smallest).min(1.0) * told.value());
        Grams::new(needed.value().max(least))
    }

    /// How many times the recipe as told a pot of that wet mass is; none where water is told by eye or nothing is known,
    /// and for a primer from the shop, of which there is nothing to scale.
    pub(crate) fn pot_times(&self, worked: &Worked, wet: Grams) -> Option<f64> {
        if self.ready_made(worked).is_some() {
            return None;
        }
        let times = wet / told_mass(worked)?;
        (times.is_finite() && times > 0.0).then_some(times)
    }

    /// The recipe for a pot of that wet mass as text that is read back to the same stuffs and grams, such as "3.96 g hide glue, 55.5 g water,
    /// 84.6 g natural chalk". None where it can't be scaled, or can't be written in words that are read back so.
    pub(crate) fn pot_text(&self, worked: &Worked, wet: Grams) -> Option<String> {
        let amount = |grams: Grams| weighed(grams.value()).replace('\u{a0}', " ");
        if let Some(primer) = self.ready_made(worked) {
            let text = format!("{} {}", amount(wet), primer.name);
            return (stuffs(&self.read_plain(&text)) == stuffs(&worked.reading)).then_some(text);
        }
        let scaled = self.scaled(worked, wet)?;
        let parts = worked.reading.lines.iter().enumerate().filter_map(|(at, line)| {
            let material = line.material.first().and_then(|id| self.jars.material(id))?;
            let Some((_, material, grams)) = scaled.iter().find(|(of, ..)| *of == at) else { return Some(material.name.clone()) };
            let curd = if worked.reading.drained.contains(&at) { "the curd of " } else { "" };
            let dry = if line.said_dry { "dry " } else { "" };
            let strong = match &line.strength {
                Some(Strength::Percent(strong)) => format!("{} % ", show::plain(strong.middle())),
                _ => String::new(),
            };
            Some(format!("{curd}{} {strong}{dry}{}", amount(*grams), material.name))
        });
        let text = parts.collect::<Vec<_>>().join(", ");
        let again = self.read_plain(&text);
        // The grams are those of the painter's own measures; what stays of each gram is compared by the printed ones on both sides.
        let poured = |mix: &Mix| mix.grams(&mix.best());
        let kept = |mix: &Mix| mix.dried(&mix.best()).into_iter().map(|(_, poured, stays)| stays / poured).collect::<Vec<_>>();
        let plain = |reading: &Reading| Mix::of(self.jars, &self.units, reading);
        let (back, first) = (plain(&again), plain(&worked.reading));
        let near = |one: f64, other: f64| (one - other).abs() <= ROUNDED * other.abs();
        let same = poured(&back).len() == scaled.len()
            && poured(&back).iter().zip(&scaled).all(|((at, read), (of, _, meant))| at == of && near(read.value(), meant.value()))
            && kept(&back).iter().zip(kept(&first)).all(|(one, other)| near(*one, other));
        (same && stuffs(&again) == stuffs(&worked.reading)).then_some(text)
    }

    /// Each line of a pot of that wet mass; none where it can't be scaled.
    pub(crate) fn scaled<'a>(&'a self, worked: &Worked, wet: Grams) -> Option<Vec<(usize, &'a Material, Grams)>> {
        let times = self.pot_times(worked, wet)?;
        let grams = worked.mix.grams(&worked.mix.best()).into_iter();
        let lines = grams.filter_map(|(at, grams)| {
            let id = worked.reading.lines.get(at)?.material.first()?;
            Some((at, self.jars.material(id)?, grams * times))
        });
        Some(lines.collect())
    }

    fn read_plain(&self, text: &str) -> Reading {
        materials::read(self.jars, &self.units, text, &Wishes::new())
    }
}

/// What the recipe weighs as told; none where that is not known.
fn told_mass(worked: &Worked) -> Option<Grams> {
    let mass = worked.mix.wet_mass(&worked.mix.best());
    (!worked.mix.water_by_eye && mass.value() > 0.0).then_some(mass)
}

fn stuffs(reading: &Reading) -> Vec<&MaterialId> {
    reading.lines.iter().filter_map(|line| line.material.first()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::VerdictRequest;

    fn worked(bench: &Workbench, told: &str) -> Worked {
        bench.work(&VerdictRequest { told: told.into(), ..VerdictRequest::default() }).unwrap()
    }

    #[test]
    fn a_pot_is_made_for_what_is_laid_and_for_the_scale() {
        let bench = Workbench::open().unwrap();
        // 545 g told, its glue 15 g. Laid 120 g and a fifth beside: 144 g. For 0.5 g of glue 18.17 g are enough, so 6 g laid make that pot.
        let glue = worked(&bench, "15 g hide glue, 210 g water, 320 g whiting");
        assert!((bench.pot_wet(Some(&glue), Grams::new(120.0)).value() - 144.0).abs() < 1e-9);
        assert!((bench.pot_wet(Some(&glue), Grams::new(6.0)).value() - 545.0 / 30.0).abs() < 1e-6);
        // A recipe whose smallest thing is less than that as told is made as told, not larger.
        let small = worked(&bench, "0.3 g hide glue, 4 g water, 6 g whiting");
        assert!((bench.pot_wet(Some(&small), Grams::new(1.0)).value() - 10.3).abs() < 1e-6);
        assert!((bench.pot_wet(None, Grams::new(10.0)).value() - 12.0).abs() < 1e-9);
    }

    #[test]
    fn a_pot_is_told_in_words_that_are_read_back() {
        let bench = Workbench::open().unwrap();
        let text = |told: &str, wet: f64| bench.pot_text(&worked(&bench, told), Grams::new(wet));
        // 144 of 545: 15 x 0.26422 = 3.963, 210 x = 55.49, 320 x = 84.55, by hand.
        let told = "15 g hide glue, 210 g water, 320 g whiting";
        assert_eq!(text(told, 144.0).unwrap(), "3.96 g hide glue, 55.5 g water, 84.6 g natural chalk");
        for told in [
            "100 g curd pressed, 3 g borax, 50 g water, 150 g marble dust",
            "100 g pressed curd, 3 g baking soda, 50 g water, 150 g marble dust",
            "1 l skim milk, curdled with vinegar and drained, 3 g borax, 60 g water, 150 g chalk",
            "300 g 10 % hide glue, 300 g chalk",
            "100 g quark, 10 g slaked lime, 100 g chalk",
        ] {
            assert!(text(told, 60.0).is_some(), "{told}");
        }
        assert_eq!(text("200 g acrylic ground", 24.0).as_deref(), Some("24 g acrylic ground"));
        assert_eq!(text("15 g hide glue, water until it is like cream, 320 g whiting", 60.0), None);
    }
}
