//! Hide glue and gelatin in water, and alum.

use materials::DataError;
use measure::{Celsius, Grams};

use crate::book::BinderBook;

/// Glue in glue and water, per cent by weight.
///
/// ```
/// use measure::Grams;
/// // 2.5 oz (70.87 g) in a US quart (946.35 g of water): 70.87 / 1017.22 = 6.97 %
/// assert!((binder::glue_percent(Grams::new(70.87), Grams::new(946.35)).unwrap() - 6.97).abs() < 0.01);
/// ```
pub fn glue_percent(glue: Grams, water: Grams) -> Option<f64> {
    let whole = glue.value() + water.value();
    (whole > 0.0).then(|| 100.0 * glue.value() / whole)
}

/// What a glue of this strength is used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GlueUse {
    /// Thinner than what is printed for size.
    Thinner,
    /// Size.
    Size,
    /// Glue for gesso.
    Gesso,
    /// Stronger than what is printed for gesso.
    Stronger,
}

/// Where glue of this strength stands beside printed ones: thin size 2.9 %, gesso 7.0 to 9.1 %.
///
/// # Errors
/// The data file lacks a line.
pub fn glue_use(book: &BinderBook, percent: f64) -> Result<GlueUse, DataError> {
    let value = |key: &str| book.constant(key).map(|constant| constant.value);
    // To the tenth in which they are printed, so that a printed recipe stands where it is printed.
    let percent = (10.0 * percent).round() / 10.0;
    Ok(if percent < value("glue.size_thin")? {
        GlueUse::Thinner
    } else if percent < value("glue.gesso_low")? {
        GlueUse::Size
    } else if percent <= value("glue.gesso_high")? {
        GlueUse::Gesso
    } else {
        GlueUse::Stronger
    })
}

/// Cold water that so much dry glue takes up first, least and most: five to ten times its weight (trade data).
///
/// # Errors
/// The data file lacks a line.
pub fn soak_water(book: &BinderBook, glue: Grams) -> Result<(Grams, Grams), DataError> {
    Ok((glue * book.constant("glue.soak_low")?.value, glue * book.constant("glue.soak_high")?.value))
}

/// Whether glue kept so hot, or for so many hours, or melted so often (the first time counts; three is the second time again), has lost
/// strength; an order of magnitude from memory.
///
/// # Errors
/// The data file lacks a line.
pub fn glue_was_cooked(book: &BinderBook, warmth: Celsius, hours: f64, melted: u32) -> Result<bool, DataError> {
    let (hottest, longest) = (book.constant("glue.hottest")?.value, book.constant("glue.hot_hours")?.value);
    Ok(warmth.value() > hottest || hours >= longest || melted > 2)
}

/// Acid that a gram of potash alum sets free as its aluminium takes up water, meq: 3000 / 474.39. It fizzes with chalk and throws casein
/// out at once: it goes on glue size only, as a coat of its own.
///
/// # Errors
/// The data file lacks a line.
///
/// ```
/// assert!((binder::alum_acid(binder::BinderBook::builtin()?)? - 6.32).abs() < 0.01);
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn alum_acid(book: &BinderBook) -> Result<f64, DataError> {
    Ok(1000.0 * book.constant("equivalents.potash-alum")?.value / book.constant("molar_mass.potash-alum")?.value)
}

/// Rise of the refractive index for casein in water, g in 100 ml: least and most that is printed. A refractometer reads the strength so.
///
/// # Errors
/// The data file lacks a line.
///
/// ```
/// let (least, most) = binder::refraction_rise(binder::BinderBook::builtin()?, 10.0)?;
/// assert!((most - 0.0181).abs() < 1e-6 && (least - 0.0152).abs() < 1e-6);
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn refraction_rise(book: &BinderBook, grams_in_100_ml: f64) -> Result<(f64, f64), DataError> {
    let rise = book.constant("refraction.casein")?;
    let (least, most) = rise.range.unwrap_or((rise.value, rise.value));
    Ok((least * grams_in_100_ml, most * grams_in_100_ml))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn printed_glues_stand_where_they_are_used() {
        // 1 oz in a US quart: 28.35 / 974.70 = 2.91 %; 70 g in a litre: 6.5 %; 10 water to 1 glue: 9.09 %.
        let book = BinderBook::builtin().unwrap();
        let of = |glue: f64, water: f64| glue_use(book, glue_percent(Grams::new(glue), Grams::new(water)).unwrap()).unwrap();
        assert_eq!(of(28.35, 946.35), GlueUse::Size);
        assert_eq!(of(70.0, 1000.0), GlueUse::Size);
        assert_eq!(of(1.0, 10.0), GlueUse::Gesso);
        // 2.5 oz in a US quart, printed for gesso: 70.87 / 1017.23 = 6.97 %, printed as 7.0.
        assert_eq!(of(70.874, 946.353), GlueUse::Gesso);
        assert_eq!(of(1.0, 6.0), GlueUse::Stronger);
        assert_eq!(of(1.0, 60.0), GlueUse::Thinner);
        assert_eq!(glue_percent(Grams::ZERO, Grams::ZERO), None);
    }

    #[test]
    fn glue_that_was_cooked() {
        let book = BinderBook::builtin().unwrap();
        let cooked = |warmth: f64, hours: f64, melted: u32| glue_was_cooked(book, Celsius::new(warmth), hours, melted).unwrap();
        assert!(cooked(80.0, 1.0, 1) && cooked(55.0, 8.0, 1) && cooked(55.0, 1.0, 3));
        assert!(!cooked(55.0, 2.0, 1));
        let (least, most) = soak_water(book, Grams::new(10.0)).unwrap();
        assert!((least.value() - 50.0).abs() < 1e-9 && (most.value() - 100.0).abs() < 1e-9);
    }
}
