//! From wet to matt to dry: plain physics, no doubt of its own.

use std::f64::consts::PI;

use measure::{GramsPerMillilitre, GramsPerSquareMetre, GramsPerSquareMetreHour, Hours, Micrometres, Millimetres, Share};

/// Density of water at 20 C, kg/m3 (Kell 1975 gives 998.2).
const WATER: f64 = 998.2;
const HOUR: f64 = 3600.0;
const DAY: f64 = 86_400.0;

/// A coat as laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetFilm {
    thickness: f64,
    solids: f64,
    packing: f64,
}

/// A coat that can't be reckoned.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WetFilmError {
    /// More or less than a coat.
    #[error("a coat of {grams} g/m2 is outside 5 to 3000 g/m2; check the weight and the size of the board")]
    Laid {
        /// What was given.
        grams: f64,
    },
    /// No paste of powder in water.
    #[error("a coat of {density} g/ml is outside 0.8 to 4 g/ml; check what the pot weighs and holds")]
    Density {
        /// What was given.
        density: f64,
    },
    /// No solids, or no water.
    #[error("a coat of which {share} is solid by volume can't be reckoned; between 0.02 and 0.7 it can")]
    Solids {
        /// What was given.
        share: f64,
    },
    /// Grains that pack looser than they float, or closer than they can.
    #[error("a packing of {share} is outside 0.3 to 0.8; leave it open if it isn't known")]
    Packing {
        /// What was given.
        share: f64,
    },
}

impl WetFilm {
    /// A coat by what was laid on a square metre, the density of the wet ground, the share of its volume that stays when it is dry, and
    /// the share of solids at which grains touch.
    ///
    /// # Errors
    /// Outside 5 to 3,000 g/m2, 0.8 to 4 g/ml, 0.02 to 0.7, 0.3 to 0.8.
    pub fn new(laid: GramsPerSquareMetre, density: GramsPerMillilitre, solids: Share, packing: Share) -> Result<Self, WetFilmError> {
        if !(5.0..=3000.0).contains(&laid.value()) {
            return Err(WetFilmError::Laid { grams: laid.value() });
        }
        if !(0.8..=4.0).contains(&density.value()) {
            return Err(WetFilmError::Density { density: density.value() });
        }
        if !(0.02..=0.7).contains(&solids.value()) {
            return Err(WetFilmError::Solids { share: solids.value() });
        }
        if !(0.3..=0.8).contains(&packing.value()) {
            return Err(WetFilmError::Packing { share: packing.value() });
        }
        Ok(Self::of(laid.value() / density.value(), solids.value(), packing.value()))
    }

    /// The same from its thickness in micrometres; no range is checked.
    pub(crate) fn of(thickness: f64, solids: f64, packing: f64) -> Self {
        Self { thickness, solids, packing }
    }

    /// How thick it is while wet.
    pub fn thickness(&self) -> Micrometres {
        Micrometres::new(self.thickness)
    }

    fn mass(&self, share: f64) -> GramsPerSquareMetre {
        GramsPerSquareMetre::new(WATER * self.thickness * 1e-3 * share.max(0.0))
    }

    /// All its water.
    pub fn water(&self) -> GramsPerSquareMetre {
        self.mass(1.0 - self.solids)
    }

    /// Water that still fills the gaps when grains touch.
    pub fn water_when_matt(&self) -> GramsPerSquareMetre {
        self.mass((self.solids * (1.0 - self.packing) / self.packing).min(1.0 - self.solids))
    }

    /// Water that must go until it turns matt; none if it is laid so thick that grains touch at once.
    pub fn water_until_matt(&self) -> GramsPerSquareMetre {
        self.water() - self.water_when_matt()
    }
}

/// How fast a porous face drinks: mass = coefficient times the root of time, kg/(m2 s^0.5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uptake(f64);

impl Uptake {
    /// A face that drinks nothing.
    pub const NONE: Self = Self(0.0);

    /// From its coefficient in kg/(m2 s^0.5): bare wood across the grain about 0.002 to 0.01 (from memory).
    pub const fn new(coefficient: f64) -> Self {
        Self(coefficient)
    }

    /// Water drunk in this time, as long as the face finds any.
    ///
    /// ```
    /// use measure::Hours;
    /// let drunk = support::Uptake::new(0.004).drunk(Hours::new(5.0 / 60.0));
    /// assert!((drunk.value() - 69.3).abs() < 0.5);
    /// ```
    pub fn drunk(self, time: Hours) -> GramsPerSquareMetre {
        GramsPerSquareMetre::new(1000.0 * self.0 * (time.value().max(0.0) * HOUR).sqrt())
    }
}

/// When a coat turns matt: grains touch and the shine goes. Water leaves into the air at this rate and into the board by its uptake.
/// `None` in air that takes no water up and on a face that drinks none.
///
/// ```
/// use measure::{GramsPerMillilitre, GramsPerSquareMetre, GramsPerSquareMetreHour, Share};
/// use support::{Uptake, WetFilm, until_matt};
/// // 200 um at 1.6 g/ml are 320 g/m2.
/// let coat = WetFilm::new(GramsPerSquareMetre::new(320.0), GramsPerMillilitre::new(1.6), Share::new(0.35), Share::new(0.55))?;
/// let matt = until_matt(&coat, GramsPerSquareMetreHour::new(43.2), Uptake::NONE).unwrap();
/// assert!((matt.value() - 1.68).abs() < 0.01);
/// # Ok::<(), support::WetFilmError>(())
/// ```
pub fn until_matt(film: &WetFilm, rate: GramsPerSquareMetreHour, uptake: Uptake) -> Option<Hours> {
    gone_after(film.water_until_matt(), rate, uptake)
}

/// The least time until a coat is dry: all its water at the pace of the wet face. Real coats take longer.
pub fn all_water(film: &WetFilm, rate: GramsPerSquareMetreHour, uptake: Uptake) -> Option<Hours> {
    gone_after(film.water(), rate, uptake)
}

/// `rate t + uptake sqrt(t) = water`, solved for the root of time.
fn gone_after(water: GramsPerSquareMetre, rate: GramsPerSquareMetreHour, uptake: Uptake) -> Option<Hours> {
    let (water, rate, drinks) = (water.value(), rate.value().max(0.0), 1000.0 * uptake.0 * HOUR.sqrt());
    if water <= 0.0 {
        return Some(Hours::ZERO);
    }
    // The form without a difference of near numbers; it also holds for a rate of 0.
    let root = 2.0 * water / (drinks + (drinks * drinks + 4.0 * rate * water).sqrt());
    root.is_finite().then(|| Hours::new(root * root))
}

/// How long the water behind the falling rate takes to sink to 1/e (37 %), once a coat is matt: what is left over the rate of the wet face.
/// `None` in air that takes no water up.
pub fn falling(film: &WetFilm, rate: GramsPerSquareMetreHour) -> Option<Hours> {
    (rate.value() > 0.0).then(|| film.water_when_matt() / rate)
}

/// Share of the water present at first that is gone `after` a time, when it leaves the slower the less is left.
pub fn share_gone(after: Hours, falling: Hours) -> Share {
    Share::new(-(-(after.value().max(0.0)) / falling.value()).exp_m1())
}

/// Faces of a board through which its water can leave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OpenFaces {
    /// One: the back is sealed or lies on something tight.
    One,
    /// Both.
    Both,
}

/// How fast water wanders through a board, m2/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wandering(f64);

impl Wandering {
    /// From its coefficient in m2/s: wood across the grain about 0.3e-10 to 3e-10 (from memory).
    pub const fn new(coefficient: f64) -> Self {
        Self(coefficient)
    }
}

/// Time in which a board loses nine tenths of the water that it drank: the first term of Fick's law in a slab (Crank, The Mathematics of
/// Diffusion, 1975, ch. 4), t90 = 4 L^2 / (pi^2 D) ln(8 / (0.1 pi^2)), L the way to an open face.
///
/// ```
/// use measure::Millimetres;
/// use support::{OpenFaces, Wandering, nine_tenths};
/// let days = nine_tenths(Millimetres::new(6.0), OpenFaces::One, Wandering::new(1e-10)).value() / 24.0;
/// assert!((days - 3.53).abs() < 0.02);
/// ```
pub fn nine_tenths(thickness: Millimetres, faces: OpenFaces, wandering: Wandering) -> Hours {
    slowest(thickness, faces, wandering) * (8.0 / (0.1 * PI * PI)).ln()
}

/// Time in which the slowest part of the water in a board sinks to 1/e.
pub(crate) fn slowest(thickness: Millimetres, faces: OpenFaces, wandering: Wandering) -> Hours {
    let way = match faces {
        OpenFaces::One => thickness.value(),
        OpenFaces::Both => thickness.value() / 2.0,
    } / 1000.0;
    Hours::new(4.0 * way * way / (PI * PI * wandering.0) / HOUR)
}

/// Hours of a day.
pub(crate) const HOURS_OF_DAY: f64 = DAY / HOUR;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn film(thickness: f64) -> WetFilm {
        WetFilm::new(GramsPerSquareMetre::new(thickness * 1.6), GramsPerMillilitre::new(1.6), Share::new(0.35), Share::new(0.55)).unwrap()
    }

    #[test]
    fn matt_after() {
        // Solids 0.35, touching at 0.55: (0.65 - 0.35 x 0.45 / 0.55) x 998.2 = 0.36364 x 998.2 = 362.98 g/m2 a millimetre. By hand: 200 um
        // hold 72.6 g/m2, over 43.2 g/(m2 h) 1.68 h. The table: um, hours at 31.0, 43.2 and 72.3 g/(m2 h), all water at 43.2.
        for (thickness, still, room, airy, all) in [
            (100.0, 1.17, 0.84, 0.50, 1.5),
            (150.0, 1.76, 1.26, 0.75, 2.3),
            (200.0, 2.34, 1.68, 1.00, 3.0),
            (300.0, 3.51, 2.52, 1.51, 4.5),
            (500.0, 5.85, 4.20, 2.51, 7.5),
        ] {
            let matt = |rate: f64| until_matt(&film(thickness), GramsPerSquareMetreHour::new(rate), Uptake::NONE).unwrap().value();
            assert!(
                (matt(31.0) - still).abs() < 0.01 && (matt(43.2) - room).abs() < 0.01 && (matt(72.3) - airy).abs() < 0.01,
                "{thickness}"
            );
            let water = all_water(&film(thickness), GramsPerSquareMetreHour::new(43.2), Uptake::NONE).unwrap().value();
            assert!((water - all).abs() <= 0.05, "{thickness}: {water}");
        }
        // 150 um x 0.65 x 998.2 = 97.3 g/m2 of water.
        assert!((film(150.0).water().value() - 97.3).abs() < 0.1);
    }

    #[test]
    fn a_thirsty_board() {
        // A sqrt(t) with 0.004: sqrt(60) = 7.746 -> 31.0; sqrt(300) = 17.32 -> 69.3; sqrt(1800) = 42.43 -> 169.7 g/m2.
        for (minutes, drunk) in [(1.0, 31.0), (5.0, 69.3), (30.0, 169.7)] {
            assert!((Uptake::new(0.004).drunk(Hours::new(minutes / 60.0)).value() - drunk).abs() < 0.5);
        }
        // 150 um need to lose 54.4 g/m2 until matt: at 0.004 and no air at all (54.4 / 4)^2 = 185 s.
        let matt = until_matt(&film(150.0), GramsPerSquareMetreHour::ZERO, Uptake::new(0.004)).unwrap();
        assert!((matt.value() * HOUR - 185.2).abs() < 0.5, "{matt:?}");
        assert_eq!(until_matt(&film(150.0), GramsPerSquareMetreHour::ZERO, Uptake::NONE), None);
    }

    #[test]
    fn the_falling_rate() {
        // 0.35 x 0.45 / 0.55 x 998.2 x 0.2 = 57.17 g/m2 are left in 200 um; over 43.2 g/(m2 h) 1.323 h.
        let tau = falling(&film(200.0), GramsPerSquareMetreHour::new(43.2)).unwrap();
        assert!((tau.value() - 1.323).abs() < 0.002, "{tau:?}");
        assert!((share_gone(tau, tau).value() - 0.632_12).abs() < 1e-4); // 1 - 1/e
        assert_eq!(falling(&film(200.0), GramsPerSquareMetreHour::ZERO), None);
    }

    #[test]
    fn water_leaves_the_board() {
        // mm, days by one face, by both; D = 1e-10 m2/s, worked from the first term of the series.
        for (thickness, one, both) in [(3.0, 0.88, 0.22), (6.0, 3.53, 0.88), (10.0, 9.8, 2.45), (18.0, 32.0, 8.0)] {
            for (faces, days) in [(OpenFaces::One, one), (OpenFaces::Both, both)] {
                let found = nine_tenths(Millimetres::new(thickness), faces, Wandering::new(1e-10)).value() / HOURS_OF_DAY;
                assert!((found / days - 1.0).abs() < 0.01, "{thickness} mm, {faces:?}: {found}");
            }
        }
        // The whole series at that time: the sum of 8 / ((2n+1) pi)^2 exp(-(2n+1)^2 t/tau) must leave a tenth.
        let ratio = (8.0 / (0.1 * PI * PI)).ln();
        let left: f64 = (0..20).map(|n| f64::from(2 * n + 1).powi(2)).map(|odd| 8.0 / (odd * PI * PI) * (-odd * ratio).exp()).sum();
        assert!((left - 0.1).abs() < 1e-6, "{left}");
    }

    #[test]
    fn no_coat_no_answer() {
        let ask = |laid: f64, density: f64, solids: f64, packing: f64| {
            WetFilm::new(GramsPerSquareMetre::new(laid), GramsPerMillilitre::new(density), Share::new(solids), Share::new(packing))
        };
        assert!(matches!(ask(1.0, 1.6, 0.35, 0.55), Err(WetFilmError::Laid { .. })));
        assert!(matches!(ask(160.0, f64::NAN, 0.35, 0.55), Err(WetFilmError::Density { .. })));
        assert!(matches!(ask(160.0, 1.6, 0.0, 0.55), Err(WetFilmError::Solids { .. })));
        assert!(matches!(ask(160.0, 1.6, 0.35, 0.9), Err(WetFilmError::Packing { .. })));
        // So thick that grains touch at once: matt when laid.
        let paste = ask(160.0, 1.6, 0.6, 0.55).unwrap();
        assert_eq!(until_matt(&paste, GramsPerSquareMetreHour::new(40.0), Uptake::NONE), Some(Hours::ZERO));
    }

    proptest! {
        #[test]
        fn matt_before_all_water_and_sooner_on_thirsty_wood(
            laid in 5.0..3000.0f64, solids in 0.02..0.7f64, packing in 0.3..0.8f64, rate in 0.1..200.0f64, uptake in 0.0..0.02f64,
        ) {
            let film = WetFilm::new(GramsPerSquareMetre::new(laid), GramsPerMillilitre::new(1.6), Share::new(solids), Share::new(packing)).unwrap();
            let rate = GramsPerSquareMetreHour::new(rate);
            let matt = until_matt(&film, rate, Uptake::new(uptake)).unwrap();
            prop_assert!(matt <= all_water(&film, rate, Uptake::new(uptake)).unwrap());
            prop_assert!(matt <= until_matt(&film, rate, Uptake::NONE).unwrap() * (1.0 + 1e-9));
            let gone = (rate * matt + Uptake::new(uptake).drunk(matt)).value();
            prop_assert!((gone - film.water_until_matt().value()).abs() <= 1e-9 * gone.max(1.0));
        }
    }
}
