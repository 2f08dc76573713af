//! Water that wood takes up from the air.

use measure::Celsius;

/// Air outside the range in which the equation is used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MoistureError {
    /// Too cold, too hot, or no number.
    #[error("the damp of wood is known from -1.1 to 60 C, not at {celsius} C; check the temperature and its unit")]
    Warmth {
        /// What was given.
        celsius: f64,
    },
    /// Too dry, too damp, or no number.
    #[error("the damp of wood is known from 5 to 95 % humidity, not at {humidity} %; check the humidity")]
    Humidity {
        /// What was given.
        humidity: f64,
    },
}

/// Coldest and hottest air of the table that the equation is tested against, C.
const WARMTH: std::ops::RangeInclusive<f64> = -1.1..=60.0;
/// Driest and dampest air of that table, per cent.
const HUMIDITY: std::ops::RangeInclusive<f64> = 5.0..=95.0;

/// Water in wood that has come to rest in air of this warmth and relative humidity (per cent), in per cent of its oven-dry mass.
///
/// Hailwood-Horrobin form, USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Eq. 4-5. A mean over species, wetting and
/// drying: a single board differs by about one point.
///
/// # Errors
/// Air outside -1.1 to 60 C or 5 to 95 %.
///
/// ```
/// use measure::Celsius;
/// let damp = support::equilibrium_moisture(Celsius::new(21.1), 50.0)?;
/// assert!((damp - 9.2).abs() < 0.06); // Wood Handbook, Table 4-2
/// # Ok::<(), support::MoistureError>(())
/// ```
pub fn equilibrium_moisture(warmth: Celsius, humidity: f64) -> Result<f64, MoistureError> {
    let t = warmth.value();
    if !WARMTH.contains(&t) {
        return Err(MoistureError::Warmth { celsius: t });
    }
    if !HUMIDITY.contains(&humidity) {
        return Err(MoistureError::Humidity { humidity });
    }
    // Coefficients as printed with the equation, temperature in C.
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * humidity / 100.0;
    let (once, twice) = (k1 * kh, k1 * k2 * kh * kh);
    Ok(1800.0 / w * (kh / (1.0 - kh) + (once + 2.0 * twice) / (1.0 + once + twice)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Shelf;

    #[test]
    fn printed_cells_of_the_wood_handbook() {
        // FPL-GTR-190 (2010), Table 4-2, rounded to 0.1 there (from memory). The last is quoted for 140 F and 55 % in an encyclopaedia.
        for (celsius, humidity, moisture) in
            [(21.1, 50.0, 9.2), (10.0, 80.0, 16.4), (37.8, 40.0, 7.2), (-1.1, 95.0, 24.3), (60.0, 20.0, 3.6), (60.0, 55.0, 8.4)]
        {
            let found = equilibrium_moisture(Celsius::new(celsius), humidity).unwrap();
            assert!((found - moisture).abs() <= 0.06, "{celsius} C, {humidity} %: {found}");
        }
    }

    #[test]
    fn every_cell_of_the_table() {
        let shelf = Shelf::builtin().unwrap();
        assert_eq!(shelf.damp().len(), 190);
        for cell in shelf.damp() {
            let found = equilibrium_moisture(cell.warmth, cell.humidity).unwrap();
            assert!((found - cell.moisture).abs() <= 0.06, "{cell:?}: {found}");
        }
    }

    #[test]
    fn outside_the_table_nothing_is_said() {
        for celsius in [-5.0, 61.0, f64::NAN] {
            assert!(matches!(equilibrium_moisture(Celsius::new(celsius), 50.0), Err(MoistureError::Warmth { .. })));
        }
        for humidity in [0.0, 100.0, f64::NAN] {
            assert!(matches!(equilibrium_moisture(Celsius::new(20.0), humidity), Err(MoistureError::Humidity { .. })));
        }
    }

    #[test]
    fn damper_air_makes_damper_wood() {
        for celsius in [-1.0, 10.0, 20.0, 40.0, 60.0] {
            let moisture = |humidity: u32| equilibrium_moisture(Celsius::new(celsius), f64::from(humidity)).unwrap();
            assert!((5..95).all(|humidity| moisture(humidity + 1) > moisture(humidity)));
        }
    }
}
