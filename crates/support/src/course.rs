//! How much less a board weighs as a coat dries: at the pace of the wet face, then ever more slowly.

use measure::{GramsPerSquareMetre, GramsPerSquareMetreHour, Hours, Millimetres};

use crate::drying::{OpenFaces, Wandering, WetFilm, falling, slowest};

/// Water that a coat and its board lose into the air over time: straight until matt, then what is left in the coat and what the board drank, each the
/// slower the less of it is left. Water that only moves from coat to board weighs the same and counts as not lost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Course {
    rate: f64,
    matt: f64,
    in_coat: f64,
    falling: f64,
    in_board: f64,
    wandering: f64,
}

/// Share of the coat's last water that must be gone before it can count as steady, whatever the air: in very damp air even a wet coat loses little.
/// Three falling times leave a twentieth (model choice).
const FALLING_TIMES: f64 = 3.0;

impl Course {
    /// From the rate of the wet face, when it turns matt, the coat, what the board has drunk by then, and how water leaves the board.
    pub(crate) fn of(
        rate: GramsPerSquareMetreHour,
        matt: Hours,
        film: &WetFilm,
        drunk: GramsPerSquareMetre,
        thickness: Millimetres,
        faces: OpenFaces,
        wandering: Wandering,
    ) -> Self {
        Self {
            rate: rate.value(),
            matt: matt.value(),
            in_coat: film.water_when_matt().value(),
            falling: falling(film, rate).map_or(f64::INFINITY, Hours::value),
            in_board: drunk.value(),
            wandering: slowest(thickness, faces, wandering).value(),
        }
    }

    /// Water that leaves while the face is wet.
    pub fn rate(&self) -> GramsPerSquareMetreHour {
        GramsPerSquareMetreHour::new(self.rate)
    }

    /// When the shine goes.
    pub fn matt(&self) -> Hours {
        Hours::new(self.matt)
    }

    /// How long the coat's last water takes to sink to 37 %.
    pub fn falling(&self) -> Hours {
        Hours::new(self.falling)
    }

    /// Water lost since the coat was laid.
    pub fn lost(&self, after: Hours) -> GramsPerSquareMetre {
        let time = after.value().max(0.0);
        let since_matt = (time - self.matt).max(0.0);
        let gone = |water: f64, slows: f64| if water > 0.0 { -water * (-since_matt / slows).exp_m1() } else { 0.0 };
        GramsPerSquareMetre::new(self.rate * time.min(self.matt) + gone(self.in_coat, self.falling) + gone(self.in_board, self.wandering))
    }

    /// All that will be lost.
    pub fn all(&self) -> GramsPerSquareMetre {
        GramsPerSquareMetre::new(self.rate * self.matt + self.in_coat + self.in_board)
    }

    /// When it loses less than this, and the coat's own water is gone to a twentieth.
    pub(crate) fn steady_after(&self, limit: GramsPerSquareMetreHour) -> Hours {
        let limit = limit.value();
        let parts = [(self.in_coat, self.falling), (self.in_board, self.wandering)];
        let parts = parts.map(|(water, slows)| (if water > 0.0 { water / slows } else { 0.0 }, slows));
        let alone = |(rate, slows): (f64, f64)| if rate > limit { slows * (rate / limit).ln() } else { 0.0 };
        // Where the larger part alone meets the limit the sum lies above it or on it; from there Newton's steps on a sum of falling exponentials
        // never pass the crossing.
        let mut time = parts.into_iter().map(alone).fold(0.0, f64::max);
        for _ in 0..12 {
            let (mut sum, mut slope) = (0.0, 0.0);
            for (rate, slows) in parts {
                let now = rate * (-time / slows).exp();
                sum += now;
                slope += now / slows;
            }
            if sum <= limit * (1.0 + 1e-6) || slope <= 0.0 {
                break;
            }
            time += (sum - limit) / slope;
        }
        Hours::new(self.matt + time.max(FALLING_TIMES * self.falling))
    }
}

#[cfg(test)]
mod tests {
    use measure::Share;
    use proptest::prelude::*;

    use super::*;
    use crate::drying::{Uptake, until_matt};

    fn course(drinks: f64) -> Course {
        let film = WetFilm::of(200.0, 0.35, 0.55);
        let rate = GramsPerSquareMetreHour::new(43.2);
        let uptake = Uptake::new(drinks);
        let matt = until_matt(&film, rate, uptake).unwrap();
        Course::of(rate, matt, &film, uptake.drunk(matt), Millimetres::new(6.0), OpenFaces::One, Wandering::new(1e-10))
    }

    #[test]
    fn a_coat_loses_what_it_holds() {
        // 200 um: 72.6 g/m2 until matt, 57.2 behind it, by hand; all of 129.8. One falling time after matt: 72.6 + 0.632 x 57.2 = 108.7.
        let course = course(0.0);
        assert!((course.lost(course.matt()).value() - 72.6).abs() < 0.1);
        assert!((course.all().value() - 129.8).abs() < 0.1);
        assert!((course.lost(course.matt() + course.falling()).value() - 108.7).abs() < 0.1);
        // 43.2 exp(-s / 1.323) = 0.5 at s = 1.323 ln 86.4 = 5.90 h; matt at 1.68 h.
        assert!((course.steady_after(GramsPerSquareMetreHour::new(0.5)).value() - 7.58).abs() < 0.02);
    }

    #[test]
    fn a_thirsty_board_hands_its_water_back_slowly() {
        let course = course(0.0045);
        assert!((course.all().value() - 129.8).abs() < 0.1); // no water is lost or made by moving into the board
        let steady = course.steady_after(GramsPerSquareMetreHour::new(0.5));
        let rate = (course.lost(steady + Hours::new(0.01)) - course.lost(steady)).value() / 0.01;
        assert!((rate - 0.5).abs() < 0.005, "{rate}");
        assert!(steady.value() > 30.0);
    }

    proptest! {
        #[test]
        fn it_never_gains(drinks in 0.0..0.02f64, a in 0.0..300.0f64, b in 0.0..300.0f64) {
            let course = course(drinks);
            prop_assert!(course.lost(Hours::new(a.min(b))) <= course.lost(Hours::new(a.max(b))));
            prop_assert!(course.lost(Hours::new(b)).value() <= course.all().value() + 1e-9);
            prop_assert!(Share::checked(course.lost(Hours::new(a)) / course.all()).is_ok());
        }
    }
}
