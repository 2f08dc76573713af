//! What a dry ground drinks: the room in its air, how fast it fills, and what that takes from a first layer of paint.

use materials::DataError;
use measure::{Figure, GramsPerMillilitre, GramsPerSquareMetre, Micrometres, Millilitres, Millimetres, Unit};

use crate::constants::FilmBook;
use crate::ranges::FilmRanges;

/// What fits into the air of a film: `density x air x thickness`. A thin film is limited by its room, not by how fast it drinks.
///
/// ```
/// use measure::{GramsPerMillilitre, Micrometres};
/// // By hand: 0.93 x 0.2026 x 155 = 29.2 g of oil on a square metre.
/// let oil = ground::drinks(0.2026, Micrometres::new(155.0), GramsPerMillilitre::new(0.93));
/// assert!((oil.value() - 29.2).abs() < 0.05);
/// ```
pub fn drinks(air: f64, thickness: Micrometres, liquid: GramsPerMillilitre) -> GramsPerSquareMetre {
    // A micrometre on a square metre is a millilitre.
    GramsPerSquareMetre::new(liquid.value() * air * thickness.value())
}

/// How far a liquid is drawn into narrow pores in so many seconds: `sqrt(gamma r cos(theta) t / (2 eta))` (Lucas 1918; Washburn, Phys.
/// Rev. 17 (1921) 273). Pull of the surface in N/m, thickness of the liquid in Pa s, `wets` the cosine of the angle at which it stands on
/// the pore's wall: 1 for water on clean chalk, below 0 where it does not go in.
///
/// ```
/// use measure::Micrometres;
/// // By hand: sqrt(0.0728 x 1e-6 x 1 / (2 x 1.002e-3)) = 6.027 mm.
/// let far = ground::soaked(Micrometres::new(1.0), 0.0728, 1.0, 1.002e-3, 1.0);
/// assert!((far.value() - 6.027).abs() < 0.006);
/// ```
pub fn soaked(pore: Micrometres, pull: f64, wets: f64, thick: f64, seconds: f64) -> Millimetres {
    let square = pull * pore.value() * 1e-6 * wets * seconds / (2.0 * thick);
    Millimetres::new(1e3 * square.max(0.0).sqrt())
}

/// How wide a drop spreads if the ground alone takes it in: a disc whose air holds the drop. `None` where there is no air.
pub fn drop_width(drop: Millilitres, air: f64, thickness: Micrometres) -> Option<Millimetres> {
    // Millilitres on a square metre are micrometres.
    let room = air * thickness.value();
    (room > 0.0).then(|| Millimetres::new(1e3 * (4.0 * drop.value() / (std::f64::consts::PI * room)).sqrt()))
}

/// How a ground takes water, by the time for which a drop of it shines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Drop {
    /// Gone at once.
    VeryThirsty,
    /// Gone within a minute.
    Thirsty,
    /// Gone within ten minutes.
    Slow,
    /// Still there.
    Sealed,
}

/// Seconds at which one band ends and the next begins (common practice, no source).
const BANDS: [(f64, Drop); 3] = [(5.0, Drop::VeryThirsty), (60.0, Drop::Thirsty), (600.0, Drop::Slow)];

impl Drop {
    /// The band of a time; a drop of 0.05 ml on a level board at room warmth is meant (common practice, no source).
    pub fn of(seconds: f64) -> Self {
        BANDS.into_iter().find(|(end, _)| seconds < *end).map_or(Self::Sealed, |(_, drop)| drop)
    }
}

/// What a ground drinks from a first layer of oil paint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thirst {
    /// Oil that the air of all coats has room for: an upper bound, since pores are narrow, powder filters and oil thickens.
    pub oil: Figure,
    /// Oil that a first layer of paint holds.
    pub layer: GramsPerSquareMetre,
    /// Share of the draws in which the ground could drink all of it, 0..1.
    pub could_drink_all: f64,
    /// Dry thickness from which it could, at the best values; `None` where it holds no air.
    pub all_from: Option<Micrometres>,
    /// How wide a drop of water of 0.05 ml would spread in it, at the best values; `None` where it holds no air.
    pub drop_width: Option<Millimetres>,
}

/// A usual drop of a pipette (common practice, no source).
const DROP: Millilitres = Millilitres::new(0.05);

/// What so many coats of this ground drink.
///
/// # Errors
/// A constant is missing from the book.
pub fn thirst(book: &FilmBook, ranges: &FilmRanges, coats: u32) -> Result<Thirst, DataError> {
    let value = |key: &str| book.constant(key).map(|constant| constant.value);
    let oil = GramsPerMillilitre::new(value("thirst.oil")?);
    let layer = drinks(value("thirst.layer_oil")?, Micrometres::new(value("thirst.layer")?), oil);
    let coats = f64::from(coats);
    let best = ranges.best.dry(ranges.coat().wet) * coats;
    let air = ranges.best.porosity;
    let drawn: Vec<f64> =
        ranges.coats_drawn().map(|(film, dry)| drinks(film.porosity, Micrometres::new(coats * dry), oil).value()).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few thousand draws")]
    let share = drawn.iter().filter(|oil| **oil >= layer.value()).count() as f64 / drawn.len().max(1) as f64;
    Ok(Thirst {
        oil: Figure::from_draws("oil_drunk", drinks(air, best, oil).value(), drawn, Unit::GramsPerSquareMetre),
        layer,
        could_drink_all: share,
        all_from: (air > 0.0).then(|| Micrometres::new(layer.value() / (oil.value() * air))),
        drop_width: drop_width(DROP, air, best),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Coat, Drawn, Mix, film_with_ranges};
    use materials::{Catalogue, Wishes, read};
    use measure::{Draws, Units};
    use proptest::prelude::*;

    const OIL: GramsPerMillilitre = GramsPerMillilitre::new(0.93);

    fn of(told: &str, coats: u32) -> Thirst {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let mix = Mix::of(jars, &units, &read(jars, &units, told, &Wishes::new()));
        let ranges = film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, Draws::USUAL)).unwrap();
        thirst(FilmBook::builtin().unwrap(), &ranges, coats).unwrap()
    }

    #[test]
    fn a_first_layer_against_a_ground_by_hand() {
        // 165 um with 0.17 and 0.20 of air: 0.93 x 28.05 = 26.1 and 0.93 x 33 = 30.7; 60 um half oil: 0.93 x 30 = 27.9; all of it from
        // 27.9 / (0.93 x 0.2026) = 148 um on.
        let g = |air, um| drinks(air, Micrometres::new(um), OIL).value();
        assert!((g(0.17, 165.0) - 26.1).abs() < 0.05 && (g(0.20, 165.0) - 30.7).abs() < 0.05);
        assert!((g(0.5, 60.0) - 27.9).abs() < 1e-9);
        let lean = of("100 g chalk, 10 g hide glue, 100 g water", 4);
        assert!((lean.layer.value() - 27.9).abs() < 1e-9);
        assert!((lean.all_from.unwrap().value() - 148.0).abs() < 0.5, "{:?}", lean.all_from);
        // Four coats of 100 um wet: 154.9 um with 0.2026 of air, 29.2 g.
        assert!((lean.oil.value - 29.2).abs() < 0.15, "{:?}", lean.oil);
        assert!((0.3..0.8).contains(&lean.could_drink_all), "{}", lean.could_drink_all);
    }

    #[test]
    fn a_drop_needs_its_room() {
        // 0.05 ml spread 8 mm wide stands 0.05 / (pi x 0.16 cm2) = 0.0995 cm high: 0.995 mm of water, so 4.97 mm of ground with a fifth air.
        let width = drop_width(DROP, 0.2, Micrometres::new(4974.0)).unwrap();
        assert!((width.value() - 8.0).abs() < 0.01, "{width:?}");
        assert_eq!(drop_width(DROP, 0.0, Micrometres::new(100.0)), None);
    }

    #[test]
    fn a_thin_ground_fills_in_a_blink() {
        // By hand: oil of 0.05 Pa s and 0.033 N/m in pores of 0.3 um goes 200 um in 2 x 0.05 x 4e-8 / (0.033 x 3e-7) = 0.404 s.
        let far = soaked(Micrometres::new(0.3), 0.033, 1.0, 0.05, 0.404);
        assert!((far.value() - 0.200).abs() < 1e-3, "{far:?}");
        assert!(soaked(Micrometres::new(0.3), 0.033, -0.2, 0.05, 1.0).value() < 1e-12, "a talc that water does not wet takes none");
    }

    #[test]
    fn bands_of_the_drop() {
        let band = [1.0, 4.9, 5.0, 59.0, 60.0, 599.0, 600.0, f64::INFINITY].map(Drop::of);
        assert_eq!(
            band,
            [Drop::VeryThirsty, Drop::VeryThirsty, Drop::Thirsty, Drop::Thirsty, Drop::Slow, Drop::Slow, Drop::Sealed, Drop::Sealed]
        );
    }

    #[test]
    fn a_rich_ground_drinks_nothing() {
        let rich = of("100 g chalk, 60 g hide glue, 100 g water", 4);
        assert!(rich.oil.value < 1e-9 && rich.all_from.is_none() && rich.could_drink_all < 0.02, "{rich:?}");
    }

    proptest! {
        #[test]
        fn more_air_and_more_ground_drink_more(a in 0.0f64..0.5, b in 0.0f64..0.5, um in 1.0f64..1000.0, more in 0.0f64..500.0) {
            let g = |air: f64, um: f64| drinks(air, Micrometres::new(um), OIL).value();
            prop_assert!(g(a.min(b), um) <= g(a.max(b), um) && g(a, um) <= g(a, um + more));
            if a.min(b) > 1e-3 {
                let wide = |air: f64| drop_width(DROP, air, Micrometres::new(um)).unwrap().value();
                prop_assert!(wide(a.max(b)) <= wide(a.min(b)) + 1e-9);
            }
        }
    }
}
