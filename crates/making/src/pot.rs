//! The pot: water that it lost, water that it wants, and what a coat from it should weigh.
//!
//! Everything here keeps the dry recipe: water comes and goes, solids do not.

use std::sync::OnceLock;

use measure::{Grams, GramsPerSquareMetre, Share, SquareMetres};

use crate::rows::{RowsError, rows};
use crate::{Minutes, Span};

/// Why a pot can't be reckoned.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PotError {
    /// It weighs more than what went in can weigh.
    #[error(
        "the pot weighs {by} g more than what was in it less what was laid; is the pot's own weight taken off alike each time, or was something put in that is not written down?"
    )]
    Heavier {
        /// Grams too many, whole.
        by: i64,
    },
    /// More is missing than water was in it.
    #[error(
        "{missing} g are missing, but only {water} g of water were in it: ground was spilt, or a coat or a weighing is not written down; weigh again before you add water"
    )]
    MoreThanWater {
        /// Grams missing, whole.
        missing: i64,
        /// Grams of water that were there, whole.
        water: i64,
    },
    /// A pot without mass.
    #[error("the pot is empty; weigh it with the ground in it and take the pot's own weight off")]
    Empty,
    /// A share of solids that no ground has.
    #[error("what dries and stays must lie between 1 and 99 hundredths of the pot, such as 55")]
    NoShare,
    /// A face without size.
    #[error("a board needs a size to say what a coat on it weighs, such as 20 x 25 cm")]
    NoArea,
    /// A coat that weighs nothing.
    #[error("the board weighs no more after the coat than before; are the two exchanged?")]
    NoCoat,
    /// A pot without width.
    #[error("say how wide the pot is inside, in centimetres, such as 18")]
    NoWidth,
}

/// A pot's weighings, without the vessel, from one moment to another.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PotSeen {
    /// At the beginning.
    pub before: Grams,
    /// Water that was put in since.
    pub added: Grams,
    /// Ground that was laid on boards since.
    pub laid: Grams,
    /// Now.
    pub now: Grams,
}

/// Water lost: what the pot was, with what was put in, less what was laid, less what it is.
///
/// Ground that stays in the brush counts as lost water here, unless the pot is weighed with its brush in it each time.
/// A little below zero, within `scale`, is none.
///
/// # Errors
/// The pot is heavier than it can be.
///
/// ```
/// use making::{PotSeen, water_lost};
/// use measure::Grams;
/// // 600 g at first, 380 g laid, 204 g left: 600 - 380 - 204 = 16 g went into the air.
/// let seen = PotSeen { before: Grams::new(600.0), laid: Grams::new(380.0), now: Grams::new(204.0), ..PotSeen::default() };
/// assert!((water_lost(&seen, Grams::new(1.0))?.value() - 16.0).abs() < 1e-9);
/// # Ok::<(), making::PotError>(())
/// ```
pub fn water_lost(seen: &PotSeen, scale: Grams) -> Result<Grams, PotError> {
    let missing = seen.before + seen.added - seen.laid - seen.now;
    if !missing.value().is_finite() || seen.before.value() <= 0.0 {
        return Err(PotError::Empty);
    }
    if missing.value() < -scale.value() {
        return Err(PotError::Heavier { by: whole(missing * -1.0) });
    }
    Ok(Grams::new(missing.value().max(0.0)))
}

/// What a pot weighs, and how much of it dries and stays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotMix {
    /// Powder, dry binder, salts.
    pub solids: Grams,
    /// All.
    pub total: Grams,
}

impl PotMix {
    /// A pot of this mass with this share of solids.
    ///
    /// # Errors
    /// An empty pot; a share that no ground has.
    pub fn of(total: Grams, share: Share) -> Result<Self, PotError> {
        if !total.value().is_finite() || total.value() <= 0.0 {
            return Err(PotError::Empty);
        }
        Ok(Self { solids: total * sound(share)?.value(), total })
    }

    /// The pot after water went and ground was laid; what was put in counts as put in at the beginning.
    ///
    /// Each gram laid took its share of solids along, so it matters whether the water had gone by then. Nobody knows; both ends can
    /// be asked for, and the truth lies between them.
    ///
    /// # Errors
    /// As [`water_lost`]; more is missing than there was water.
    pub fn after(&self, seen: &PotSeen, gone: Gone, scale: Grams) -> Result<Self, PotError> {
        let lost = water_lost(seen, scale)?;
        let full = self.with(seen.added);
        if lost > full.water() {
            return Err(PotError::MoreThanWater { missing: whole(lost), water: whole(full.water()) });
        }
        if seen.now.value() <= 0.0 {
            return Err(PotError::Empty);
        }
        let kept = match gone {
            Gone::BeforeTheCoats => seen.now / (seen.now + seen.laid),
            Gone::AfterTheCoats => 1.0 - seen.laid / full.total,
        };
        let left = self.solids * kept.clamp(0.0, 1.0);
        Ok(Self { solids: Grams::new(left.value().min(seen.now.value())), total: seen.now })
    }

    /// Water and what else leaves.
    pub fn water(&self) -> Grams {
        self.total - self.solids
    }

    /// What dries and stays, as a share.
    pub fn share(&self) -> Share {
        Share::new(self.solids / self.total)
    }

    /// The same pot with more water.
    #[must_use]
    pub fn with(&self, water: Grams) -> Self {
        Self { total: self.total + water, ..*self }
    }

    /// Water for a pot in which this share dries and stays: solids / wished share - all. Powder and binder stay as they are.
    ///
    /// # Errors
    /// A share that no ground has.
    ///
    /// ```
    /// use making::{Correction, PotMix};
    /// use measure::{Grams, Share};
    /// // 100 g of 12 % size down to 9 %: 12 / 0.09 - 100 = 33.3 g of water.
    /// let size = PotMix::of(Grams::new(100.0), Share::new(0.12))?;
    /// let Correction::Add { water, .. } = size.to(Share::new(0.09))? else { panic!("it is too thick") };
    /// assert!((water.value() - 33.333).abs() < 0.001);
    /// # Ok::<(), making::PotError>(())
    /// ```
    pub fn to(&self, wished: Share) -> Result<Correction, PotError> {
        let wished = sound(wished)?;
        let water = self.solids / wished.value() - self.total;
        // Half a gram is nothing on a kitchen scale.
        if water.value().abs() < 0.5 {
            return Ok(Correction::Nothing);
        }
        if water.value() > 0.0 {
            return Ok(Correction::Add { water, after: self.with(water).share() });
        }
        // x grams of dry mix: (solids + x) / (all + x) = wished.
        let dry = (self.total * wished.value() - self.solids) / (1.0 - wished.value());
        Ok(Correction::TooThin { away: water * -1.0, dry })
    }

    /// A share of the water that is in it, put in once more: 0.1 for "a tenth more water".
    ///
    /// # Errors
    /// A share of nothing or below.
    pub fn more_water(&self, part: Share) -> Result<Correction, PotError> {
        let water = self.water() * part.value();
        if !water.value().is_finite() || water.value() <= 0.0 {
            return Err(PotError::NoShare);
        }
        Ok(Correction::Add { water, after: self.with(water).share() })
    }
}

/// When the water went, seen from the coats that were laid in the same stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gone {
    /// All of it before: the coats carried more solids away, and less is missing from what is left.
    BeforeTheCoats,
    /// All of it after: what is left lacks all of it.
    AfterTheCoats,
}

/// What brings a pot to the wished flow without another dry recipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Correction {
    /// It is right as it stands.
    Nothing,
    /// Put water in.
    Add {
        /// So much.
        water: Grams,
        /// What then dries and stays.
        after: Share,
    },
    /// It is too thin, and water can't be taken out: wait for it to go, or put in dry mix in the recipe's own proportion.
    TooThin {
        /// Water that would have to go into the air.
        away: Grams,
        /// Or powder and dry binder together that would have to come in.
        dry: Grams,
    },
}

/// What a coat weighs wet after thinning, so that it dries to the same: the share that stays went down, the wet coat goes up.
pub fn same_when_dry(coat: GramsPerSquareMetre, before: Share, after: Share) -> GramsPerSquareMetre {
    coat * (before / after)
}

fn open_area(width_cm: f64) -> Result<SquareMetres, PotError> {
    if !width_cm.is_finite() || !(1.0..=200.0).contains(&width_cm) {
        return Err(PotError::NoWidth);
    }
    Ok(SquareMetres::new(std::f64::consts::FRAC_PI_4 * (width_cm / 100.0).powi(2)))
}

/// Wet mass of a coat on a board: what it should be, and how far it may lie beside that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatTarget {
    /// On a square metre.
    pub per_area: GramsPerSquareMetre,
    /// How far beside, as a share of it.
    pub tolerance: Share,
    /// Above this it is thick, whatever the target.
    pub limit: GramsPerSquareMetre,
}

impl CoatTarget {
    /// Grams on a face of this size: least, wanted, most.
    ///
    /// # Errors
    /// A face without size.
    ///
    /// ```
    /// use measure::SquareMetres;
    /// // 20 x 25 cm = 0.05 m2; 0.05 x 200 g/m2 = 10 g, 15 hundredths beside: 8.5 to 11.5 g.
    /// let (least, wanted, most) = making::PotBook::builtin()?.coat_target().on(SquareMetres::new(0.05))?;
    /// assert!((least.value() - 8.5).abs() < 1e-9 && (wanted.value() - 10.0).abs() < 1e-9 && (most.value() - 11.5).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn on(&self, face: SquareMetres) -> Result<(Grams, Grams, Grams), PotError> {
        let wanted = self.per_area * sized(face)?;
        Ok((wanted * (1.0 - self.tolerance.value()), wanted, wanted * (1.0 + self.tolerance.value())))
    }

    /// How a coat lies beside its target, from the grams that were laid.
    ///
    /// # Errors
    /// A face without size; a coat that weighs nothing.
    pub fn judge(&self, laid: Grams, face: SquareMetres) -> Result<CoatWeight, PotError> {
        if !laid.value().is_finite() || laid.value() <= 0.0 {
            return Err(PotError::NoCoat);
        }
        let (least, wanted, most) = self.on(face)?;
        let per_area = GramsPerSquareMetre::new(laid.value() / face.value());
        let how = if per_area > self.limit || laid > most {
            CoatHow::Thick
        } else if laid < least {
            CoatHow::Thin
        } else {
            CoatHow::Right
        };
        Ok(CoatWeight { laid, per_area, beside: laid - wanted, how, over_limit: per_area > self.limit })
    }
}

/// A coat as weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatWeight {
    /// Grams on the board.
    pub laid: Grams,
    /// On a square metre.
    pub per_area: GramsPerSquareMetre,
    /// Grams more than wanted; negative if less.
    pub beside: Grams,
    /// Beside the target.
    pub how: CoatHow,
    /// So thick that it may crack as it dries.
    pub over_limit: bool,
}

/// Beside its target.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoatHow {
    /// Less than its tolerance allows.
    Thin,
    /// Within.
    Right,
    /// More.
    Thick,
}

fn sound(share: Share) -> Result<Share, PotError> {
    if (0.01..=0.99).contains(&share.value()) { Ok(share) } else { Err(PotError::NoShare) }
}

fn sized(face: SquareMetres) -> Result<SquareMetres, PotError> {
    if face.value().is_finite() && face.value() > 0.0 { Ok(face) } else { Err(PotError::NoArea) }
}

#[expect(clippy::cast_possible_truncation, reason = "held within what a pot can weigh")]
fn whole(grams: Grams) -> i64 {
    grams.value().clamp(-1e12, 1e12).round() as i64
}

/// A figure of the pot with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct PotFigure {
    /// Its name.
    pub key: String,
    /// In plain words.
    pub plain: String,
    /// Best value.
    pub value: f64,
    /// Likely least and most.
    pub range: Option<(f64, f64)>,
    /// Unit.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

const FILE: &str = "pot.csv";

/// The figures that pots are reckoned with.
#[derive(Debug, Clone, PartialEq)]
pub struct PotBook {
    /// Water that a cold open pot loses, g/(m2 h).
    pub evaporation: PotFigure,
    /// Wet mass of a brushed coat, g/m2.
    pub coat: PotFigure,
    /// How far a coat may lie beside its target, share.
    pub tolerance: PotFigure,
    /// A wet coat above this is thick, g/m2.
    pub coat_limit: PotFigure,
    /// What a kitchen scale may be wrong by, g.
    pub scale: PotFigure,
    /// Width of a wide dish, cm.
    pub wide_dish: PotFigure,
    /// Width of a usual pan, cm.
    pub pan: PotFigure,
}

impl PotBook {
    /// The figures that the program carries, read once.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    pub fn builtin() -> Result<&'static Self, RowsError> {
        static ONCE: OnceLock<Result<PotBook, RowsError>> = OnceLock::new();
        ONCE.get_or_init(|| Self::parse(include_str!("../data/pot.csv"))).as_ref().map_err(Clone::clone)
    }

    fn parse(text: &str) -> Result<Self, RowsError> {
        let mut all: Vec<PotFigure> = Vec::new();
        for (line, [key, plain, value, low, high, unit, source]) in
            rows(FILE, text, ["key", "plain", "value", "low", "high", "unit", "source"])?
        {
            let number = |text: &str| {
                let read: Option<f64> = text.parse().ok().filter(|value: &f64| value.is_finite() && *value > 0.0);
                read.ok_or_else(|| RowsError { file: FILE, line, what: format!("\u{201c}{text}\u{201d} is no number above zero") })
            };
            let range = if low.is_empty() && high.is_empty() { None } else { Some((number(&low)?, number(&high)?)) };
            all.push(PotFigure { value: number(&value)?, range, key, plain, unit, source });
        }
        let mut take = |key: &str| {
            let at = all.iter().position(|figure| figure.key == key);
            at.map(|at| all.swap_remove(at)).ok_or_else(|| RowsError { file: FILE, line: 0, what: format!("{key} is missing") })
        };
        Ok(Self {
            evaporation: take("evaporation")?,
            coat: take("coat")?,
            tolerance: take("tolerance")?,
            coat_limit: take("coat_limit")?,
            scale: take("scale")?,
            wide_dish: take("wide_dish")?,
            pan: take("pan")?,
        })
    }

    /// What a kitchen scale may be wrong by.
    pub fn scale_doubt(&self) -> Grams {
        Grams::new(self.scale.value)
    }

    /// A brushed coat as usual.
    pub fn coat_target(&self) -> CoatTarget {
        CoatTarget {
            per_area: GramsPerSquareMetre::new(self.coat.value),
            tolerance: Share::new(self.tolerance.value),
            limit: GramsPerSquareMetre::new(self.coat_limit.value),
        }
    }

    /// How long a cold open pot this wide takes to lose so much water by itself.
    ///
    /// # Errors
    /// No width.
    pub fn wait_open(&self, water: Grams, width_cm: f64) -> Result<Span, PotError> {
        let (low, high) = self.rates();
        let area = open_area(width_cm)?;
        let minutes = |rate: f64| Minutes::of_hours(water / (GramsPerSquareMetre::new(rate) * area));
        Ok(Span { low: minutes(high), usual: minutes(self.evaporation.value), high: minutes(low) })
    }

    /// What a cold open pot this wide loses in so long: least and most.
    ///
    /// # Errors
    /// No width.
    pub fn lost_in(&self, time: Minutes, width_cm: f64) -> Result<(Grams, Grams), PotError> {
        let (low, high) = self.rates();
        let (area, hours) = (open_area(width_cm)?, f64::from(time.count().max(0)) / 60.0);
        Ok((GramsPerSquareMetre::new(low) * area * hours, GramsPerSquareMetre::new(high) * area * hours))
    }

    fn rates(&self) -> (f64, f64) {
        self.evaporation.range.unwrap_or((self.evaporation.value, self.evaporation.value))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grams(value: f64) -> Grams {
        Grams::new(value)
    }

    fn near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-3, "{found} is not {wanted}");
    }

    const SCALE: Grams = Grams::new(1.0);

    /// U38 by hand: 606 g at first, 10 g of water put in, 360 g laid, 236 g left. 606 + 10 - 360 - 236 = 20 g.
    #[test]
    fn water_that_a_pot_lost() {
        let seen = PotSeen { before: grams(606.0), added: grams(10.0), laid: grams(360.0), now: grams(236.0) };
        near(water_lost(&seen, SCALE).unwrap().value(), 20.0);
        // Half a gram too heavy is the scale; 15 g is not: 606 + 10 - 360 = 256, and 271 - 256 = 15.
        near(water_lost(&PotSeen { now: grams(256.5), ..seen }, SCALE).unwrap().value(), 0.0);
        assert_eq!(water_lost(&PotSeen { now: grams(271.0), ..seen }, SCALE), Err(PotError::Heavier { by: 15 }));
        assert_eq!(water_lost(&PotSeen::default(), SCALE), Err(PotError::Empty));
    }

    /// U34 by hand, and a jar that every sizer knows: 100 g of 12 % size holds 12 g; 12 / 0.09 = 133.333, less 100 is 33.333 g.
    #[test]
    fn water_for_a_wished_flow() {
        let size = PotMix::of(grams(100.0), Share::new(0.12)).unwrap();
        let Correction::Add { water, after } = size.to(Share::new(0.09)).unwrap() else { panic!("too thick") };
        near(water.value(), 33.333);
        near(after.value(), 0.09);
        // 606 g with 356 g solids (40 casein, 16 borax, 300 chalk) to 55 %: 356 / 0.55 - 606 = 41.273 g.
        let pot = PotMix::of(grams(606.0), Share::new(356.0 / 606.0)).unwrap();
        let Correction::Add { water, .. } = pot.to(Share::new(0.55)).unwrap() else { panic!("too thick") };
        near(water.value(), 41.273);
        // A tenth of its 250 g of water more is 25 g; 356 / 631 = 0.564184.
        let Correction::Add { water, after } = pot.more_water(Share::new(0.1)).unwrap() else { panic!("it adds") };
        near(water.value(), 25.0);
        near(after.value(), 0.564_184);
        assert_eq!(pot.to(Share::new(356.0 / 606.0)), Ok(Correction::Nothing));
        assert_eq!(pot.to(Share::new(0.0)), Err(PotError::NoShare));
    }

    /// Too thin, by hand: 606 g with 303 g solids wished at 60 %. Water away: 606 - 303 / 0.6 = 101 g.
    /// Dry mix in: (303 + x) / (606 + x) = 0.6 gives 0.4 x = 363.6 - 303, x = 151.5 g.
    #[test]
    fn water_cannot_be_taken_out() {
        let pot = PotMix::of(grams(606.0), Share::new(0.5)).unwrap();
        let Correction::TooThin { away, dry } = pot.to(Share::new(0.6)).unwrap() else { panic!("too thin") };
        near(away.value(), 101.0);
        near(dry.value(), 151.5);
    }

    /// By hand: 600 g at 60 % (360 g solids), 380 g are laid, 200 g are left, so 20 g of water went.
    /// Before the coats: 360 / 580 stays, 200 g hold 124.138 g, and to stand at 60 % again they want 6.897 g of water.
    /// After the coats: 220 g were left with 132 g of solids, and the 200 g want all 20 g back.
    #[test]
    fn a_pot_that_lost_water_is_thicker() {
        let pot = PotMix::of(grams(600.0), Share::new(0.6)).unwrap();
        let seen = PotSeen { before: grams(600.0), laid: grams(380.0), now: grams(200.0), ..PotSeen::default() };
        for (gone, solids, back) in [(Gone::BeforeTheCoats, 124.138, 6.897), (Gone::AfterTheCoats, 132.0, 20.0)] {
            let left = pot.after(&seen, gone, SCALE).unwrap();
            near(left.solids.value(), solids);
            let Correction::Add { water, .. } = left.to(Share::new(0.6)).unwrap() else { panic!("it is thicker") };
            near(water.value(), back);
        }
        // 300 g gone without a board are more than its 240 g of water.
        let spilt = PotSeen { laid: Grams::ZERO, now: grams(300.0), ..seen };
        assert_eq!(pot.after(&spilt, Gone::BeforeTheCoats, SCALE), Err(PotError::MoreThanWater { missing: 300, water: 240 }));
    }

    /// Evaporation by hand: a pot 18 cm wide is open on 0.7854 x 0.18^2 = 0.025447 m2. At 40 to 60 g/m2 in an hour it loses 1.018 to
    /// 1.527 g; 10 g take 6.55 to 9.82 h, 7.86 h at 50 g (rounded up to minutes: 393, 472, 590).
    #[test]
    fn an_open_pot_loses_little() {
        let book = PotBook::builtin().unwrap();
        let (low, high) = book.lost_in(Minutes::new(60), 18.0).unwrap();
        near(low.value(), 1.0179);
        near(high.value(), 1.5268);
        let wait = book.wait_open(grams(10.0), 18.0).unwrap();
        assert_eq!((wait.low.count(), wait.usual.count(), wait.high.count()), (393, 472, 590));
        assert_eq!(book.wait_open(grams(10.0), 0.0), Err(PotError::NoWidth));
    }

    /// U42 and U40 by hand. A board of 20 x 25 cm is 0.05 m2; twelve are 0.6 m2. At 200 g/m2 a coat on one is 10 g (8.5 to 11.5), and
    /// three coats on twelve are 360 g. (321.0 - 312.4) / 0.05 = 172 g/m2.
    #[test]
    fn what_a_coat_should_weigh() {
        let target = PotBook::builtin().unwrap().coat_target();
        let face = SquareMetres::new(0.2 * 0.25);
        let (least, wanted, most) = target.on(face).unwrap();
        near(least.value(), 8.5);
        near(most.value(), 11.5);
        near((wanted * 36.0).value(), 360.0);
        let coat = target.judge(grams(8.6), face).unwrap();
        near(coat.per_area.value(), 172.0);
        assert_eq!(coat.how, CoatHow::Right);
        assert_eq!(target.judge(grams(6.6), face).unwrap().how, CoatHow::Thin);
        let thick = target.judge(grams(16.0), face).unwrap();
        // 16 / 0.05 = 320 g/m2.
        assert!(thick.how == CoatHow::Thick && thick.over_limit);
        near(thick.beside.value(), 6.0);
        assert_eq!(target.judge(grams(0.0), face), Err(PotError::NoCoat));
        assert_eq!(target.on(SquareMetres::ZERO), Err(PotError::NoArea));
    }

    /// Wet film = dry film x (1 + thinner) / solids (the coatings rule that 60 um at 40 % is 150 um wet, with a quarter more thinner
    /// 187.5): thinning by a quarter wants a quarter more wet coat.
    #[test]
    fn thinned_ground_is_laid_thicker_wet() {
        let coat = same_when_dry(GramsPerSquareMetre::new(150.0), Share::new(0.40), Share::new(0.40 / 1.25));
        near(coat.value(), 187.5);
    }

    proptest::proptest! {
        /// Whatever is put in or taken out, the solids stay, and the pot then has the wished share.
        #[test]
        fn the_dry_recipe_is_kept(total in 10.0..5000.0f64, share in 0.05..0.9f64, wished in 0.05..0.9f64) {
            let pot = PotMix::of(grams(total), Share::new(share)).unwrap();
            match pot.to(Share::new(wished)).unwrap() {
                Correction::Add { water, after } => {
                    proptest::prop_assert!((pot.with(water).solids - pot.solids).value().abs() < 1e-9);
                    proptest::prop_assert!((after.value() - wished).abs() < 1e-9);
                }
                Correction::TooThin { away, dry } => {
                    proptest::prop_assert!(away.value() > 0.0 && away < pot.water() + Grams::new(1e-9));
                    let (solids, all) = (pot.solids + dry, pot.total + dry);
                    proptest::prop_assert!((solids / all - wished).abs() < 1e-9);
                }
                Correction::Nothing => proptest::prop_assert!((pot.solids / pot.total - wished).abs() < 0.06),
            }
        }

        #[test]
        fn nothing_typed_makes_it_fall(a in proptest::num::f64::ANY, b in proptest::num::f64::ANY, c in proptest::num::f64::ANY) {
            let seen = PotSeen { before: grams(a), added: grams(b), laid: grams(c), now: grams(b) };
            let _ = water_lost(&seen, SCALE);
            let _ = PotMix::of(grams(a), Share::new(b)).map(|pot| (pot.after(&seen, Gone::AfterTheCoats, SCALE), pot.to(Share::new(c)), pot.more_water(Share::new(c))));
            let book = PotBook::builtin().unwrap();
            let _ = (book.wait_open(grams(a), b), book.lost_in(Minutes::new(5), c));
            let _ = book.coat_target().judge(grams(a), SquareMetres::new(c));
        }
    }
}
